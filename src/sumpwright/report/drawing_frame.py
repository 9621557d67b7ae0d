# SPDX-License-Identifier: Apache-2.0
"""The frame of a drawing and its title block."""

from collections.abc import Iterable
from dataclasses import dataclass

from sumpwright.report.drawing import LARGE, PLAIN, SMALL, Page, Words, path
from sumpwright.report.drawing_size import LETTER
from sumpwright.report.lettering import fitted, wrapped
from sumpwright.report.text import plain

EDGE = 10.0
BLOCK = (190.0, 40.0)
ALL_IN = {"metric": "mm", "us": "inches"}
EDGES = {"metric": "0.3 mm", "us": "0.012 in"}
SPLIT = 122.0
"""mm of the block's left part: what it is; right of it how it is drawn."""


@dataclass(frozen=True)
class Title:
    """What every sheet says of the part."""

    job: str
    revision: str
    part: str
    made: str
    material: str
    caution: str


NOT_TRUE = "DO NOT SCALE: dimensions and table hold, not the paper."
TABLE = "Belongs to the sheet before it."
TRUE = "TRUE SIZE only where both bars measure true on the paper."


def framed(page: Page, title: Title, number: int, count: int) -> Page:
    """The sheet with frame and title block; `page` itself, changed."""
    wide, tall = page.width, page.height
    low, right = EDGE, wide - EDGE
    page.add(path([_box(EDGE, EDGE, right, tall - EDGE)], "FRAME"))
    left, top = right - BLOCK[0], low + BLOCK[1]
    middle = left + SPLIT
    page.add(path([_box(left, low, right, top), _box(middle, low, right, top)], "FRAME"))
    scale = f"scale 1:{page.scale:g}" if page.true else "no scale"
    rule = TABLE if not page.true else TRUE if page.scale == 1.0 else NOT_TRUE
    words = [
        (page.title, LARGE, True),
        (f"{title.job}, revision {title.revision}", PLAIN, False),
        (" · ".join(w for w in (f"part {title.part}", title.material) if w), SMALL, False),
        (f"Break sharp edges {EDGES[page.units]}. General tolerances ISO 2768-m.", SMALL, False),
        (title.caution, SMALL, False),
        (rule, SMALL, True),
    ]
    y = top - 7.0
    for text, height, bold in words:
        shown = fitted(plain(text), LETTER * height, SPLIT - 4.0, bold)
        page.add(Words((left + 2.0, y), shown, height, bold=bold))
        y -= height + 2.7
    side = [
        (scale, LARGE, True),
        (f"all in {ALL_IN[page.units]}", PLAIN, True),
        (f"drawn {title.made}", PLAIN, False),
        (f"sheet {number} of {count}", PLAIN, False),
        ("checked by", SMALL, False),
    ]
    y = top - 7.0
    for text, height, bold in side:
        page.add(Words((middle + 2.5, y), text, height, bold=bold))
        y -= height + 3.0
    page.add(path([[(middle + 19.0, low + 3.0), (right - 3.0, low + 3.0)]], "FINE", closed=False))
    return page


def wrapped_notes(notes: Iterable[str], wide: float = 196.0) -> list[str]:
    """Notes in lines that end short of the title block."""
    return [line for note in notes for line in wrapped(note, LETTER * SMALL, wide)]


def _box(x0: float, y0: float, x1: float, y1: float) -> list[tuple[float, float]]:
    return [(x0, y0), (x1, y0), (x1, y1), (x0, y1)]
