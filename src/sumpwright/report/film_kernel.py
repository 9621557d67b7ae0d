# SPDX-License-Identifier: Apache-2.0
"""Compiled painters of the film: oil below a tilted plane, sheets in it, and their mixing.

Oil is painted from the skin of its compartment alone. Of each picture element the painter counts
the walls below the plane that the line of sight passes, in less out: where one is left over, the
line came in through the surface. So no mesh is cut and no surface is triangulated. Rows are
half-open between the sides, and a side is computed from its lower end whichever triangle asks, so
that neighbours never share an element nor leave one out.
"""

from typing import Any

import numpy as np
from numpy.typing import NDArray

from sumpwright.geometry.kernel import compiled

Buffer = NDArray[Any]

WALL, SURFACE = 1, 2


@compiled
def _crossing(x0: float, y0: float, x1: float, y1: float, y: float) -> float:
    """Where a side crosses a row; the same whichever end is named first."""
    if y0 > y1:
        x0, y0, x1, y1 = x1, y1, x0, y0
    return x0 + (y - y0) / (y1 - y0) * (x1 - x0)


@compiled
def row_of(corners: Buffer, t: int, y: float, width: int) -> tuple[int, int]:
    """First and past-last element of a row that a triangle covers."""
    low, high = 3.0e38, -3.0e38
    for k in range(3):
        n = (k + 1) % 3
        y0, y1 = float(corners[t, k, 1]), float(corners[t, n, 1])
        if (y0 <= y) == (y1 <= y):
            continue
        x = _crossing(float(corners[t, k, 0]), y0, float(corners[t, n, 0]), y1, y)
        low, high = min(low, x), max(high, x)
    if low > high:
        return 0, 0
    first = int(np.ceil(min(max(low, 0.0), width) - 0.5))
    last = int(np.ceil(min(max(high, 0.0), width) - 0.5))
    return max(first, 0), min(last, width)


@compiled
def fill_oil(
    corners: Buffer,
    light: Buffer,
    rise: Buffer,
    side: Buffer,
    depth: Buffer,
    lit: Buffer,
    left: Buffer,
) -> None:
    """Paint the walls of one compartment below its surface.

    `corners` (m, 3, 3) as seen; `rise` (m, 3) over the surface; `side` (m,) 1 where the triangle
    faces the viewer, else -1. The nearest facing wall goes to `depth` and `lit`, and `left` counts
    the others less the facing ones.
    """  # fmt: skip
    height, width = depth.shape
    for t in range(corners.shape[0]):
        if rise[t, 0] > 0.0 and rise[t, 1] > 0.0 and rise[t, 2] > 0.0:
            continue
        ax, ay, az = corners[t, 0, 0], corners[t, 0, 1], corners[t, 0, 2]
        bx, by, bz = corners[t, 1, 0], corners[t, 1, 1], corners[t, 1, 2]
        cx, cy, cz = corners[t, 2, 0], corners[t, 2, 1], corners[t, 2, 2]
        double = (bx - ax) * (cy - ay) - (by - ay) * (cx - ax)
        if double == 0.0:
            continue
        share = 1.0 / double
        top = max(int(np.ceil(min(ay, by, cy) - 0.5)), 0)
        bottom = min(int(np.floor(max(ay, by, cy) - 0.5)), height - 1)
        for row in range(top, bottom + 1):
            y = row + 0.5
            first, last = row_of(corners, t, y, width)
            for column in range(first, last):
                x = column + 0.5
                u = ((cx - bx) * (y - by) - (cy - by) * (x - bx)) * share
                v = ((ax - cx) * (y - cy) - (ay - cy) * (x - cx)) * share
                w = 1.0 - u - v
                if u * rise[t, 0] + v * rise[t, 1] + w * rise[t, 2] > 0.0:
                    continue
                left[row, column] -= side[t]
                z = u * az + v * bz + w * cz
                if side[t] > 0 and z > depth[row, column]:
                    depth[row, column] = z
                    lit[row, column] = u * light[t, 0] + v * light[t, 1] + w * light[t, 2]


@compiled
def lay_surface(
    plane: Buffer,
    number: int,
    bright: float,
    box: Buffer,
    own: Buffer,
    lit: Buffer,
    left: Buffer,
    depth: Buffer,
    shade: Buffer,
    kind: Buffer,
) -> None:
    """Close one compartment's oil with its surface, put it among the others, and clear the way.

    The surface is seen at z = plane[0] + plane[1] x + plane[2] y. `box` is what part of the picture
    the compartment covers: rows, then columns, past-last ones.
    """  # fmt: skip
    for row in range(box[0], box[1]):
        for column in range(box[2], box[3]):
            z, bare = own[row, column], WALL
            glow = lit[row, column]
            if left[row, column] > 0:
                over = plane[0] + plane[1] * (column + 0.5) + plane[2] * (row + 0.5)
                if over > z:
                    z, bare, glow = over, SURFACE + number, bright
            if z > depth[row, column]:
                depth[row, column] = z
                shade[row, column] = glow
                kind[row, column] = bare
            own[row, column] = -3.0e38
            left[row, column] = 0


