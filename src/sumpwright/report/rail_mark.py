# SPDX-License-Identifier: Apache-2.0
"""What was looked at with every hole found marked, for a person to confirm: PNG or SVG."""

from io import BytesIO
from pathlib import Path

import numpy as np

from sumpwright.atomic import write_atomic, write_problem
from sumpwright.errors import InputError
from sumpwright.report import palette
from sumpwright.report.lettering import FONT_FOLDER
from sumpwright.report.rail_view import rail_view
from sumpwright.report.svg import Drawing
from sumpwright.studies.rail_result import RailResult
from sumpwright.studies.rail_scan import Found, FoundHole

LONGEST = 2400
"""Elements along the longer side of the marked picture."""
INK = {"sure": "#0b5f54", "fair": "#0a4f96", "doubtful": "#a02313"}
WIDE, EDGE = 960.0, 40.0


def write_marked(folder: Path, found: Found) -> Path:
    """The marked picture in out/rail/ of the job in `folder`."""
    name = "found.svg" if found.picture is None else "found.png"
    return _written(
        folder, name, marked_cut(found) if found.picture is None else marked_picture(found)
    )


def write_rail(folder: Path, result: RailResult) -> Path:
    """The picture of the pattern in out/rail/."""
    return _written(folder, "rail.svg", rail_view(result))


def marked_picture(found: Found) -> bytes:
    """PNG of the picture, grey, with ring, centre and name of every hole."""
    from PIL import Image, ImageDraw, ImageFont

    assert found.picture is not None
    grey = Image.fromarray(np.asarray(255.0 * found.picture, dtype=np.uint8))
    times = min(1.0, LONGEST / max(grey.size))
    size = (max(round(grey.width * times), 1), max(round(grey.height * times), 1))
    shown = Image.blend(grey.resize(size).convert("RGB"), Image.new("RGB", size, "white"), 0.35)
    pen = ImageDraw.Draw(shown)
    letters = max(round(max(size) / 70), 11)
    font = ImageFont.truetype(str(FONT_FOLDER / "SumpwrightSans-Bold.ttf"), letters)
    line = max(round(max(size) / 800), 2)
    for hole in found.holes:
        x, y, r = ((c + 0.5) * times for c in hole.ring)
        r, ink = r + line, INK[hole.sure]
        pen.ellipse((x - r, y - r, x + r, y + r), outline=ink, width=line)
        pen.line((x - 0.4 * r, y, x + 0.4 * r, y), fill=ink, width=1)
        pen.line((x, y - 0.4 * r, x, y + 0.4 * r), fill=ink, width=1)
        words = hole.name if hole.sure != "doubtful" else f"{hole.name}?"
        right = x + r + 4 + pen.textlength(words, font=font) < size[0]
        at = (x + r + 4, y) if right else (x - r - 4, y)
        anchor = "lm" if right else "rm"
        pen.text(at, words, fill=ink, font=font, anchor=anchor, stroke_width=3, stroke_fill="white")
    out = BytesIO()
    shown.save(out, "PNG")
    return out.getvalue()


def marked_cut(found: Found) -> bytes:
    """SVG of a mesh's cut from above with the name of every hole."""
    spots = np.concatenate([*found.outlines, [h.at_m for h in found.holes]])
    low, high = spots.min(axis=0), spots.max(axis=0)
    scale = (WIDE - 2.0 * EDGE) / max(float((high - low)[0]), 1e-3)
    tall = scale * float((high - low)[1]) + 2.0 * EDGE
    says = f"Cut through the flange of {found.source} with {len(found.holes)} round holes"
    drawing = Drawing(WIDE, tall, key="found", says=says)

    def at(points: object) -> np.ndarray:
        p = np.asarray(points, dtype=float) - [low[0], high[1]]
        return np.asarray(p * [scale, -scale] + EDGE)

    drawing.path([at(loop) for loop in found.outlines], fill=palette.CRANK, stroke=palette.INK)
    for hole in found.holes:
        _label(drawing, hole, at(hole.at_m), scale)
    return drawing.svg()


def _label(drawing: Drawing, hole: FoundHole, at: np.ndarray, scale: float) -> None:
    r = 0.5 * scale * hole.diameter_m
    ink = INK[hole.sure]
    drawing.dot(at, r, stroke=ink, width=2.0)
    drawing.text((at[0] + r + 4.0, at[1] + 5.0), hole.name, size=14, fill=ink, bold=True, halo=True)


def _written(folder: Path, name: str, data: bytes) -> Path:
    path = folder / "out" / "rail" / name
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
    except OSError as err:
        raise InputError([write_problem(path.parent, err)]) from err
    write_atomic(path, data)
    return path
