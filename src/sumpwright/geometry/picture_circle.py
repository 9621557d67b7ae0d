# SPDX-License-Identifier: Apache-2.0
"""Round edges in a grey picture, to a part of a picture element.

Edges by Canny, candidates by a Hough transform on a picture made small enough, each then measured
on the full one: along rays out of its middle the steepest place is found between elements, and a
circle is fitted to those places. Elements: x to the right, y down, an element's middle at whole
numbers.
"""

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from sumpwright.geometry.circle_fit import Circle, circle_fit

Floats = NDArray[np.float64]
Grey = NDArray[np.float32]

HOUGH_RADIUS = 16.0
"""Elements; radius that the largest circle sought has in the small picture. More only costs time:
the place is measured on the full picture."""
LEAST_RADIUS = 3.5
"""Elements, in the small picture; a smaller ring cannot be told from a speck."""
VOTES = 0.45
"""Least share of a candidate's ring that edges were found on."""
RAYS = 72
LEAST_SHARE = 0.7
"""Least share of the rays that must find the edge."""
RAGGED = 0.08
"""Most rms distance over the radius; a square's sides have 0.1."""
ROUNDS = 8
SETTLED = 0.02
"""Elements; a round that moves a circle by less is the last."""
STEEP = 0.25
"""Of the picture's own steepest edges round a candidate: what counts as an edge."""


@dataclass(frozen=True)
class PictureCircle:
    """A round edge in a picture, in picture elements."""

    circle: Circle
    share: float
    """Of its ring that the edge was found on, 0 to 1"""
    dark: bool
    """The inside is darker than the outside"""

    @property
    def sure(self) -> str:
        """``sure``, ``fair`` or ``doubtful``."""
        ragged = self.circle.rms / self.circle.radius
        if self.share >= 0.95 and ragged <= 0.03:
            return "sure"
        return "fair" if self.share >= 0.85 and ragged <= 0.06 else "doubtful"


def picture_circles(
    grey: Grey, *, smallest: float, largest: float, most: int = 200
) -> tuple[PictureCircle, ...]:
    """Every round edge of a size, those on the left first.

    Parameters
    ----------
    grey : (h, w) [-]
        0 black to 1 white.
    smallest : float [-]
        Least radius, picture elements.
    largest : float [-]
        Most.
    most : int [-]
        Candidates that are measured at most.

    Returns
    -------
    circles : tuple of PictureCircle [-]
        Where two lie over one another, the one with more of its ring.
    """
    small, by = _small(grey, largest)
    low, high = max(smallest / by, LEAST_RADIUS), largest / by
    found: list[PictureCircle] = []
    for x, y, r in _candidates(small, low, high, most):
        middle = (x + 0.5) * by - 0.5, (y + 0.5) * by - 0.5
        circle = measured_circle(grey, middle[0], middle[1], r * by, slack=max(2.0 * by, 3.0))
        if circle is not None and smallest <= circle.circle.radius <= largest:
            found.append(circle)
    return tuple(sorted(_apart(found), key=lambda c: (c.circle.x, c.circle.y)))


def measured_circle(
    grey: Grey, x: float, y: float, radius: float, *, slack: float
) -> PictureCircle | None:
    """The round edge near a circle, measured between elements.

    Parameters
    ----------
    grey : (h, w) [-]
        0 black to 1 white.
    x : float [-]
        Of the circle's middle, picture elements to the right.
    y : float [-]
        Down.
    radius : float [-]
        Of the circle.
    slack : float [-]
        How far off it the edge is sought.

    Returns
    -------
    circle : PictureCircle or None
        None where too little of a ring is found.
    """
    slack = max(slack, 0.25 * radius)
    found = None
    for again in range(ROUNDS):
        rays = _edge_points(grey, x, y, radius, slack if again < ROUNDS - 1 else 0.6 * slack)
        if rays is None:
            return None
        circle, share = _trimmed(rays[0])
        moved = np.hypot(circle.x - x, circle.y - y) + abs(circle.radius - radius)
        if (
            share < LEAST_SHARE
            or circle.rms > RAGGED * circle.radius
            or moved > slack + 0.5 * radius
        ):
            return None
        x, y, radius = circle.x, circle.y, circle.radius
        found = PictureCircle(circle, share, rays[1])
        if moved < SETTLED:
            return found
    return found


