# SPDX-License-Identifier: Apache-2.0
"""Folded baffles put in their places: does one stand in another?"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np

from sumpwright.errors import Finding, RangeError
from sumpwright.geometry.panel import Panel
from sumpwright.geometry.region import MM
from sumpwright.metal.flat_pattern import FlatPattern
from sumpwright.metal.fold import folded
from sumpwright.metal.fold_clash import part_solids, shared_by
from sumpwright.units import shown

_RUB = 5e-11
"""m^3; sheets that share less rub at a corner and are dressed by hand."""


@dataclass(frozen=True, eq=False)
class Standing:
    """A folded baffle in the pan."""

    name: str
    solids: tuple[Any, ...]


def assembled(name: str, pattern: FlatPattern, panel: Panel) -> Standing:
    """A baffle folded and put where it belongs."""
    try:
        solids = part_solids(folded(pattern))
    except RangeError:
        return Standing(name, ())
    turn = np.column_stack([*panel.basis, panel.normal])
    place = np.column_stack([turn, MM * panel.point])
    return Standing(name, tuple(solid.transform(place) for solid in solids))


def stands_in(placed: Sequence[Standing], units: str) -> Iterator[Finding]:
    """Every two baffles of which one stands in the other."""
    for i, one in enumerate(placed):
        for other in placed[:i]:
            both = shared_by(one.solids, other.solids)
            if both is None or both[1] < _RUB:
                continue
            x, y, z = (shown(float(v), "length", units) for v in both[0])
            found = f"as folded they stand in each other near x {x}, y {y}, z {z}"
            mend = "move a tab to the other side, shorten it, or give the two a join"
            names = f"baffles '{other.name}' and '{one.name}'"
            yield Finding("SHEE-519", names, found, mend, "error")
