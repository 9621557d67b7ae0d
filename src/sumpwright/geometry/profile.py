# SPDX-License-Identifier: Apache-2.0
"""A closed flat outline of lines and arcs: what a person draws, a cutter follows and a DXF holds.

An arc is kept by its *bulge*, the tangent of a quarter of the angle it turns: 0 is a line, 1 half a
circle to the left, negative to the right. That is the DXF format's own way of saying it.
"""

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from sumpwright.errors import RangeError

Floats = NDArray[np.float64]

CHORD = 5e-5
"""m; default distance of a chord from its arc: half the width of a fine machined tolerance."""


@dataclass(frozen=True, eq=False)
class Profile:
    """Corners in order, solid on the left, and the bulge from each corner to the next."""

    points: Floats
    """(n, 2) [m]"""
    bulges: Floats
    """(n,) [-] of the piece that starts at each point"""

    def __post_init__(self) -> None:
        points = np.array(self.points, dtype=float).reshape(-1, 2)
        bulges = np.array(self.bulges, dtype=float).reshape(-1)
        for kept in (points, bulges):
            kept.setflags(write=False)
        object.__setattr__(self, "points", points)
        object.__setattr__(self, "bulges", bulges)

    @property
    def ends(self) -> Floats:
        """(n, 2) [m] where each piece ends."""
        return np.roll(self.points, -1, axis=0)

    @property
    def length(self) -> float:
        """All round [m]."""
        chord = np.linalg.norm(self.ends - self.points, axis=1)
        return float((chord * _arc_over_chord(self.bulges)).sum())

    @property
    def area(self) -> float:
        """Enclosed [m^2]; negative where it runs clockwise."""
        a, b = self.points, self.ends
        flat = 0.5 * float((a[:, 0] * b[:, 1] - b[:, 0] * a[:, 1]).sum())
        chord = np.linalg.norm(b - a, axis=1)
        turn = 4.0 * np.arctan(self.bulges)
        half = 0.5 * np.abs(turn)
        bent = np.abs(turn) > 1e-9
        radius = np.where(bent, 0.5 * chord / np.sin(np.where(bent, half, 1.0)), 0.0)
        caps = 0.5 * radius**2 * (np.abs(turn) - np.sin(np.abs(turn)))
        return flat + float((np.sign(turn) * caps).sum())

    def reversed(self) -> "Profile":
        """The same outline run the other way."""
        return Profile(self.points[::-1], -np.roll(self.bulges[::-1], -1))

    def moved(self, shift: ArrayLike) -> "Profile":
        """The outline moved by (x, y) [m]."""
        return Profile(self.points + np.asarray(shift, dtype=float), self.bulges)

    def mirrored(self) -> "Profile":
        """The outline seen from the other side: y turned over, solid on the left again."""
        return Profile(self.points * [1.0, -1.0], -self.bulges).reversed()

    def polygon(self, chord: float = CHORD) -> Floats:
        """(k, 2) [m] corners of a polygon no further than `chord` from the outline."""
        return np.concatenate(
            [
                _piece(a, b, bulge, chord)
                for a, b, bulge in zip(self.points, self.ends, self.bulges, strict=True)
            ]
        )


def polygon_profile(corners: ArrayLike) -> Profile:
    """An outline of straight sides through (n, 2) [m] corners.

    Parameters
    ----------
    corners : (n, 2) [m]
        In order.

    Returns
    -------
    profile : Profile [m]
    """
    points = np.asarray(corners, dtype=float).reshape(-1, 2)
    return Profile(points, np.zeros(len(points)))


def circle_profile(centre: ArrayLike, radius: float) -> Profile:
    """A circle about (x, y) [m], counter-clockwise, as two arcs.

    Parameters
    ----------
    centre : (2,) [m]
        Its middle.
    radius : float [m]
        Of the circle.

    Returns
    -------
    profile : Profile [m]
    """
    x, y = (float(c) for c in np.asarray(centre, dtype=float))
    return Profile(np.array([[x - radius, y], [x + radius, y]]), np.ones(2))


