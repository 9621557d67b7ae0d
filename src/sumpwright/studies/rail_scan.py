# SPDX-License-Identifier: Apache-2.0
"""Bolt holes found in a picture of the gasket or in a mesh's flange, for a person to confirm.

Nothing of it gets into the job before somebody has looked at the marked picture and said so.
"""

from collections.abc import Callable
from dataclasses import asdict, dataclass, replace
from pathlib import Path
from typing import Any

import numpy as np
from numpy.typing import NDArray

from sumpwright.errors import InputError, Problem, RangeError
from sumpwright.geometry.picture_circle import PictureCircle, picture_circles
from sumpwright.geometry.picture_scale import (
    PictureScale,
    bar_scale,
    dpi_scale,
    flat_view,
    flattened,
)
from sumpwright.geometry.point_match import point_match
from sumpwright.job.load import LoadedJob, load_job
from sumpwright.metal.clearance_hole import bolt_diameter
from sumpwright.studies.rail_picture import grey_picture

Progress = Callable[[str, float], None]
Spot = tuple[float, float]

REACH = 2e-3
"""m; how far a hole found may lie from the design's and still be taken for it."""
FLOOR = 0.05
"""Picture elements; centres of rings that were drawn for a test come out no truer than this."""
SIZES = (0.75, 2.2)
"""Of the bolt's diameter: what is taken for a bolt hole where nobody says."""


@dataclass(frozen=True)
class ScanAsk:
    """A picture, its scale in one of three ways, and what to look for."""

    picture: Path
    bar: tuple[float, float, float, float, float] | None = None
    """Two ends in picture elements, and the length between them [m]"""
    dpi: float | None = None
    corners: tuple[float, ...] | None = None
    """Four corners in picture elements, then width and height [m]"""
    sizes: tuple[float, float] | None = None
    """Smallest and largest diameter of a hole [m]"""


@dataclass(frozen=True)
class FoundHole:
    """A round hole. SI, axes of what it was found in."""

    name: str
    """Of the design's hole that it lies on; its number where there is none"""
    at_m: Spot
    diameter_m: float
    spread_m: float
    """Standard error of its centre against its neighbours; the scale's comes on top"""
    sure: str
    """``sure``, ``fair`` or ``doubtful``"""
    ring: tuple[float, float, float]
    """x, y and radius in the marked picture, elements; zeros in a mesh"""


@dataclass(frozen=True)
class Laid:
    """How the holes found lie on the design's."""

    joined: int
    design: int
    rms_m: float
    mirrored: bool
    others: int
    """Other ways of laying them that fit about as well"""


@dataclass(frozen=True, eq=False)
class Found:
    """What was found, and how large it really is."""

    job: str
    revision: str
    units: str
    source: str
    how: str
    """As in the job file: ``scan``, ``photo`` or ``stock mesh``"""
    holes: tuple[FoundHole, ...]
    scale_m: float
    """Of a picture element; 0 in a mesh"""
    scale_spread: float
    """One sigma, as a share"""
    laid: Laid | None
    """None where the job has no pattern, or they do not lie on it"""
    designed: int
    notes: tuple[str, ...]
    picture: NDArray[np.float32] | None
    """What was looked at: flattened where it was seen askew"""
    outlines: tuple[NDArray[np.float64], ...] = ()
    """Of a mesh's cut [m]"""

    @property
    def far_m(self) -> float:
        """What the scale's error comes to between the two outermost holes [m], one sigma."""
        p = np.array([hole.at_m for hole in self.holes])
        return self.scale_spread * float(np.hypot(*np.ptp(p, axis=0)))

    def as_json(self) -> dict[str, Any]:
        """Plain dict of it, SI, without the picture."""
        return asdict(replace(self, picture=None, outlines=()))


def scan_of(folder: Path, ask: ScanAsk, progress: Progress | None = None) -> Found:
    """Round holes in a picture; InputError where it cannot be read or has none."""
    say = progress or (lambda _text, _share: None)
    loaded = load_job(folder)
    say("reading the picture", 0.0)
    grey, scale, how = _to_scale(grey_picture(ask.picture), ask)
    low, high = ask.sizes or usual_sizes(loaded)
    say("looking for round holes", 0.3)
    if 0.5 * low / scale.element < 3.0:
        raise InputError([_too_coarse(ask.picture, low, scale.element)])
    rings = picture_circles(
        grey, smallest=0.5 * low / scale.element, largest=0.5 * high / scale.element
    )
    if not rings:
        raise InputError([nothing_round(str(ask.picture), low, high)])
    say("laying them over the design", 0.8)
    high_m = grey.shape[0] * scale.element
    holes = [_hole(k, ring, scale.element, high_m) for k, ring in enumerate(rings)]
    named, laid = laid_on(loaded, holes)
    return Found(
        job=loaded.job.job,
        revision=loaded.job.revision,
        units=loaded.job.units,
        source=str(ask.picture),
        how=how,
        holes=named,
        scale_m=scale.element,
        scale_spread=scale.spread,
        laid=laid,
        designed=_designed(loaded),
        notes=_notes(ask),
        picture=grey,
    )


