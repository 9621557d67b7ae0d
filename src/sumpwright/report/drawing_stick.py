# SPDX-License-Identifier: Apache-2.0
"""The dipstick's marked end in true size, to cut out, with bars that tell a true print."""

from sumpwright.report.drawing import (
    PLAIN,
    SMALL,
    Page,
    Words,
    length_unit,
    number_text,
    path,
)
from sumpwright.studies.make_result import Made
from sumpwright.studies.result import DipstickScale
from sumpwright.units import shown

BAR = {"metric": (100.0, "100 mm"), "us": (101.6, "4 in")}
"""mm, and what is written beside it"""
TRUE = {"metric": "0.25 mm", "us": "0.01 in"}
WIDE = 8.0
FOOT, ROOM, MIDDLE = 66.0, 190.0, 60.0
OVER = 0.02
"""m of stick drawn over the full mark"""


def stick_page(made: Made) -> Page | None:
    """The template; None where the job has no dipstick."""
    scale, stick = made.check.fill.dipstick, made.loaded.job.new.dipstick
    if scale is None or stick is None:
        return None
    units = made.loaded.job.units
    page = Page("dipstick", "Dipstick template, true size", units, 1.0, 210.0, 297.0)
    tip = stick.length
    end = scale.low_end_along_m if tip is None else tip
    start = max(0.0, scale.full_along_m - OVER, end - 1e-3 * ROOM)
    _strip(page, scale, start, end, units)
    _bars(page, units)
    _notes(page, start, end, tip is not None, units)
    return page


def _strip(page: Page, scale: DipstickScale, start: float, end: float, units: str) -> None:
    left, right = MIDDLE - 0.5 * WIDE, MIDDLE + 0.5 * WIDE
    top = FOOT + 1e3 * (end - start)
    page.add(path([[(left, FOOT), (right, FOOT), (right, top), (left, top)]], "OUTLINE"))

    def mark(along: float, words: str, heavy: bool) -> None:
        y = FOOT + 1e3 * (end - along)
        if not FOOT <= y <= top:
            return
        line = [[(left, y), (right, y)]]
        page.add(path(line, "OUTLINE" if heavy else "FINE", closed=False))
        if heavy:
            said = f"{words}   {number_text(along, units)} from the stop"
            page.add(path([[(right, y), (right + 6.0, y)]], "FINE", closed=False))
            page.add(Words((right + 7.5, y - 1.2), said, PLAIN, bold=True))
        else:
            page.add(Words((left - 2.0, y - 1.0), words, SMALL, "end"))

    heavy = [scale.full_along_m] + ([scale.low_along_m] if scale.low_along_m is not None else [])
    last = float("inf")
    for graduation in sorted(scale.graduations, key=lambda g: -g.along_m):
        if last - graduation.along_m >= 0.0035:
            last = graduation.along_m
            mark(last, shown(graduation.volume_m3, "volume", units), False)
    mark(scale.full_along_m, "FULL", True)
    if len(heavy) > 1:
        mark(heavy[1], "LOW", True)


def _bars(page: Page, units: str) -> None:
    """One bar level, one upright: printers stretch one way only, too."""
    long, said = BAR[units]
    x, y = 92.0, 250.0
    ticks = [[(x, y), (x + long, y)], [(x, y - 2.0), (x, y + 2.0)]]
    ticks.append([(x + long, y - 2.0), (x + long, y + 2.0)])
    page.add(path(ticks, "OUTLINE", closed=False))
    page.add(Words((x + 0.5 * long, y + 3.0), f"{said} level", PLAIN, "middle"))
    x, y = x + long - 12.0, y - 12.0
    ticks = [[(x, y), (x, y - long)], [(x - 2.0, y), (x + 2.0, y)]]
    ticks.append([(x - 2.0, y - long), (x + 2.0, y - long)])
    page.add(path(ticks, "OUTLINE", closed=False))
    page.add(Words((x - 3.0, y - 0.5 * long), f"{said} upright", PLAIN, "end"))


def _notes(page: Page, start: float, end: float, tip: bool, units: str) -> None:
    foot = "Foot of the strip: the stick's tip." if tip else "Foot of the strip: the reading's end."
    unit = length_unit(units)
    lines = (
        "Print at 100 %, not fitted to the page. Measure both bars with a rule first.",
        f"Use it only where both are true to {TRUE[units]}. Cut out the strip, lay it on the "
        "stick, scribe the marks.",
        f"{foot} It is {number_text(end, units)} {unit} from the stop, its head "
        f"{number_text(start, units)} {unit}.",
        "Left: oil standing in the pan, cold, level. Check the first full fill by volume.",
    )
    for k, line in enumerate(lines):
        page.add(Words((16.0, 280.0 - 5.0 * k), line, SMALL if k else PLAIN, bold=not k))
