# SPDX-License-Identifier: Apache-2.0
"""The flange's edge and the block's opening as corners to draw, from the job's outlines."""

from collections.abc import Sequence

from sumpwright.errors import InputError, Problem, RangeError
from sumpwright.geometry.outline_side import crossing
from sumpwright.geometry.profile import Profile
from sumpwright.geometry.rail_edge import flange_outline
from sumpwright.job.load import LoadedJob
from sumpwright.job.profile import Corner
from sumpwright.job.rail import Rail
from sumpwright.studies.drawn_outline import rounded_outline

CHORD = 2e-4
"""m; of a corner in a picture from its arc."""
Spots = tuple[tuple[float, float], ...]


def edge_of(loaded: LoadedJob, rail: Rail) -> Spots:
    """Corners of the flange's outer edge: as the job draws it, else round the holes."""
    if rail.outline is not None:
        return _drawn(loaded, "outline", rail.outline, rail.radius)
    return _spots(flange_outline([hole.at for hole in rail.holes], rail.margin))


def opening_of(loaded: LoadedJob, rail: Rail) -> Spots:
    """Corners of the block's opening; none where the job does not draw it."""
    if rail.opening is None:
        return ()
    return _drawn(loaded, "opening", rail.opening, rail.opening_radius)


def _drawn(loaded: LoadedJob, key: str, corners: Sequence[Corner], radius: float) -> Spots:
    try:
        profile = rounded_outline(corners, radius)
    except RangeError as err:
        needed = "an outline whose roundings fit between its corners"
        do = "make the radius smaller, or move the corner"
        problem = Problem("RAIL-512", loaded.where("rail", key), str(err), needed, do)
        raise InputError([problem]) from err
    place = crossing(profile)
    if place is not None:
        x, y = 1e3 * place
        found = f"an outline that crosses itself at x {x:.1f} mm, y {y:.1f} mm"
        do = "put the corners in order round the edge"
        where = loaded.where("rail", key)
        raise InputError([Problem("RAIL-512", where, found, "an outline that does not", do)])
    return _spots(profile)


def _spots(profile: Profile) -> Spots:
    return tuple((float(x), float(y)) for x, y in profile.polygon(CHORD))