def rounded_profile(corners: ArrayLike, radii: ArrayLike) -> Profile:
    """Straight sides with each corner rounded.

    Parameters
    ----------
    corners : (n, 2) [m]
        Before rounding, in order, either way round.
    radii : (n,) [m]
        Of each corner's rounding; 0 leaves it sharp.

    Returns
    -------
    profile : Profile [m]
        Run as the corners are.

    Raises
    ------
    RangeError
        Where two roundings need more of a side than there is, or the outline turns back on itself.
    """
    points = np.asarray(corners, dtype=float).reshape(-1, 2)
    radius = np.asarray(radii, dtype=float).reshape(-1)
    back, on = (_unit(np.roll(points, s, axis=0) - points) for s in (1, -1))
    turn = np.arctan2(_cross(-back, on), (-back * on).sum(axis=1))
    if (np.abs(np.abs(turn) - math.pi) < 1e-6).any():
        raise RangeError(f"corner {int(np.abs(turn).argmax()) + 1} turns back on itself")
    need = radius * np.abs(np.tan(0.5 * turn))
    side = np.linalg.norm(np.roll(points, -1, axis=0) - points, axis=1)
    over = need + np.roll(need, -1) - side
    if (over > 1e-9).any():
        k = int(over.argmax())
        raise RangeError(
            f"the roundings at corners {k + 1} and {(k + 1) % len(points) + 1} need "
            f"{1e3 * (need[k] + np.roll(need, -1)[k]):.4g} mm of a side of {1e3 * side[k]:.4g} mm"
        )
    found: list[tuple[Floats, float]] = []
    for k in range(len(points)):
        if need[k] <= 1e-12:
            found.append((points[k], 0.0))
        else:
            found += [(points[k] + need[k] * back[k], math.tan(0.25 * turn[k]))]
            found += [(points[k] + need[k] * on[k], 0.0)]
    kept = [
        f
        for f, g in zip(found, [*found[1:], found[0]], strict=True)
        if f[1] != 0.0 or np.linalg.norm(f[0] - g[0]) > 1e-12
    ]
    return Profile(np.array([f[0] for f in kept]), np.array([f[1] for f in kept]))


def corner_turns(profile: Profile) -> Floats:
    """Turn at each corner from the side that comes to the one that leaves.

    Parameters
    ----------
    profile : Profile [m]
        Either way round.

    Returns
    -------
    turns : (n,) [rad]
        Positive to the left: of an outline with its solid there, where it is convex.
    """
    out = profile.ends - profile.points
    back = np.roll(out, 1, axis=0)
    # of an arc its tangent counts: half its angle off the chord
    half = 2.0 * np.arctan(profile.bulges)
    leave = np.arctan2(out[:, 1], out[:, 0]) - half
    come = np.arctan2(back[:, 1], back[:, 0]) + np.roll(half, 1)
    return np.asarray((leave - come + math.pi) % (2.0 * math.pi) - math.pi)


def _unit(vectors: Floats) -> Floats:
    length = np.linalg.norm(vectors, axis=1, keepdims=True)
    if (length < 1e-12).any():
        raise RangeError("two corners in a row lie at the same place")
    return np.asarray(vectors / length)


def _cross(a: Floats, b: Floats) -> Floats:
    return np.asarray(a[:, 0] * b[:, 1] - a[:, 1] * b[:, 0])


def _arc_over_chord(bulges: Floats) -> Floats:
    half = 2.0 * np.arctan(np.abs(bulges))
    return np.asarray(1.0 / np.sinc(half / math.pi))


def _piece(start: Floats, end: Floats, bulge: float, chord: float) -> Floats:
    """The start of a piece and the corners of its polygon, without its end."""
    if bulge == 0.0:
        return np.asarray(start[None])
    turn = 4.0 * math.atan(bulge)
    middle, half = 0.5 * (start + end), 0.5 * (end - start)
    left = np.array([-half[1], half[0]])
    centre = middle + left * (1.0 - bulge * bulge) / (2.0 * bulge)
    arm = start - centre
    radius = float(np.hypot(*arm))
    step = 2.0 * math.acos(max(1.0 - chord / radius, -1.0)) if chord < radius else math.pi / 2.0
    count = max(math.ceil(abs(turn) / step), 1)
    angle = turn * np.arange(count) / count
    cos, sin = np.cos(angle), np.sin(angle)
    turned = np.stack([arm[0] * cos - arm[1] * sin, arm[0] * sin + arm[1] * cos], axis=1)
    return np.asarray(centre + turned)
