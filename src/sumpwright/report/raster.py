# SPDX-License-Identifier: Apache-2.0
"""Compiled painters of the shaded pictures: triangles, lines and the mixing of layers.

Places are in picture elements, x right, y down, z toward the viewer in the same unit. An element
belongs to a triangle where its middle is inside; the nearest z wins.
"""

from typing import Any

import numpy as np
from numpy.typing import NDArray

from sumpwright.geometry.kernel import compiled

Buffer = NDArray[Any]

NOTHING = np.float32(-3.0e38)
"""Depth where no triangle was painted."""


@compiled
def row_span(
    ax: float, ay: float, bx: float, by: float, cx: float, cy: float, y: float, width: int
) -> tuple[int, int]:
    """First and last element of a row that a triangle can cover, one to spare at each end."""
    low, high = 3.0e38, -3.0e38
    for k in range(3):
        if k == 0:
            x0, y0, x1, y1 = ax, ay, bx, by
        elif k == 1:
            x0, y0, x1, y1 = bx, by, cx, cy
        else:
            x0, y0, x1, y1 = cx, cy, ax, ay
        if (y0 <= y) == (y1 <= y):
            continue
        x = x0 + (y - y0) / (y1 - y0) * (x1 - x0)
        low, high = min(low, x), max(high, x)
    if low > high:
        return 0, -1
    low, high = max(low, -1.0e6), min(high, 1.0e6)  # keeps the whole numbers small
    return max(int(low) - 1, 0), min(int(high) + 1, width - 1)


