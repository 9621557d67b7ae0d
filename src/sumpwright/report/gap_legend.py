# SPDX-License-Identifier: Apache-2.0
"""What the colours and the stripes on the pan mean, in the person's unit."""

import numpy as np
from numpy.typing import NDArray

from sumpwright.report import palette
from sumpwright.report.hazard import draw_hazard
from sumpwright.report.svg import Drawing
from sumpwright.studies.scene import GapField
from sumpwright.units import shown, unit_name

Floats = NDArray[np.float64]


def gap_steps(field: GapField) -> Floats:
    """Band edges [m]: multiples of the largest gap asked for, or of 10 mm where none is."""
    asked = field.needed[~np.isnan(field.needed)]
    unit = float(asked.max()) if len(asked) and asked.max() > 0.0 else 0.010
    return np.array(palette.GAP_STEPS) * unit


def draw_legend(drawing: Drawing, field: GapField, units: str, top: float) -> None:
    """The stripes and the bands, with the gaps between them in the person's unit."""
    steps = gap_steps(field)
    y, high = top + 30.0, 18.0
    wide = 112.0
    texts = [
        shown(s, "length", units).removesuffix(f" {unit_name('length', units)}") for s in steps
    ]
    words = f"Gap from the pan's skin to the nearest obstacle [{unit_name('length', units)}]"
    drawing.text((8.0, top + 18.0), f"{words}, {field.says}", size=13, fill=palette.MUTED)
    if not np.isnan(field.needed).all():
        draw_hazard(drawing, 8.0, y, 150.0, high)
        drawing.text((8.0, y + high + 17.0), "closer than asked for", size=13, bold=True)
    left = 190.0
    for k, colour in enumerate(palette.GAP_BANDS):
        drawing.box(left + k * wide, y, wide, high, fill=colour, stroke=palette.MUTED, line=0.6)
    for k, text in enumerate(texts):
        x = left + (k + 1) * wide
        drawing.line((x, y), (x, y + high + 5.0), stroke=palette.INK)
        drawing.text((x, y + high + 18.0), text, size=13, anchor="middle")
    drawing.text((left, y + high + 18.0), "enough", size=13)
    drawing.text((left + 5 * wide, y + high + 18.0), "plenty", size=13, anchor="end")
