# SPDX-License-Identifier: Apache-2.0
"""Places for keys in the section of a cut: thick all round, and well apart. Millimetres."""

from collections.abc import Iterator

import numpy as np
from numpy.typing import NDArray

from sumpwright.geometry.region import Region

Floats = NDArray[np.float64]

BIT = 30.0
"""mm; of a long part a place is looked for in every bit of this length."""
MOST = 4
"""Keys of a joint."""


def spots_in(shared: Region, clear: float) -> list[tuple[float, float]]:
    """Places in a section with this much of it all round: the thickest of each part and of the
    bits of a long one, and its ends.

    Parameters
    ----------
    shared : Region [mm]
        The section.
    clear : float [mm]
        All round each place.

    Returns
    -------
    spots : list of (float, float) [mm]
    """
    from manifold3d import JoinType

    found = []
    for part in shared.offset(-clear, JoinType.Round, circular_segments=32).decompose():
        if part.is_empty():
            continue
        found += [_thickest(bit) for bit in _divided(part) if not bit.is_empty()]
        found += _ends(part)
    return found


def _ends(part: Region) -> list[tuple[float, float]]:
    """The two corners of a part that are furthest apart."""
    corners = np.concatenate([np.asarray(loop, dtype=float) for loop in part.to_polygons()])
    apart = np.linalg.norm(corners[:, None] - corners[None], axis=2)
    ends = np.unravel_index(int(apart.argmax()), apart.shape)
    return [(float(corners[k, 0]), float(corners[k, 1])) for k in ends]


def _divided(part: Region) -> Iterator[Region]:
    """Bits of a part."""
    from manifold3d import CrossSection

    low, high = np.asarray(part.bounds(), dtype=float).reshape(2, 2)
    size = high - low
    counts = np.maximum(np.ceil(size / BIT), 1).astype(int)
    step = size / counts
    for i in range(counts[0]):
        for j in range(counts[1]):
            cell = CrossSection.square(step.tolist()).translate((low + step * [i, j]).tolist())
            yield part ^ cell


def _thickest(part: Region) -> tuple[float, float]:
    """A place deep within a part: the middle of what is left last as it shrinks."""
    left = part
    step = 0.5 * float(np.ptp(np.asarray(part.bounds()).reshape(2, 2), axis=0).min())
    for _ in range(12):
        step *= 0.5
        smaller = left.offset(-step)
        left = left if smaller.is_empty() else smaller
    loop = np.asarray(max(left.to_polygons(), key=len), dtype=float)
    middle = 0.5 * (loop.min(axis=0) + loop.max(axis=0))
    if _within(left, middle):
        return float(middle[0]), float(middle[1])
    return float(loop[0, 0]), float(loop[0, 1])


def _within(region: Region, spot: Floats) -> bool:
    from manifold3d import CrossSection

    dot = CrossSection.square((2e-3, 2e-3), True).translate(spot.tolist())
    return not (region ^ dot).is_empty()


def spread(spots: list[tuple[float, float]], least: float) -> list[tuple[float, float]]:
    """Of all spots a few that stand apart, the two furthest first; one where all are nearer.

    Parameters
    ----------
    spots : list of (float, float) [mm]
        To choose from.
    least : float [mm]
        That any two are apart.

    Returns
    -------
    chosen : list of (float, float) [mm]
    """
    if len(spots) < 2:
        return spots
    at = np.array(spots)
    apart = np.linalg.norm(at[:, None] - at[None], axis=2)
    i, j = np.unravel_index(int(apart.argmax()), apart.shape)
    if apart[i, j] < least:
        return [spots[0]]
    chosen = [int(i), int(j)]
    while len(chosen) < MOST:
        nearest = apart[:, chosen].min(axis=1)
        if nearest.max() < 2.0 * BIT:
            break
        chosen.append(int(nearest.argmax()))
    return [spots[k] for k in chosen]
