# SPDX-License-Identifier: Apache-2.0
"""A sheet of drawing as SVG and, all sheets together, as PDF in true size."""

import json
from collections.abc import Callable, Sequence
from datetime import datetime
from pathlib import Path as FilePath

import numpy as np

from sumpwright.report import palette
from sumpwright.report.drawing import PLAIN, WIDTHS, Floats, Page, Path, Ring, Size, Words
from sumpwright.report.drawing_size import HEAD, LETTER, extension, layout
from sumpwright.report.lettering import FONT_FOLDER
from sumpwright.report.svg import Drawing

UNIT = 96.0 / 25.4
"""Of the picture in a millimetre."""
THIN = WIDTHS["DIM"]
Placed = Callable[[object], Floats]
"""From the paper to the picture"""


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


def _size(drawing: Drawing, page: Page, item: Size, at: Placed) -> None:
    """Extension lines, dimension line with its heads, and the figure on it."""
    text = page.size_text(item)
    how = layout(item, text)
    k = 1 if item.upright else 0
    for spot in (item.a, item.b):
        end = how.low if abs(how.low[k] - spot[k]) < abs(how.high[k] - spot[k]) else how.high
        line = extension(spot, end)
        if line is not None:
            drawing.line(at(line[0]), at(line[1]), width=UNIT * THIN)
    start, stop = how.low - how.out * how.along, how.high + how.out * how.along
    drawing.line(at(start), at(stop), width=UNIT * THIN)
    for end, way in ((how.low, 1.0), (how.high, -1.0)):
        _head(drawing, at, end, way * (-1.0 if how.tight else 1.0) * how.along)
    drawing.text(
        at(how.text_at),
        text,
        size=UNIT * LETTER * PLAIN,
        anchor="start" if how.tight else "middle",
        halo=True,
        turn=-90.0 if item.upright else 0.0,
    )


def _head(drawing: Drawing, at: Placed, tip: Floats, along: Floats) -> None:
    side = np.array([-along[1], along[0]])
    back = tip + HEAD * along
    drawing.path([at([tip, back + 0.35 * side, back - 0.35 * side])], fill=palette.INK)
