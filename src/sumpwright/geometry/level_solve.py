# SPDX-License-Identifier: Apache-2.0
"""Compiled search for the height at which a volume stands; body arrays as in level_kernel.py."""

import numpy as np
from numpy.typing import NDArray

from sumpwright.geometry.kernel import compiled
from sumpwright.geometry.level_kernel import FLAT, band_of, in_band, scratch
from sumpwright.geometry.level_reach import reach

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]

RUN = 32
"""Questions that start from one another."""

BAND = 0.001
"""Half width, as a share of the body's height, of the band that one walk of the tree answers for.
Wider costs more triangles an evaluation, narrower more walks; 0.001 to 0.004 measured alike."""
CHECK = 16
"""Every so many-th evaluation halves the bracket, whatever Newton says; a search needs 2 to 9."""


@compiled
def height_of(
    nodes: Floats,
    corners: Floats,
    areas: Floats,
    block: int,
    skin: float,
    several: bool,
    total: float,
    up: Floats,
    volume: float,
    guess: float,
    cut: Floats,
) -> tuple[float, float, int]:
    """Lowest plane that has a volume below it, the area there, and the evaluations spent.

    Newton on a rising, piecewise cubic function, inside a bracket that every evaluation shrinks.
    A body in several pieces may have gaps that no volume tells apart: then look just below, too.

    Parameters
    ----------
    nodes : (2n, 15) [m, m^2, m^3]
        The tree.
    corners : (m, 9) [m]
        Of its triangles.
    areas : (m, 3) [m^2]
        Their area vectors.
    block : int [-]
        Triangles a leaf.
    skin : float [m^2]
        Whole area; tells free surface and volume from their own rounding.
    several : bool [-]
        More than one connected skin.
    total : float [m^3]
        Whole volume.
    up : (3,) [-]
        Unit vector.
    volume : float [m^3]
        To find.
    guess : float [m]
        Where to start; nan for none.
    cut : (m, 4) [any]
        From `scratch`.

    Returns
    -------
    height, surface, spent : float [m], float [m^2], int [-]
    """
    foot, crown = -reach(nodes, corners, block, -up), reach(nodes, corners, block, up)
    if volume <= 0.0:
        return foot, 0.0, 0
    if volume >= total * (1.0 - 1e-15):
        return crown, 0.0, 0
    size = max(abs(foot), abs(crown))
    flat, tiny = FLAT * skin, 4e-16 * size
    slack, noise = 1e-15 * volume, min(2e-16 * skin * size, 1e-6 * volume)
    low, high = foot, crown
    s = guess if low < guess < high else low + (high - low) * volume / total
    half, band = BAND * (crown - foot), np.array([np.inf, -np.inf, 0.0, 0.0, 0.0])
    surface, last = 0.0, np.inf
    for spent in range(1, 200):
        found, surface = _look(nodes, corners, areas, block, up, half, s, cut, band)
        open_here = surface > flat  # else s is in a gap between bodies, or at an end
        miss = found - volume
        if miss >= (-slack if open_here else -noise):
            high = s
        else:
            low = s
        if open_here:
            stalled = 0.5 * last <= abs(miss) <= noise
            if stalled or abs(miss) <= slack or abs(miss) <= tiny * surface:
                lower = s - 4.0 * max(tiny, noise / surface)
                if not several or lower <= low:
                    return s, surface, spent
                held, area = _look(nodes, corners, areas, block, up, half, lower, cut, band)
                if area > flat or held < volume - noise:
                    return s, surface, spent
                open_here, high = False, lower
        if high - low <= tiny:
            surface = _look(nodes, corners, areas, block, up, half, low, cut, band)[1]
            return high, surface, spent
        s = _next(s, surface, foot, crown, found, volume, total) if open_here else low
        # Newton can leap to and fro across a bracket that hardly shrinks
        if not low < s < high or spent % CHECK == 0:
            s = 0.5 * (low + high)
        last = abs(miss)
    return high, surface, 200


@compiled
def _look(
    nodes: Floats,
    corners: Floats,
    areas: Floats,
    block: int,
    up: Floats,
    half: float,
    s: float,
    cut: Floats,
    band: Floats,
) -> tuple[float, float]:
    """Volume and area at a plane; walks the tree only where `band` does not hold it.

    `band` is low, high, flat, lift and count of the last walk, and is what changes here.
    """
    if not band[0] <= s <= band[1]:
        band[0], band[1] = s - half, s + half
        flat, lift, count = band_of(nodes, corners, areas, block, up, band[0], band[1], cut)
        band[2], band[3], band[4] = flat, lift, float(count)
    return in_band(band[2], band[3], cut, int(band[4]), s)


@compiled
def _next(
    s: float,
    surface: float,
    foot: float,
    crown: float,
    found: float,
    volume: float,
    total: float,
) -> float:
    """Newton's step on the logarithms of volume and depth, or of what is left of both above.

    A level starts in a tip or an edge, where volume goes as a power of depth: one step on the
    logarithms, where plain Newton gains a third of the way each time.
    """
    if 2.0 * volume <= total:
        depth = s - foot
        return float(foot + depth * (volume / found) ** (found / (surface * depth)))
    depth, left = crown - s, total - found
    return float(crown - depth * ((total - volume) / left) ** (left / (surface * depth)))


@compiled
def many_heights(
    nodes: Floats,
    corners: Floats,
    areas: Floats,
    block: int,
    skin: float,
    several: bool,
    total: float,
    ups: Floats,
    volumes: Floats,
    runs: Ints,
    height: Floats,
    surface: Floats,
) -> None:
    """`height_of` for runs of RUN questions; each starts from the answers before it.

    Runs are of fixed length so that answers do not depend on how many threads share them.

    Parameters
    ----------
    nodes : (2n, 15) [m, m^2, m^3]
        The tree.
    corners : (m, 9) [m]
        Of its triangles.
    areas : (m, 3) [m^2]
        Their area vectors.
    block : int [-]
        Triangles a leaf.
    skin : float [m^2]
        Whole area.
    several : bool [-]
        More than one connected skin.
    total : float [m^3]
        Whole volume.
    ups : (k, 3) [-]
        Unit vectors.
    volumes : (k,) [m^3]
        To find.
    runs : (j,) [-]
        Numbers of the runs to answer.
    height : (k,) [m]
        Where the heights go.
    surface : (k,) [m^2]
        Where the areas go.
    """
    cut = scratch(corners)
    for run in runs:
        first = run * RUN
        for k in range(first, min(first + RUN, len(volumes))):
            height[k], surface[k], _ = height_of(
                nodes,
                corners,
                areas,
                block,
                skin,
                several,
                total,
                ups[k],
                volumes[k],
                _foreseen(height[first:k]),
                cut,
            )


@compiled
def _foreseen(before: Floats) -> float:
    """The next of a row of heights, by a parabola through the last three; nan of none."""
    n = len(before)
    if n > 2:
        return float(3.0 * (before[n - 1] - before[n - 2]) + before[n - 3])
    return float(before[n - 1]) if n else np.nan