def _edge_points(
    grey: Grey, x: float, y: float, radius: float, slack: float
) -> tuple[Floats, bool] | None:
    """The steepest place on each ray (n, 2), and whether it gets lighter outward."""
    from scipy.ndimage import gaussian_filter1d, map_coordinates

    step = 0.25
    along = np.arange(max(radius - slack, 0.5), radius + slack + step, step)
    angle = 2.0 * np.pi * np.arange(RAYS) / RAYS
    cos, sin = np.cos(angle)[:, None], np.sin(angle)[:, None]
    at = np.stack([y + along * sin, x + along * cos])
    level = map_coordinates(grey, at, order=1, mode="nearest")
    slope = np.gradient(gaussian_filter1d(level, 1.0 / step, axis=1), step, axis=1)[:, 1:-1]
    along = along[1:-1]
    dark = bool(np.median(slope.max(axis=1)) >= np.median(-slope.min(axis=1)))
    steep = slope if dark else -slope
    best = steep.argmax(axis=1)
    height = steep[np.arange(RAYS), best]
    inner = (best > 0) & (best < steep.shape[1] - 1)
    good = inner & (height > max(STEEP * float(np.quantile(height, 0.9)), 0.004))
    if good.mean() < LEAST_SHARE:
        return None
    rows, k = np.flatnonzero(good), best[good]
    a, b, c = steep[rows, k - 1], steep[rows, k], steep[rows, k + 1]
    bend = np.minimum(a - 2.0 * b + c, -1e-12)  # a parabola through the steepest three
    far = along[k] + step * np.clip(0.5 * (a - c) / bend, -0.5, 0.5)
    points = np.column_stack([x + far * cos[rows, 0], y + far * sin[rows, 0]])
    return points, dark


def _trimmed(points: Floats) -> tuple[Circle, float]:
    """The circle of the points once those far off it are left out, and the share of rays kept."""
    circle, kept = circle_fit(points), points
    for _ in range(6):
        off = np.abs(np.hypot(points[:, 0] - circle.x, points[:, 1] - circle.y) - circle.radius)
        near = off <= max(3.0 * 1.4826 * float(np.median(off)), 0.1)
        if near.sum() < LEAST_SHARE * RAYS:
            return circle, float(near.sum()) / RAYS
        before, kept = len(kept), points[near]
        circle = circle_fit(kept)
        if len(kept) == before:
            break
    return circle, len(kept) / RAYS


def _small(grey: Grey, largest: float) -> tuple[Grey, float]:
    """The picture with the largest circle sought no larger than it has to be, and by how much."""
    from skimage.transform import downscale_local_mean

    by = max(int(largest / HOUGH_RADIUS), 1)
    if by == 1:
        return grey, 1.0
    high, wide = (n // by * by for n in grey.shape)
    return np.asarray(downscale_local_mean(grey[:high, :wide], (by, by)), dtype=np.float32), by


def _candidates(
    small: Grey, low: float, high: float, most: int
) -> Iterator[tuple[float, float, float]]:
    """x, y and radius of rings with many votes, the best first, one for a place."""
    from skimage.feature import canny, peak_local_max
    from skimage.transform import hough_circle

    edges = canny(small, sigma=1.5)
    seen: list[tuple[float, float, float, float]] = []
    for radius in range(max(int(low), 3), int(np.ceil(high)) + 1):
        votes = hough_circle(edges, [radius])[0]
        # ring of one element in width: an edge that is off by a half still counts
        thick = _three_by_three(votes)
        for y, x in peak_local_max(thick, min_distance=3, threshold_abs=VOTES, num_peaks=most):
            seen.append((float(thick[y, x]), float(x), float(y), float(radius)))
    seen.sort(key=lambda s: -s[0])
    kept: list[tuple[float, float, float]] = []
    for _, x, y, r in seen:
        if all(np.hypot(x - a, y - b) > 2.0 or abs(r - c) > 2.0 for a, b, c in kept):
            kept.append((x, y, r))
    yield from kept[:most]


def _three_by_three(votes: Floats) -> Floats:
    from scipy.ndimage import uniform_filter

    return np.asarray(uniform_filter(votes, 3) * 3.0)


def _apart(found: list[PictureCircle]) -> list[PictureCircle]:
    """One circle for each place: the one with more of its ring, then the rounder."""
    order = sorted(found, key=lambda c: (-round(c.share, 2), c.circle.rms / c.circle.radius))
    kept: list[PictureCircle] = []
    for c in order:
        here = c.circle
        if all(
            np.hypot(here.x - k.circle.x, here.y - k.circle.y)
            > 0.8 * max(here.radius, k.circle.radius)
            for k in kept
        ):
            kept.append(c)
    return kept
