# SPDX-License-Identifier: Apache-2.0
"""The bands over and under the film's picture: name and clock, the push on the car, the air."""

from functools import cache
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

from sumpwright.report import palette
from sumpwright.report.film import Film
from sumpwright.report.film_words import FrameWords
from sumpwright.report.lettering import FONT_FOLDER, fitted
from sumpwright.report.palette import rgb
from sumpwright.report.shade import Pixels
from sumpwright.report.text import plain
from sumpwright.studies.motion_result import DriveResult

if TYPE_CHECKING:
    from PIL.Image import Image
    from PIL.ImageDraw import ImageDraw
    from PIL.ImageFont import FreeTypeFont

OVER, UNDER, EDGE = 52, 92, 12
DIAL = 76
SMOOTH = 4
"""Times as large as the dial is drawn, and then made smaller."""


@cache
def _font(size: int, bold: bool) -> "FreeTypeFont":
    from PIL import ImageFont

    name = f"SumpwrightSans-{'Bold' if bold else 'Regular'}.ttf"
    return ImageFont.truetype(str(FONT_FOLDER / name), size)


def titled(
    picture: Pixels, result: DriveResult, film: Film, number: int, words: FrameWords
) -> Pixels:
    """(h + bands, w, 3) a frame with its words."""
    from PIL import Image, ImageDraw

    high, wide = picture.shape[:2]
    canvas = np.full((OVER + high + UNDER, wide, 3), 255, dtype=np.uint8)
    canvas[OVER : OVER + high] = picture
    image = Image.fromarray(canvas)
    draw = ImageDraw.Draw(image)
    _over(draw, wide, result, film, words)
    low = OVER + high
    draw.line([(0, low), (wide, low)], fill=rgb(palette.RULE))
    image.paste(dial(film, number), (EDGE, low + (UNDER - DIAL) // 2))
    _under(draw, wide, low, words)
    return np.asarray(image)


def _over(draw: "ImageDraw", wide: int, result: DriveResult, film: Film, words: FrameWords) -> None:
    ink, muted = rgb(palette.INK), rgb(palette.MUTED)
    room = wide - 2.0 * EDGE - 110.0
    name = fitted(plain(result.manoeuvre), 19.0, room, True)
    draw.text((EDGE, 7), name, fill=ink, font=_font(19, True))
    below = f"{plain(result.job)}, revision {plain(result.revision)}"
    draw.text((EDGE, 31), fitted(below, 13.0, room), fill=muted, font=_font(13, False))
    draw.text((wide - EDGE, 5), words.clock, fill=ink, font=_font(22, True), anchor="ra")
    pace = _font(13, False)
    draw.text((wide - EDGE, 31), film.pace_words, fill=muted, font=pace, anchor="ra")


def _under(draw: "ImageDraw", wide: int, low: int, words: FrameWords) -> None:
    left, ink = EDGE + DIAL + 16, rgb(palette.INK)
    part = f"{words.part}: " if words.part else ""
    room = wide - left - EDGE
    push = fitted(f"{part}car pushed {words.push}" if words.push != "steady" else f"{part}steady",
                  15.0, room)  # fmt: skip
    draw.text((left, low + 13), push, fill=ink, font=_font(15, False))
    cover = f"over the pickup, less draw-down: {words.cover}"
    draw.text((left, low + 36), fitted(cover, 15.0, room), fill=ink, font=_font(15, False))
    if not words.air:
        muted = rgb(palette.MUTED)
        draw.text((left, low + 60), "no air at the pickup", fill=muted, font=_font(15, False))
        return
    said, bold = f"AIR AT THE PICKUP  {words.air}", _font(15, True)
    draw.rectangle([left, low + 58, left + bold.getlength(said) + 14, low + 82],
                   fill=rgb(palette.AIR))  # fmt: skip
    draw.text((left + 7, low + 62), said, fill=(255, 255, 255), font=bold)


def dial(film: Film, number: int) -> "Image":
    """The car from above, nose up, with an arrow the way it is pushed; the ring is the most g."""
    from PIL import Image, ImageDraw

    size = DIAL * SMOOTH
    image = Image.new("RGB", (size, size), rgb(palette.PAPER))
    draw = ImageDraw.Draw(image)
    middle, radius = 0.5 * size, 0.46 * size
    ring = [middle - radius, middle - radius, middle + radius, middle + radius]
    draw.ellipse(ring, fill=rgb(palette.FAINT), outline=rgb(palette.MUTED), width=SMOOTH)
    nose = np.array([[0, -10], [5, -2], [5, 9], [-5, 9], [-5, -2]]) * 0.9 * SMOOTH + middle
    draw.polygon([tuple(p) for p in nose.tolist()], fill=rgb(palette.PAPER),
                 outline=rgb(palette.INK), width=SMOOTH)  # fmt: skip
    arrow = arrow_shape(film, number)
    if arrow is not None:
        shape = middle + radius * arrow
        draw.polygon([tuple(p) for p in shape.tolist()], fill=rgb(palette.NEW))
    return image.resize((DIAL, DIAL), Image.Resampling.BOX)


def arrow_shape(film: Film, number: int) -> NDArray[np.float64] | None:
    """(7, 2) an arrow from the middle of a dial of radius 1, y down; None for next to no push."""
    most = max(float(np.hypot(film.accel[:, 0], film.accel[:, 1]).max()), 0.2)
    push = np.array([-film.accel[number, 1], -film.accel[number, 0]]) / most
    length = float(np.linalg.norm(push))
    if length < 0.06:
        return None
    along = push / length
    side = np.array([-along[1], along[0]])
    neck = max(length - 0.30, 0.0)
    head, half = 0.17, 0.065
    return np.array(
        [half * side, neck * along + half * side, neck * along + head * side, push,
         neck * along - head * side, neck * along - half * side, -half * side]
    )  # fmt: skip
