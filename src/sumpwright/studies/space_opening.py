# SPDX-License-Identifier: Apache-2.0
"""The opening at the rail that a free space begins at: as the job draws it, else the new pan's."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from sumpwright.errors import InputError, Problem, RangeError
from sumpwright.geometry.free_space_plan import flat_top
from sumpwright.geometry.profile import Profile, rounded_profile
from sumpwright.geometry.region import Region, region_area, region_of
from sumpwright.job.load import LoadedJob
from sumpwright.job.profile import Corner
from sumpwright.studies.bodies import RAIL_FLATNESS, Bodies

Floats = NDArray[np.float64]

LEAST = 1e-4
"""m^2; an opening under a square centimetre is a slip of the unit"""


@dataclass(frozen=True, eq=False)
class Opening:
    """What the pan may be open to at the rail."""

    region: Region
    """[mm]"""
    source: str


def opening_of(loaded: LoadedJob, bodies: Bodies) -> Opening:
    """The opening of the job; InputError SPAC-502 where there is none that can be used."""
    rail = loaded.job.rail
    if rail is not None and rail.opening is not None:
        keys = ("rail", "opening")
        try:
            profile = _profile(rail.opening, rail.opening_radius)
        except RangeError as err:
            raise InputError([_unusable(loaded.where(*keys), str(err))]) from err
        corners = profile.polygon()
        region = region_of([corners if profile.area > 0.0 else corners[::-1]])
        once = abs(region_area(region) - abs(profile.area)) < 1e-3 * abs(profile.area)
        if len(region.decompose()) != 1 or not once:
            raise InputError([_unusable(loaded.where(*keys), "an outline that crosses itself")])
        return Opening(region, "rail.opening")
    region = flat_top(bodies.new.cavity, RAIL_FLATNESS)
    if region_area(region) < LEAST:
        where, found = loaded.where("new", "cavity"), "a cavity without a level top at the rail"
        raise InputError([_unusable(where, found)])
    return Opening(region, "the new pan's opening at the rail")


def _profile(corners: tuple[Corner, ...], radius: float) -> Profile:
    """An outline of the job file: arcs as chords, corners rounded where both sides are straight."""
    points: list[tuple[float, float]] = []
    radii: list[float] = []
    for k, corner in enumerate(corners):
        bent = corner.through is not None or corners[(k + 1) % len(corners)].through is not None
        if corner.through is not None:
            points += _arc(corners[k - 1].at, corner.through, corner.at)
            radii += [0.0] * (len(points) - len(radii))
        points.append(corner.at)
        own = radius if corner.radius is None else corner.radius
        radii.append(0.0 if bent else own)
    return rounded_profile(points, radii)


def _arc(
    start: tuple[float, float], through: tuple[float, float], end: tuple[float, float]
) -> list[tuple[float, float]]:
    """Points between the ends of an arc through three points."""
    a, b, c = (np.array(p) for p in (start, through, end))
    u, v = b - a, c - a
    cross = float(u[0] * v[1] - u[1] * v[0])
    if abs(cross) < 1e-12:
        return [through]
    centre = a + np.array([v[1] * (u @ u) - u[1] * (v @ v), u[0] * (v @ v) - v[0] * (u @ u)]) / (
        2.0 * cross
    )
    first, last = (np.arctan2(*(p - centre)[::-1]) for p in (a, c))
    turn = (last - first) % (2.0 * np.pi) - (0.0 if cross > 0.0 else 2.0 * np.pi)
    angle = first + turn * np.arange(1, 24) / 24
    radius = float(np.linalg.norm(a - centre))
    ring = centre + radius * np.stack([np.cos(angle), np.sin(angle)], axis=1)
    return [(float(x), float(y)) for x, y in ring]


def _unusable(where: str, found: str) -> Problem:
    return Problem(
        code="SPAC-502",
        where=where,
        found=found,
        needed="one closed outline of what the pan may be open to at the rail",
        do="draw `rail.opening`, or mend the one there is",
    )
