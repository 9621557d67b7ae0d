# SPDX-License-Identifier: Apache-2.0
"""Compiled heart of cutter reach: heights of a skin over a grid, where a cutter's tip may go, and
what it then takes off. reach.py is the door and holds the theory."""

import numpy as np
from numpy.typing import NDArray

from sumpwright.geometry.kernel import compiled

Floats = NDArray[np.float64]
Singles = NDArray[np.float32]
Ints = NDArray[np.int64]


@compiled
def draw_heights(corners: Floats, start: Floats, cell: float, heights: Singles) -> None:
    """Raise each cell to the highest triangle over its middle.

    Parameters
    ----------
    corners : (m, 3, 3) [m]
        Of triangles.
    start : (2,) [m]
        Middle of the first cell, x and y.
    cell : float [m]
        Side of a cell.
    heights : (ny, nx) [m]
        Changed in place.
    """
    ny, nx = heights.shape
    slack = 1e-9
    for t in range(len(corners)):
        ax, ay = corners[t, 0, 0], corners[t, 0, 1]
        bx, by = corners[t, 1, 0] - ax, corners[t, 1, 1] - ay
        cx, cy = corners[t, 2, 0] - ax, corners[t, 2, 1] - ay
        twice = bx * cy - by * cx
        if abs(twice) < 1e-16:
            continue
        bz, cz = corners[t, 1, 2] - corners[t, 0, 2], corners[t, 2, 2] - corners[t, 0, 2]
        i0 = max(int(np.ceil((ax + min(0.0, bx, cx) - start[0]) / cell)), 0)
        i1 = min(int(np.floor((ax + max(0.0, bx, cx) - start[0]) / cell)), nx - 1)
        j0 = max(int(np.ceil((ay + min(0.0, by, cy) - start[1]) / cell)), 0)
        j1 = min(int(np.floor((ay + max(0.0, by, cy) - start[1]) / cell)), ny - 1)
        for j in range(j0, j1 + 1):
            y = start[1] + cell * j - ay
            for i in range(i0, i1 + 1):
                x = start[0] + cell * i - ax
                u = (x * cy - y * cx) / twice
                v = (bx * y - by * x) / twice
                if u >= -slack and v >= -slack and u + v <= 1.0 + slack:
                    z = np.float32(corners[t, 0, 2] + u * bz + v * cz)
                    if z > heights[j, i]:
                        heights[j, i] = z


@compiled
def lift_rim(heights: Singles, steps: Ints, lifts: Singles, rows: Ints, tips: Singles) -> None:
    """Raise each tip until no part of a tool's rounded rim is under the heights.

    Parameters
    ----------
    heights : (ny, nx) [m]
        Of the part.
    steps : (k, 2) [-]
        Cells from the tool's middle that the rim covers, rows and columns; both ways alike.
    lifts : (k,) [m]
        Of the rim's underside over the tip there.
    rows : (r,) [-]
        Rows to work on.
    tips : (ny, nx) [m]
        Changed in place.
    """
    ny, nx = heights.shape
    for j in rows:
        for k in range(len(steps)):
            row = j + steps[k, 0]
            if row < 0 or row >= ny:
                continue
            shift, lift = steps[k, 1], lifts[k]
            first, end = max(0, -shift), min(nx, nx - shift)
            below, own = heights[row, first + shift : end + shift], tips[j, first:end]
            for i in range(len(own)):
                tip = below[i] - lift
                own[i] = tip if tip > own[i] else own[i]


@compiled
def lift_flat(spans: Singles, halves: Ints, levels: Ints, rows: Ints, tips: Singles) -> None:
    """Raise each tip until nothing of a tool's flat end is under the heights.

    A row of the disc is a stretch of cells; its highest is that of two overlapping stretches whose
    length is a power of two, and those are there beforehand.

    Parameters
    ----------
    spans : (l, ny, nx) [m]
        Highest of 2^l cells in a row, from each on.
    halves : (2 r + 1,) [-]
        Cells to each side of the disc's middle in each of its rows, from the lowest.
    levels : (2 r + 1,) [-]
        Of the longest power of two that is no longer than the row.
    rows : (r,) [-]
        Rows to work on, none nearer to the border than the disc's radius.
    tips : (ny, nx) [m]
        Changed in place, but for a border of the disc's radius.
    """
    nx = spans.shape[2]
    reach = len(halves) // 2
    for j in rows:
        own = tips[j, reach : nx - reach]
        for k in range(len(halves)):
            half, level = halves[k], levels[k]
            row = spans[level, j + k - reach]
            second = reach + half - (1 << level) + 1
            left, right = row[reach - half :], row[second:]
            for i in range(len(own)):
                tip = left[i] if left[i] > right[i] else right[i]
                own[i] = tip if tip > own[i] else own[i]


@compiled
def mark_removed(
    points: Floats,
    start: Floats,
    cell: float,
    tips: Singles,
    radius: float,
    corner: float,
    guesses: Floats,
    which: Ints,
    removed: NDArray[np.bool_],
) -> None:
    """Mark the points that a tool at its lowest tips sweeps over.

    Parameters
    ----------
    points : (n, 3) [m]
        Just off the skin.
    start : (2,) [m]
        Middle of the first cell, x and y.
    cell : float [m]
        Side of a cell.
    tips : (ny, nx) [m]
        Lowest height of the tip over each cell.
    radius : float [m]
        Of the tool.
    corner : float [m]
        Of the tool's corner.
    guesses : (n, 2) [m]
        From each point to where the tool's middle may well be.
    which : (r,) [-]
        Points to work on.
    removed : (n,) [-]
        Changed in place.
    """
    ny, nx = tips.shape
    flat = (radius - corner) / cell
    reach, bend = radius / cell, corner / cell
    for p in which:
        x = (points[p, 0] - start[0]) / cell
        y = (points[p, 1] - start[1]) / cell
        z = points[p, 2]
        i, j = int(np.round(x + guesses[p, 0] / cell)), int(np.round(y + guesses[p, 1] / cell))
        if 0 <= i < nx and 0 <= j < ny:
            away = np.sqrt((i - x) ** 2 + (j - y) ** 2)
            if away <= flat and tips[j, i] <= z:
                removed[p] = True
                continue
        done = False
        for j in range(max(int(np.ceil(y - reach)), 0), min(int(y + reach), ny - 1) + 1):
            across = (j - y) ** 2
            half = np.sqrt(max(reach * reach - across, 0.0))
            for i in range(max(int(np.ceil(x - half)), 0), min(int(x + half), nx - 1) + 1):
                if tips[j, i] > z:
                    continue
                out = np.sqrt((i - x) ** 2 + across) - flat
                lift = 0.0
                if out > 0.0:
                    lift = cell * (bend - np.sqrt(max(bend * bend - out * out, 0.0)))
                if tips[j, i] + lift <= z:
                    done = True
                    break
            if done:
                break
        removed[p] = done
