# SPDX-License-Identifier: Apache-2.0
"""Where the words of a picture are, measured with the font that the report ships."""

import re
import xml.etree.ElementTree as ET
from dataclasses import dataclass

from sumpwright.report.lettering import text_width

SVG = "{http://www.w3.org/2000/svg}"
ABOVE, UNDER = 0.74, 0.22
"""Heights of capitals and of descenders over the size of the letters, from the font's tables."""


@dataclass(frozen=True)
class Box:
    """Words and the rectangle they cover."""

    words: str
    left: float
    top: float
    right: float
    bottom: float

    def over(self, other: "Box") -> bool:
        """Whether the two cover common ground."""
        across = min(self.right, other.right) - max(self.left, other.left)
        down = min(self.bottom, other.bottom) - max(self.top, other.top)
        return across > 0.0 and down > 0.0


def boxes_of(svg: bytes) -> tuple[list[Box], tuple[float, float]]:
    """The box of every text, a halo and its words taken as one, and the picture's size."""
    root = ET.fromstring(svg)
    _, _, width, height = map(float, root.attrib["viewBox"].split())
    found = dict.fromkeys(map(_box, root.iter(f"{SVG}text")))
    return list(found), (width, height)


def _box(node: ET.Element) -> Box:
    words, size = node.text or "", float(node.attrib["font-size"])
    x, y = float(node.attrib["x"]), float(node.attrib["y"])
    wide = text_width(words, size, node.attrib.get("font-weight") == "bold")
    left = x - wide * {"start": 0.0, "middle": 0.5, "end": 1.0}[node.attrib["text-anchor"]]
    turn = re.match(r"rotate\(-90 ", node.attrib.get("transform", ""))
    if turn:  # a quarter turn against the clock: what was to the right is up
        low = y - (left - x)
        return Box(words, x - ABOVE * size, low - wide, x + UNDER * size, low)
    assert "transform" not in node.attrib
    return Box(words, left, y - ABOVE * size, left + wide, y + UNDER * size)
