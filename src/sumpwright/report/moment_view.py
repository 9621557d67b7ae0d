# SPDX-License-Identifier: Apache-2.0
"""A few frames of the film side by side, for paper and for pages that may not run a script."""

import numpy as np

from sumpwright.report import palette
from sumpwright.report.film_colour import whole_png
from sumpwright.report.film_gif import Reel
from sumpwright.report.lettering import fitted
from sumpwright.report.svg import Drawing
from sumpwright.report.text import plain
from sumpwright.studies.motion_result import DriveResult

WIDE, CELL, BETWEEN, EDGE = 960.0, 308.0, 16.0, 2.0
MOST = 6


def moments(result: DriveResult, reel: Reel) -> list[tuple[int, str]]:
    """Frames worth a look and why, in order of time, none twice."""
    film, s = reel.film, result.summary
    size = np.hypot(film.accel[:, 0], film.accel[:, 1])
    wanted: list[tuple[float, str]] = []  # what matters most first
    if s.first_air_s is not None:
        wanted.append((float(film.time[int((film.air > 0.0).argmax())]), "first air"))
    if s.least_cover_s is not None:
        wanted.append((s.least_cover_s, "least oil over the pickup"))
    wanted.append((float(film.time[0]), "start"))
    wanted.append((float(film.time[size.argmax()]), "largest g"))
    wanted += _middles(result)
    wanted.append((float(film.time[-1]), "end"))
    start, length = float(film.time[0]), float(film.time[-1] - film.time[0])
    wanted += [(start + share * length, "on the way") for share in (0.5, 0.25, 0.75, 0.125)]
    found: dict[int, str] = {}
    for time, words in wanted:
        k = int(np.abs(film.time - time).argmin())
        if all(abs(k - other) > 2 for other in found) and len(found) < MOST:
            found[k] = words
    return sorted(found.items())


def _middles(result: DriveResult) -> list[tuple[float, str]]:
    return [(0.5 * (start + end), f"midway: {plain(name)}") for name, start, end in result.spans]


def moment_view(result: DriveResult, reel: Reel) -> bytes:
    """Up to six frames, three in a row, each with its time, why it is shown, and its numbers."""
    shown = moments(result, reel)
    high, wide = reel.pictures[0].shape
    tall = CELL * high / wide
    rows = -(-len(shown) // 3)
    says = "The pan with the oil in it at " + ", ".join(
        f"{reel.words[k].clock} ({why})" for k, why in shown
    )
    drawing = Drawing(WIDE, rows * (tall + 62.0), key="moments", says=says)
    for place, (k, why) in enumerate(shown):
        x, y = EDGE + (place % 3) * (CELL + BETWEEN), EDGE + (place // 3) * (tall + 62.0)
        words = reel.words[k]
        drawing.image(whole_png(reel.colours, reel.pictures[k]), x, y, CELL, tall)
        ink = palette.AIR if words.air else palette.RULE
        drawing.box(x, y, CELL, tall, stroke=ink, line=3.0 if words.air else 1.0)
        head = fitted(f"{words.clock}, {why}", 14.0, CELL, True)
        drawing.text((x, y + tall + 18.0), head, size=14, bold=True)
        air = f"; air {words.air}" if words.air else ""
        below = fitted(f"{words.push}; cover {words.cover}{air}", 12.5, CELL)
        drawing.text((x, y + tall + 36.0), below, size=12.5, fill=palette.MUTED)
    return drawing.svg()
