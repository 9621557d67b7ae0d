# SPDX-License-Identifier: Apache-2.0
"""Few colours for all frames of a film: small files, and no colour that comes and goes."""

from collections.abc import Sequence
from dataclasses import dataclass
from io import BytesIO
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

from sumpwright.report import palette
from sumpwright.report.film_kernel import indexed
from sumpwright.report.palette import rgb
from sumpwright.report.shade import Pixels

if TYPE_CHECKING:
    from PIL.Image import Image

COLOURS = 96
KEPT = (
    palette.PAPER, palette.INK, palette.MUTED, palette.RULE, palette.FAINT, palette.NEW,
    palette.OIL, palette.OIL_LINE,
)  # fmt: skip
"""Colours of words and marks, which are in whatever the frames hold."""
SMALL = (palette.LINES[2], palette.AIR)
"""Of doors and of a pickup that takes air: too few elements to win a place by their number."""
SHADES = ((1.05, 0.0), (0.85, 0.0), (0.95, 0.35), (0.95, 0.62), (0.95, 0.74))
"""How bright these are painted, and how much oil lies over them."""


@dataclass(frozen=True, eq=False)
class Colours:
    """A palette, and which of it is nearest to any colour."""

    shades: Pixels
    """(n, 3)"""
    table: Pixels
    """(32, 32, 32) numbers of the nearest by the upper five bits"""

    def numbers(self, pixels: Pixels) -> Pixels:
        """(h, w) the frame in these colours, by number; 0 is none of them."""
        out = np.zeros(pixels.shape[:2], dtype=np.uint8)
        indexed(pixels, self.table, out)
        return out

    def image(self, numbered: Pixels) -> "Image":
        """A numbered frame as a picture; 0 lets through what is under it."""
        from PIL import Image

        image = Image.fromarray(numbered)
        image.putpalette(self.shades.tobytes())
        return image


def change_png(colours: Colours, numbered: Pixels, under: Pixels) -> bytes:
    """What a frame has other than the numbered picture `under` it, as a file."""
    file = BytesIO()
    changed = np.where(numbered == under, np.uint8(0), numbered)
    colours.image(changed).save(file, "PNG", compress_level=6, transparency=0)
    return file.getvalue()


def whole_png(colours: Colours, numbered: Pixels) -> bytes:
    """A frame as a file."""
    file = BytesIO()
    colours.image(numbered).save(file, "PNG", compress_level=9)
    return file.getvalue()


def colours_of(frames: Sequence[Pixels]) -> Colours:
    """The colours that serve these frames best, white, ink and red among them."""
    from PIL import Image

    kept = np.concatenate([[rgb(c) for c in KEPT], _small_shades()]).astype(np.uint8)
    seen = Image.fromarray(np.concatenate(list(frames), axis=0))
    cut = seen.quantize(COLOURS - len(kept), method=Image.Quantize.MEDIANCUT)
    found = np.array(cut.getpalette(), dtype=np.uint8).reshape(-1, 3)
    shades = np.unique(np.concatenate([kept, found[: COLOURS - len(kept)]]), axis=0)
    steps = np.arange(32) * 255.0 / 31.0
    cube = np.stack(np.meshgrid(steps, steps, steps, indexing="ij"), axis=-1).reshape(-1, 3)
    far = (shades.astype(float) ** 2).sum(axis=1) - 2.0 * cube @ shades.T.astype(float)
    table = (1 + far.argmin(axis=1)).astype(np.uint8).reshape(32, 32, 32)
    return Colours(np.concatenate([[[255, 255, 255]], shades]).astype(np.uint8), table)


def _small_shades() -> NDArray[np.float64]:
    oil = np.array(rgb(palette.OIL), dtype=float)
    rows = [
        np.minimum(bright * np.array(rgb(colour)), 255.0) * (1.0 - over) + oil * over
        for colour in SMALL
        for bright, over in SHADES
    ]
    return np.array([*rows, rgb(palette.AIR)])