@compiled
def fill_sheet(corners: Buffer, tone: Buffer, depth: Buffer, rgb: Buffer) -> None:
    """Paint triangles `corners` (m, 3, 3), each of one colour `tone` (m, 3), nearest first."""
    height, width = depth.shape
    for t in range(corners.shape[0]):
        ax, ay, az = corners[t, 0, 0], corners[t, 0, 1], corners[t, 0, 2]
        bx, by, bz = corners[t, 1, 0], corners[t, 1, 1], corners[t, 1, 2]
        cx, cy, cz = corners[t, 2, 0], corners[t, 2, 1], corners[t, 2, 2]
        double = (bx - ax) * (cy - ay) - (by - ay) * (cx - ax)
        if double == 0.0:
            continue
        share = 1.0 / double
        top = max(int(np.ceil(min(ay, by, cy) - 0.5)), 0)
        bottom = min(int(np.floor(max(ay, by, cy) - 0.5)), height - 1)
        for row in range(top, bottom + 1):
            y = row + 0.5
            first, last = row_of(corners, t, y, width)
            for column in range(first, last):
                x = column + 0.5
                u = ((cx - bx) * (y - by) - (cy - by) * (x - bx)) * share
                v = ((ax - cx) * (y - cy) - (ay - cy) * (x - cx)) * share
                z = u * az + v * bz + (1.0 - u - v) * cz
                if z > depth[row, column]:
                    depth[row, column] = z
                    for k in range(3):
                        rgb[row, column, k] = tone[t, k]


@compiled
def is_waterline(kind: Buffer, row: int, column: int) -> bool:
    """Whether a surface ends within two samples."""
    here = kind[row, column]
    if here < SURFACE:
        return False
    height, width = kind.shape
    for i, j in ((row - 2, column), (row + 2, column), (row, column - 2), (row, column + 2)):
        if i < 0 or j < 0 or i >= height or j >= width or kind[i, j] != here:
            return True
    return False


@compiled
def _cover(here: Buffer, picture: Buffer, i: int, j: int, strong: float) -> None:
    """Lay a sample of a picture over a colour, so strong; a view of it would cost four times."""
    for k in range(3):
        here[k] += strong * (picture[i, j, k] - here[k])


@compiled
def is_still(
    row: int,
    column: int,
    fine: int,
    solid_depth: Buffer,
    kind: Buffer,
    ink: Buffer,
    mark: Buffer,
) -> bool:
    """Whether an element of the picture holds nothing that moves."""
    for i in range(row * fine, (row + 1) * fine):
        for j in range(column * fine, (column + 1) * fine):
            if kind[i, j] or ink[i, j] or mark[i, j] or solid_depth[i, j] > -1.0e38:
                return False
    return True


@compiled
def _dye(
    oil: Buffer, kind: Buffer, i: int, j: int, shade: float, colours: Buffer, clear: Buffer
) -> float:
    """The oil's colour at a sample into `oil`, and how strong it covers what is behind."""
    line = is_waterline(kind, i, j)
    tone = 2 if line else (1 if kind[i, j] >= SURFACE else 0)
    glow = 1.0 if line else shade
    for k in range(3):
        oil[k] = min(255.0, colours[tone, k] * glow)
    return 1.0 if line else clear[2] if tone == 1 else clear[1]


@compiled
def mix(
    back: Buffer,
    sheet_depth: Buffer,
    sheet: Buffer,
    solid_depth: Buffer,
    solid: Buffer,
    depth: Buffer,
    shade: Buffer,
    kind: Buffer,
    colours: Buffer,
    clear: Buffer,
    ink: Buffer,
    mark: Buffer,
    mark_colour: Buffer,
    fine: int,
    still: Buffer,
    out: Buffer,
) -> None:
    """Mix pan, oil, sheets and solids into `out`, each element the mean of `fine` x `fine`.

    `colours` are those of oil's wall, surface and waterline; `clear` how strong sheet, wall and
    surface cover what is behind them. `ink` darkens; `mark` lies over everything. Where nothing
    moves, the element is that of `still`, an earlier `out` of the empty pan; it may be empty.
    """
    samples = 1.0 / float(fine * fine)
    total, here, oil = np.zeros(3), np.zeros(3), np.zeros(3)
    for row in range(out.shape[0]):
        for column in range(out.shape[1]):
            if still.shape[0] and is_still(row, column, fine, solid_depth, kind, ink, mark):
                for k in range(3):
                    out[row, column, k] = still[row, column, k]
                continue
            total[:] = 0.5
            for i in range(row * fine, (row + 1) * fine):
                for j in range(column * fine, (column + 1) * fine):
                    near, wet, leaf = solid_depth[i, j], depth[i, j], sheet_depth[i, j]
                    strong = 0.0
                    if kind[i, j] >= WALL:
                        strong = _dye(oil, kind, i, j, shade[i, j], colours, clear)
                    _cover(here, back, i, j, 1.0)
                    for turn in range(2):  # what is behind a solid, then what is before it
                        if turn == 1 and near > -1.0e38:
                            _cover(here, solid, i, j, 1.0)
                        sheet_now = leaf > -1.0e38 and (leaf > near) == (turn == 1)
                        oil_now = kind[i, j] >= WALL and (wet > near) == (turn == 1)
                        if sheet_now and not (oil_now and leaf > wet):
                            _cover(here, sheet, i, j, clear[0])
                        if oil_now:
                            for k in range(3):
                                here[k] += strong * (oil[k] - here[k])
                        if sheet_now and oil_now and leaf > wet:
                            _cover(here, sheet, i, j, clear[0])
                    if mark[i, j]:
                        for k in range(3):
                            here[k] = mark_colour[k]
                    dark = 0.42 if ink[i, j] else 1.0
                    for k in range(3):
                        total[k] += dark * here[k] * samples
            for k in range(3):
                out[row, column, k] = min(255.0, total[k])


@compiled
def indexed(pixels: Buffer, table: Buffer, out: Buffer) -> None:
    """Number of the nearest colour of a palette, by `table` over the upper five bits of each."""
    for row in range(pixels.shape[0]):
        for column in range(pixels.shape[1]):
            red, green, blue = pixels[row, column]
            out[row, column] = table[red >> 3, green >> 3, blue >> 3]
