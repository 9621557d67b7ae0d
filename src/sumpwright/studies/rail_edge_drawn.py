# SPDX-License-Identifier: Apache-2.0
"""The flange's edge and the block's opening as corners to draw, from the job's outlines."""

import math
from collections.abc import Sequence

import numpy as np

from sumpwright.errors import InputError, Problem, RangeError
from sumpwright.geometry.outline_side import crossing
from sumpwright.geometry.profile import Profile, rounded_profile
from sumpwright.geometry.rail_edge import flange_outline
from sumpwright.job.load import LoadedJob
from sumpwright.job.profile import Corner, Spot
from sumpwright.job.rail import Rail

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
    points: list[Spot] = []
    radii: list[float] = []
    for k, corner in enumerate(corners):
        after = corners[(k + 1) % len(corners)]
        inner = [] if corner.through is None else _arc(corners[k - 1].at, corner.through, corner.at)
        own = radius if corner.radius is None else corner.radius
        bent = corner.through is not None or after.through is not None
        points += [*inner, corner.at]
        radii += [0.0] * len(inner) + [0.0 if bent else own]
    try:
        profile = rounded_profile(points, radii)
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


def _arc(start: Spot, through: Spot, end: Spot) -> list[Spot]:
    """Points between the ends of an arc through three points."""
    a, b, c = (complex(*p) for p in (start, through, end))
    w = (c - a) / (b - a) if b != a else 0j
    if abs(w.imag) < 1e-12:
        return [through]
    centre = (b - a) * (w - abs(w) ** 2) / (2j * w.imag) + a
    bent = -1.0 if w.imag < 0.0 else 1.0  # `through` left of the chord makes it run clockwise
    turn = math.atan2(*_parts((c - centre) / (a - centre))) % (2.0 * math.pi)
    turn = turn if bent > 0.0 else turn - 2.0 * math.pi
    count = max(math.ceil(abs(turn) / 0.1), 2)
    ring = [centre + (a - centre) * complex(np.exp(1j * turn * k / count)) for k in range(1, count)]
    return [(p.real, p.imag) for p in ring]


def _parts(value: complex) -> tuple[float, float]:
    return value.imag, value.real


def _spots(profile: Profile) -> Spots:
    return tuple((float(x), float(y)) for x, y in profile.polygon(CHORD))
