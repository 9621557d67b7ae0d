# SPDX-License-Identifier: Apache-2.0
"""What to mind about a sheet part, in words with the place: for its drawing and the list."""

from collections.abc import Iterator, Mapping

import numpy as np
from numpy.typing import NDArray

from sumpwright.errors import Finding, RangeError
from sumpwright.metal.flat_pattern import FlatPattern
from sumpwright.metal.flat_pattern_check import Doubt, doubts
from sumpwright.metal.fold_clash import Clash, clash
from sumpwright.studies.size_words import in_units, nominal
from sumpwright.units import figure, unit_name

Floats = NDArray[np.float64]

_CODES = {
    "radius": "SHEE-511",
    "unknown radius": "SHEE-511",
    "near": "SHEE-512",
    "short": "SHEE-513",
    "grain": "SHEE-522",
    "thin": "SHEE-524",
}
_MENDS = {
    "radius": "bend it round a larger radius, or take a softer temper",
    "unknown radius": "ask the mill, and bend a test strip",
    "near": "move it, or cut it after bending: it is drawn out of shape",
    "short": "lengthen it and trim it after bending, or fold it by hand",
    "thin": "move it, make it smaller, or open it to the edge",
    "grain": "turn the sheet's rolling direction, or bend it round a larger radius",
}


def doubts_of(
    name: str,
    pattern: FlatPattern,
    metal: str,
    flanges: Mapping[str, float],
    grain: Floats | None,
    units: str = "metric",
) -> Iterator[Finding]:
    """Warnings of one part, in the job's units; what cannot be folded is an error."""
    for doubt in doubts(pattern, metal, dict(flanges), grain):
        place = f"{name}, {doubt.bend}"
        how = _MENDS[doubt.kind]
        yield Finding(_CODES[doubt.kind], place, _said(doubt, metal, units), how, "warning")
    for x, y in pattern.overlaps:
        found = f"the flat would have to lie on itself near {place_in_flat(x, y, units)}"
        mend = "move the tab, shorten its flange, or make it a part of its own"
        yield Finding("SHEE-514", name, found, mend, "error")
    try:
        met = clash(pattern)
    except RangeError as err:
        said = in_units(str(err), units)
        yield Finding("SHEE-515", name, f"it cannot be folded: {said}", "move the tab", "error")
        return
    if met is not None:
        yield _clash(name, met, units)


def _said(doubt: Doubt, metal: str, units: str) -> str:
    found, needed = (_length(v, units) for v in (doubt.found, doubt.needed))
    near = place_in_flat(*doubt.place, units)
    return {
        "radius": f"an inside radius of {found} where {metal} wants {needed} at least",
        "unknown radius": f"no least radius is known of {metal} this thick",
        "near": f"a hole or window {found} from the bend, near {near}; {needed} is usual",
        "short": f"a flange of {found}; a press brake holds {needed} or more",
        "thin": f"the hole near {near} leaves {found} of metal beside it; the sheet's "
        f"thickness, {needed}, is usual",
        "grain": "it bends along the rolling direction, where sheet cracks sooner",
    }[doubt.kind]


def _clash(name: str, met: Clash, units: str) -> Finding:
    x, y, z = met.place
    off = figure(z, "length", units, finer=-1)
    where = f"{place_in_flat(x, y, units)}, {off} {unit_name('length', units)} off its face"
    found = f"folded, it runs into itself near {where}"
    mend = "shorten a flange, or leave a gap in the corner where two meet"
    return Finding("SHEE-515", name, found, mend, "error")


def _length(value: float, units: str) -> str:
    """To three figures, or to a tenth of a thousandth of an inch."""
    if units == "metric":
        return f"{1e3 * value:.3g} mm"
    return nominal(value, units)


def place_in_flat(x: float, y: float, units: str = "metric") -> str:
    """A spot of a flat pattern, along and up as its baffle's."""
    x_text, y_text = (figure(v, "length", units, finer=-1) for v in (x, y))
    return f"{x_text}, {y_text} {unit_name('length', units)} (along, up)"
