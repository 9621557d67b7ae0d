# SPDX-License-Identifier: Apache-2.0
"""A sheet of drawing as SVG and, all sheets together, as PDF in true size."""

import json
from collections.abc import Sequence
from datetime import datetime
from pathlib import Path as FilePath

import numpy as np

from sumpwright.report import palette
from sumpwright.report.drawing import PLAIN, Floats, Page, Path, Ring, Size, Words
from sumpwright.report.lettering import FONT_FOLDER
from sumpwright.report.svg import Drawing

UNIT = 96.0 / 25.4
"""Of the picture in a millimetre."""
LETTER = 1.38
"""Size of letters over the height of a capital."""
WIDTHS = {"OUTLINE": 0.5, "METAL": 0.35, "FINE": 0.18, "CENTRE": 0.18, "FRAME": 0.5}
HEAD = 2.2
"""mm, an arrow's head"""


def page_svg(page: Page) -> bytes:
    """The sheet, at 1/96 in a unit: printed at its size, it is to scale."""
    says = f"{page.title}, scale 1 to {page.scale:g}"
    drawing = Drawing(UNIT * page.width, UNIT * page.height, key=page.key, says=says)
    for kind in (Path, Ring, Size, Words):
        for item in page.items:
            if isinstance(item, kind):
                _draw(drawing, page, item)
    return drawing.svg()


def pages_pdf(pages: Sequence[Page], *, made: datetime) -> bytes:
    """All sheets, each on paper of its own size."""
    import typst

    said = [{"key": f"p{k}", "width": p.width, "height": p.height} for k, p in enumerate(pages)]
    inputs = {f"p{k}": page_svg(p).decode("utf-8") for k, p in enumerate(pages)}
    pdf = typst.compile(
        (FilePath(__file__).parent / "drawing.typ").read_bytes(),
        format="pdf",
        font_paths=typst.Fonts(font_paths=[FONT_FOLDER]),
        sys_inputs={"pages": json.dumps(said), **inputs},
        timestamp=int(made.timestamp()),
    )
    return bytes(pdf)


def _draw(drawing: Drawing, page: Page, item: object) -> None:
    def at(points: object) -> Floats:
        return np.asarray(np.asarray(points, dtype=float) * [1.0, -1.0] + [0.0, page.height]) * UNIT

    if isinstance(item, Path):
        fill = palette.STEEL if item.layer == "METAL" else "none"
        dash = (12.0, 3.0, 3.0, 3.0) if item.layer == "CENTRE" else ()
        loops = [at(loop) for loop in item.loops]
        wide = UNIT * WIDTHS[item.layer]
        drawing.path(
            loops, fill=fill, stroke=palette.INK, width=wide, dash=dash, closed=item.closed
        )
    elif isinstance(item, Ring):
        wide = UNIT * WIDTHS[item.layer]
        drawing.dot(at(item.at), UNIT * item.radius, stroke=palette.INK, width=wide)
    elif isinstance(item, Words):
        size = UNIT * LETTER * item.height
        drawing.text(at(item.at), item.text, size=size, anchor=item.anchor, bold=item.bold)
    elif isinstance(item, Size):
        _size(drawing, page, item, at)


def _size(drawing: Drawing, page: Page, item: Size, at: object) -> None:
    """Extension lines, dimension line with its heads, and the figure on it."""
    place = at if callable(at) else None
    assert place is not None
    k = 1 if item.upright else 0
    ends = [np.array(item.away, dtype=float) for _ in range(2)]
    for end, spot in zip(ends, (item.a, item.b), strict=True):
        end[k] = spot[k]
        gap = end - np.array(spot)
        far = float(np.linalg.norm(gap))
        if far > 1.0:
            start, stop = np.array(spot) + gap / far, end + 1.5 * gap / far
            drawing.line(place(start), place(stop), width=UNIT * 0.18)
    low, high = sorted(ends, key=lambda e: float(e[k]))
    along = np.array([0.0, 1.0]) if item.upright else np.array([1.0, 0.0])
    tight = item.paper < 4.0 * HEAD
    out = 3.0 * HEAD if tight else 0.0
    drawing.line(place(low - out * along), place(high + out * along), width=UNIT * 0.18)
    for end, way in ((low, 1.0), (high, -1.0)):
        _head(drawing, place, end, way * (-1.0 if tight else 1.0) * along)
    text = page.size_text(item)
    middle = 0.5 * (low + high) if not tight else high + (out + 1.0) * along
    side = np.array([-1.0, 0.0]) if item.upright else np.array([0.0, 1.0])
    drawing.text(
        place(middle + 1.0 * side),
        text,
        size=UNIT * LETTER * PLAIN,
        anchor="start" if tight else "middle",
        halo=True,
        turn=-90.0 if item.upright else 0.0,
    )


def _head(drawing: Drawing, place: object, tip: Floats, along: Floats) -> None:
    assert callable(place)
    side = np.array([-along[1], along[0]])
    back = tip + HEAD * along
    drawing.path([place([tip, back + 0.35 * side, back - 0.35 * side])], fill=palette.INK)
