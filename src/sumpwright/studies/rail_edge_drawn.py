# SPDX-License-Identifier: Apache-2.0
"""The flange's edge and the block's opening from the job's outlines, and the holes between them."""

from collections.abc import Iterable, Iterator, Sequence

import numpy as np

from sumpwright.errors import InputError, Problem, RangeError
from sumpwright.geometry.outline_side import crossing, distance_to
from sumpwright.geometry.profile import Profile
from sumpwright.geometry.rail_edge import flange_outline
from sumpwright.job.load import LoadedJob
from sumpwright.job.profile import Corner
from sumpwright.job.rail import Rail
from sumpwright.studies.drawn_outline import rounded_outline
from sumpwright.studies.rail_result import HoleLine
from sumpwright.studies.size_words import in_units
from sumpwright.units import shown

CHORD = 2e-4
"""m; of a corner in a picture from its arc."""
Spots = tuple[tuple[float, float], ...]


def rail_outlines(
    loaded: LoadedJob, rail: Rail, holes: Sequence[HoleLine], bolt: float
) -> tuple[Spots, Spots]:
    """Corners of the flange's outer edge, and of the block's opening, where the job draws it.

    The edge is as the job draws it, else round the holes. InputError where one cannot be drawn, or
    a hole or the opening does not lie within the flange; `bolt` is the bolts' diameter [m].
    """
    problems: list[Problem] = []
    edge = _drawn(loaded, "outline", rail.outline, rail.radius, problems)
    opening = _drawn(loaded, "opening", rail.opening, rail.opening_radius, problems)
    if rail.outline is None:
        edge = flange_outline([hole.at for hole in rail.holes], rail.margin)
    if edge is not None:
        problems += _off_edge(loaded, holes, edge)
    if opening is not None:
        problems += _in_opening(loaded, holes, opening, 0.5 * bolt)
    if edge is not None and opening is not None:
        problems += _beyond(loaded, edge, opening)
    if problems:
        raise InputError(problems)
    assert edge is not None
    return _spots(edge), () if opening is None else _spots(opening)


def _drawn(
    loaded: LoadedJob,
    key: str,
    corners: Sequence[Corner] | None,
    radius: float,
    problems: list[Problem],
) -> Profile | None:
    """None, with a problem noted, where it cannot be drawn; or where the job does not."""
    if corners is None:
        return None
    where = loaded.where("rail", key)
    try:
        profile = rounded_outline(corners, radius)
    except RangeError as err:
        needed = "an outline whose roundings fit between its corners"
        do = "make the radius smaller, or move the corner"
        said = in_units(str(err), loaded.job.units)
        problems.append(Problem("RAIL-512", where, said, needed, do))
        return None
    place = crossing(profile)
    if place is None:
        return profile
    found = f"an outline that crosses itself {_place(loaded, place)}"
    do = "put the corners in order round the edge"
    problems.append(Problem("RAIL-512", where, found, "an outline that does not", do))
    return None


def _off_edge(loaded: LoadedJob, holes: Sequence[HoleLine], edge: Profile) -> Iterator[Problem]:
    for k, hole in enumerate(holes):
        over = 0.5 * hole.diameter_m - distance_to(edge, hole.at_m)
        if over >= 0.0:
            found = f"{_said(loaded, hole)}, {_mm(loaded, over)} off the flange's edge"
            do = "move the hole in, or draw `rail.outline` further out, or give more `margin`"
            where = loaded.where("rail", "holes", k)
            yield Problem("RAIL-513", where, found, "metal of the flange all round it", do)


def _in_opening(
    loaded: LoadedJob, holes: Sequence[HoleLine], opening: Profile, bolt: float
) -> Iterator[Problem]:
    """The block's thread needs metal round it; `bolt` is its radius [m]."""
    for k, hole in enumerate(holes):
        over = bolt + distance_to(opening, hole.at_m)
        if over >= 0.0:
            found = f"{_said(loaded, hole)}, its bolt {_mm(loaded, over)} within the opening"
            needed = "metal of the block's rail round the bolt"
            do = "move the hole out, or mend `rail.opening`"
            yield Problem("RAIL-513", loaded.where("rail", "holes", k), found, needed, do)


def _beyond(loaded: LoadedJob, edge: Profile, opening: Profile) -> Iterator[Problem]:
    points = opening.polygon(CHORD)
    over = np.array([-distance_to(edge, p) for p in points])
    k = int(over.argmax())
    if over[k] >= 0.0:
        found = f"an opening that reaches {_mm(loaded, float(over[k]))} beyond the flange's edge "
        found += _place(loaded, points[k])
        needed = "an opening within the flange, with a sealing face round it"
        do = "draw `rail.opening` further in, or `rail.outline` further out"
        yield Problem("RAIL-514", loaded.where("rail", "opening"), found, needed, do)


def _said(loaded: LoadedJob, hole: HoleLine) -> str:
    wide = _mm(loaded, hole.diameter_m)
    return f"hole {hole.name} {_place(loaded, hole.at_m)}, {wide} wide"


def _place(loaded: LoadedJob, spot: Iterable[float]) -> str:
    x, y = (_mm(loaded, float(c)) for c in spot)
    return f"at x {x}, y {y}"


def _mm(loaded: LoadedJob, value: float) -> str:
    return shown(value, "length", loaded.job.units)


def _spots(profile: Profile) -> Spots:
    return tuple((float(x), float(y)) for x, y in profile.polygon(CHORD))
