# SPDX-License-Identifier: Apache-2.0
"""Hazard stripes: what is closer than asked for, or in the way."""

import numpy as np

from sumpwright.report import palette
from sumpwright.report.svg import Drawing


def draw_hazard(drawing: Drawing, x: float, y: float, wide: float, high: float) -> None:
    """A framed box of stripes."""
    drawing.clip(x, y, wide, high)
    draw_stripes(drawing, x, y, wide, high)
    drawing.unclip()
    drawing.box(x, y, wide, high, stroke=palette.INK, line=0.8)


def draw_stripes(drawing: Drawing, x: float, y: float, wide: float, high: float) -> None:
    """Stripes that cover a box and run over its sides: to be clipped."""
    light, dark = palette.TOO_CLOSE
    drawing.box(x, y, wide, high, fill=light)
    bands = [
        [[at, y + high], [at + 6.0, y + high], [at + 6.0 + high, y], [at + high, y]]
        for at in np.arange(x - high, x + wide, 12.0)
    ]
    drawing.path(bands, fill=dark)