def usual_sizes(loaded: LoadedJob) -> tuple[float, float]:
    """Smallest and largest diameter that a bolt hole of the job may have [m]."""
    bolt = bolt_diameter(loaded.job.rail.thread if loaded.job.rail is not None else "M6")
    return SIZES[0] * bolt, SIZES[1] * bolt


def laid_on(loaded: LoadedJob, holes: list[FoundHole]) -> tuple[tuple[FoundHole, ...], Laid | None]:
    """The holes with the names of the design's that they lie on."""
    rail = loaded.job.rail
    if rail is None or not rail.holes:
        return tuple(holes), None
    design = [hole.at for hole in rail.holes]
    match = point_match(design, [hole.at_m for hole in holes], reach=REACH)
    if match is None:
        return tuple(holes), None
    names = {
        int(found): rail.holes[int(k)].name
        for k, found in zip(match.design, match.found, strict=True)
    }
    named = tuple(
        replace(hole, name=names.get(k, f"extra {hole.name}")) for k, hole in enumerate(holes)
    )
    laid = Laid(len(names), len(design), match.rms, match.mirrored, match.others)
    order = {hole.name: k for k, hole in enumerate(rail.holes)}
    return tuple(sorted(named, key=lambda h: order.get(h.name, len(order)))), laid


def nothing_round(where: str, low: float, high: float) -> Problem:
    """That no hole of a size was found."""
    return Problem(
        "RAIL-509",
        where,
        f"no round hole of {1e3 * low:.3g} to {1e3 * high:.3g} mm across",
        "round holes with a clear edge, of the size looked for",
        "say their size with --hole, check the scale, or scan on a plain background",
    )


def _to_scale(
    grey: NDArray[np.float32], ask: ScanAsk
) -> tuple[NDArray[np.float32], PictureScale, str]:
    """The picture, flattened where that was asked for, and the length of an element."""
    given = [s for s in (ask.bar, ask.dpi, ask.corners) if s is not None]
    if len(given) != 1:
        found = "no scale" if not given else f"{len(given)} scales"
        raise InputError([_scale_problem(str(ask.picture), found)])
    try:
        if ask.bar is not None:
            return grey, bar_scale(ask.bar[:2], ask.bar[2:4], ask.bar[4]), "scan"
        if ask.dpi is not None:
            return grey, dpi_scale(ask.dpi), "scan"
        assert ask.corners is not None
        view = flat_view(ask.corners[:8], ask.corners[8], ask.corners[9])
        flat, _, element = flattened(grey, view)
        return flat, PictureScale(element, view.scale.spread), "photo"
    except RangeError as err:
        raise InputError([_scale_problem(str(ask.picture), str(err))]) from err


def _hole(number: int, ring: PictureCircle, element: float, high: float) -> FoundHole:
    c = ring.circle
    return FoundHole(
        name=str(number + 1),
        at_m=(element * c.x, high - element * c.y),
        diameter_m=2.0 * element * c.radius,
        spread_m=element * max(c.spread, FLOOR),
        sure=ring.sure,
        ring=(c.x, c.y, c.radius),
    )


def _designed(loaded: LoadedJob) -> int:
    return len(loaded.job.rail.holes) if loaded.job.rail is not None else 0


def _notes(ask: ScanAsk) -> tuple[str, ...]:
    if ask.dpi is not None:
        return (
            "The scanner's resolution is taken at its word; along its travel a flatbed may be off "
            "by half a percent (common practice, no source). A steel rule scanned with the gasket "
            "settles it: --bar.",
        )
    if ask.bar is not None:
        return (
            "A photo is not set right for perspective by a scale bar: from a camera give the four "
            "corners of a rectangle of known size in the plane of the holes (--corners).",
        )
    return (
        "Set right for perspective by the four corners, but not for the lens, which bends straight "
        "lines near the edge of the picture: take it from far off, the gasket in the middle.",
    )


def _too_coarse(picture: Path, low: float, element: float) -> Problem:
    across = low / element
    return Problem(
        "RAIL-508",
        str(picture),
        f"a hole of {1e3 * low:.3g} mm that is {across:.2g} picture elements across",
        "at least 6 of them; 100 dpi and more",
        "scan finer, check the scale, or say the size of the holes with --hole",
    )


def _scale_problem(where: str, found: str) -> Problem:
    return Problem(
        "RAIL-508",
        where,
        found,
        "one scale: `--bar x1,y1,x2,y2,LENGTH`, `--dpi N` or "
        "`--corners x1,y1,x2,y2,x3,y3,x4,y4,WIDTH,HEIGHT`",
        "give one of them; picture elements count from the upper left, lengths carry their unit",
    )