@compiled
def fill_triangles(
    corners: Buffer,
    light: Buffer,
    gap: Buffer,
    short: Buffer,
    steps: Buffer,
    colours: Buffer,
    stripe: int,
    depth: Buffer,
    rgb: Buffer,
) -> None:
    """Paint triangles into `depth` (h, w) and `rgb` (h, w, 3).

    `corners` (m, 3, 3), `light`, `gap` and `short` (m, 3) are mixed linearly over a triangle. The
    colour is `colours[k]` where `gap` is in the k-th band between `steps`; the last two rows of
    `colours` are diagonal stripes `stripe` elements wide, painted where `short` is below zero.
    """
    height, width = depth.shape
    count = len(steps)
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
            left, right = row_span(ax, ay, bx, by, cx, cy, y, width)
            for column in range(left, right + 1):
                x = column + 0.5
                u = ((cx - bx) * (y - by) - (cy - by) * (x - bx)) * share
                v = ((ax - cx) * (y - cy) - (ay - cy) * (x - cx)) * share
                w = 1.0 - u - v
                if u < 0.0 or v < 0.0 or w < 0.0:
                    continue
                z = u * az + v * bz + w * cz
                if z <= depth[row, column]:
                    continue
                depth[row, column] = z
                bright = u * light[t, 0] + v * light[t, 1] + w * light[t, 2]
                if u * short[t, 0] + v * short[t, 1] + w * short[t, 2] < 0.0:
                    band = count + 1 + ((row + column) // stripe) % 2
                else:
                    here = u * gap[t, 0] + v * gap[t, 1] + w * gap[t, 2]
                    band = 0
                    while band < count and here >= steps[band]:
                        band += 1
                for k in range(3):
                    rgb[row, column, k] = min(255.0, colours[band, k] * bright + 0.5)


@compiled
def fill_flat(corners: Buffer, tone: Buffer, rgb: Buffer) -> None:
    """Paint triangles `corners` (m, 3, 2) in one colour, over whatever is there."""
    height, width = rgb.shape[0], rgb.shape[1]
    for t in range(corners.shape[0]):
        ax, ay = corners[t, 0, 0], corners[t, 0, 1]
        bx, by = corners[t, 1, 0], corners[t, 1, 1]
        cx, cy = corners[t, 2, 0], corners[t, 2, 1]
        double = (bx - ax) * (cy - ay) - (by - ay) * (cx - ax)
        if double == 0.0:
            continue
        share = 1.0 / double
        top = max(int(np.ceil(min(ay, by, cy) - 0.5)), 0)
        bottom = min(int(np.floor(max(ay, by, cy) - 0.5)), height - 1)
        for row in range(top, bottom + 1):
            y = row + 0.5
            left, right = row_span(ax, ay, bx, by, cx, cy, y, width)
            for column in range(left, right + 1):
                x = column + 0.5
                u = ((cx - bx) * (y - by) - (cy - by) * (x - bx)) * share
                v = ((ax - cx) * (y - cy) - (ay - cy) * (x - cx)) * share
                if u >= 0.0 and v >= 0.0 and u + v <= 1.0:
                    for k in range(3):
                        rgb[row, column, k] = tone[k]


@compiled
def trace_lines(ends: Buffer, depth: Buffer, bias: float, thick: int, ink: Buffer) -> None:
    """Mark lines `ends` (n, 2, 3) in `ink` (h, w) where nothing is more than `bias` before them.

    A line is tested against the deepest of its own and the four next elements, so that the
    outline of a body is not hidden by the body itself.
    """
    height, width = depth.shape
    for e in range(ends.shape[0]):
        dx, dy = ends[e, 1, 0] - ends[e, 0, 0], ends[e, 1, 1] - ends[e, 0, 1]
        dz = ends[e, 1, 2] - ends[e, 0, 2]
        pieces = int(max(abs(dx), abs(dy))) + 1
        for k in range(pieces + 1):
            share = k / pieces
            column = int(ends[e, 0, 0] + share * dx)
            row = int(ends[e, 0, 1] + share * dy)
            if row < 1 or column < 1 or row >= height - 1 or column >= width - 1:
                continue
            near = min(depth[row, column], depth[row - 1, column], depth[row + 1, column])
            near = min(near, depth[row, column - 1], depth[row, column + 1])
            if ends[e, 0, 2] + share * dz + bias < near:
                continue
            for i in range(row - (thick - 1) // 2, row + thick // 2 + 1):
                for j in range(column - (thick - 1) // 2, column + thick // 2 + 1):
                    if 0 <= i < height and 0 <= j < width:
                        ink[i, j] = 1


@compiled
def develop(
    ground: Buffer,
    pan_depth: Buffer,
    pan: Buffer,
    pan_ink: Buffer,
    body_depth: Buffer,
    body: Buffer,
    body_ink: Buffer,
    ghost: float,
    fine: int,
    out: Buffer,
) -> None:
    """Mix the layers into `out`, each element the mean of `fine` x `fine` of theirs.

    A body in front of the pan is a ghost of that strength, so that the pan shows through it.
    """
    samples = 1.0 / float(fine * fine)
    for row in range(out.shape[0]):
        for column in range(out.shape[1]):
            red, green, blue = 0.0, 0.0, 0.0
            for i in range(row * fine, (row + 1) * fine):
                for j in range(column * fine, (column + 1) * fine):
                    near = pan_depth[i, j] > NOTHING
                    back = pan[i, j] if near else ground[i, j]
                    dark = 0.32 if pan_ink[i, j] else 1.0
                    over = 0.0
                    if body_depth[i, j] > pan_depth[i, j]:
                        over = ghost if near else 1.0
                    line = 0.45 if body_ink[i, j] else 1.0
                    keep = line * dark * (1.0 - over)
                    over *= line
                    red += keep * back[0] + over * body[i, j, 0]
                    green += keep * back[1] + over * body[i, j, 1]
                    blue += keep * back[2] + over * body[i, j, 2]
            out[row, column, 0] = red * samples + 0.5
            out[row, column, 1] = green * samples + 0.5
            out[row, column, 2] = blue * samples + 0.5


@compiled
def corner_normals(
    faces: Buffer, normals: Buffer, starts: Buffer, members: Buffer, crease: float
) -> Buffer:
    """(m, 3, 3) normal at each corner: the mean of the faces round it less than a crease away.

    `normals` (m, 3) are as long as the faces are large; `members[starts[v]:starts[v + 1]]` are
    the faces round vertex v; `crease` is the cosine of the crease angle.
    """
    out = np.zeros((faces.shape[0], 3, 3))
    sizes = np.zeros(faces.shape[0])
    for f in range(faces.shape[0]):
        x, y, z = normals[f, 0], normals[f, 1], normals[f, 2]
        sizes[f] = np.sqrt(x * x + y * y + z * z)
    for f in range(faces.shape[0]):
        for c in range(3):
            v = faces[f, c]
            for m in range(starts[v], starts[v + 1]):
                g = members[m]
                dot = 0.0
                for k in range(3):
                    dot += normals[f, k] * normals[g, k]
                if dot >= crease * sizes[f] * sizes[g]:
                    for k in range(3):
                        out[f, c, k] += normals[g, k]
            x, y, z = out[f, c, 0], out[f, c, 1], out[f, c, 2]
            size = np.sqrt(x * x + y * y + z * z)
            if size > 0.0:
                for k in range(3):
                    out[f, c, k] /= size
    return out
