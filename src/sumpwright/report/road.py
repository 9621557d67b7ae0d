# SPDX-License-Identifier: Apache-2.0
"""The road below the bodies, in squares, with their shadows."""

import numpy as np
from numpy.typing import NDArray

from sumpwright.geometry.mesh import Mesh
from sumpwright.report.shade import Camera, Pixels, blank, lay_flat

Floats = NDArray[np.float64]

FADE = 0.07
"""Share of the picture over which the road fades into the paper."""


def road(frame: Floats, meshes: list[Mesh], view: Camera, square: float) -> Pixels:
    """The road at z = 0 below `frame` (2, 3) [m], with shadows straight below the meshes."""
    paper = blank(view)
    low, high = frame
    low, high = (np.floor(low / square) - 1.0) * square, (np.ceil(high / square) + 1.0) * square
    x, y = np.array([low[0], high[0]]), np.array([low[1], high[1]])
    quad = np.array([[x[0], y[0], 0], [x[1], y[0], 0], [x[1], y[1], 0], [x[0], y[1], 0]])
    lay_flat(paper, view, quad[np.array([[0, 1, 2], [0, 2, 3]])], "#f3f5f7")
    for mesh in meshes:
        upward = mesh.corners[mesh.area_vectors[:, 2] > 0.0]  # the rest falls on the same ground
        inside = np.clip(upward, [x[0], y[0], 0.0], [x[1], y[1], 0.0])
        lay_flat(paper, view, inside, "#d9dee4")
    _squares(paper, view, x, y, square)
    _fade(paper)
    return paper


def _fade(paper: Pixels) -> None:
    """Let the road end softly at the edges of the picture, which are not edges of the road."""
    for across in (0, 1):
        pixels = np.moveaxis(paper, across, 0)
        count = max(int(FADE * len(pixels)), 1)
        for edge in (pixels[:count], pixels[: -count - 1 : -1]):
            share = np.linspace(0, 256, count, dtype=np.uint16)[:, None, None]
            edge[:] = 255 - (((255 - edge) * share) >> 8)


def _squares(paper: Pixels, view: Camera, x: Floats, y: Floats, square: float) -> None:
    """Strips 2 mm wide."""
    strips = []
    for at in np.arange(x[0], x[1] + 0.5 * square, square):
        strips.append([[at, y[0]], [at + 0.002, y[0]], [at + 0.002, y[1]], [at, y[1]]])
    for at in np.arange(y[0], y[1] + 0.5 * square, square):
        strips.append([[x[0], at], [x[1], at], [x[1], at + 0.002], [x[0], at + 0.002]])
    corners = np.concatenate([np.array(strips), np.zeros((len(strips), 4, 1))], axis=2)
    lay_flat(paper, view, corners[:, [0, 1, 2, 0, 2, 3]].reshape(-1, 3, 3), "#cdd4db")
