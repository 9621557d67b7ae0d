# SPDX-License-Identifier: Apache-2.0
"""What the page of the hold maps says, in words and in order."""

from datetime import datetime
from itertools import pairwise

from sumpwright.report.caution import motion_cautions
from sumpwright.report.content import Content, Figure, finding_lines, foot, provenance
from sumpwright.report.hold_words import STATES, apart_text, asymmetry_words, held_text
from sumpwright.report.motion_table import error_table
from sumpwright.report.table import Table
from sumpwright.report.text import plain, told
from sumpwright.studies.motion_result import Asymmetry, HoldMapResult
from sumpwright.units import shown

_CAPTION = (
    "Seen from above, nose up: a point to the left is a left turn, further out is more g. Colour "
    "is the time from a settled start until the pickup first takes air; striped is covered to the "
    "end of the look. The heavy line goes round what holds for the time asked for."
)


def map_key(number: int) -> str:
    """Name of the picture of the n-th engine speed."""
    return f"map-{number}"


def hold_map_content(result: HoldMapResult, *, made: datetime) -> Content:
    """The words of the hold maps' page."""
    oil = shown(result.temperature_k, "temperature", result.units)
    return Content(
        kind="Oil in motion: how long the pickup stays covered",
        job=plain(result.job),
        revision=plain(result.revision),
        pan=f"oil at {oil}",
        state="not judged",
        verdict=_verdict(result),
        summary=_summary(result),
        note="",
        failures=(),
        open=(),
        key_figures=_key_figures(result),
        figures=tuple(
            Figure(map_key(k), f"At {rpm:.0f} rpm", _CAPTION) for k, rpm in enumerate(result.rpm)
        ),
        ledger=(),
        tables=(_sides(result), error_table(result.error, result.units)),
        assumptions=tuple(map(told, result.assumptions)),
        findings=finding_lines(result),
        cautions=motion_cautions(),
        provenance=provenance(result, made),
        foot=foot(result),
    )


def _verdict(result: HoldMapResult) -> str:
    """The weaker side of the pan as it is meant to work, at the speed where it is weakest."""
    working = [a for a in result.asymmetries if a.doors == "working"] or list(result.asymmetries)
    if not working:
        return f"Hold maps, looked at for {result.horizon_s:g} s"
    worst = min(working, key=lambda a: min(a.left_g, a.right_g))
    side = "left" if worst.left_g < worst.right_g else "right"
    turn = "either turn" if worst.left_g == worst.right_g else f"a {side} turn"
    weak = min(worst.left_g, worst.right_g)
    if weak <= 0.0:
        return f"Does not hold {result.hold_time_s:g} s in {turn}, {worst.rpm:.0f} rpm"
    return f"Holds {result.hold_time_s:g} s up to {weak:.2f} g in {turn}, {worst.rpm:.0f} rpm"


def _summary(result: HoldMapResult) -> str:
    said = [asymmetry_words(a, result) for a in result.asymmetries if a.doors == "working"]
    speeds = [f"{a.rpm:.0f} rpm, " for a in result.asymmetries if a.doors == "working"]
    lines = [rpm + words[0].lower() + words[1:] for rpm, words in zip(speeds, said, strict=True)]
    looked = (
        f"From a settled start, {len(result.directions_deg)} directions, "
        f"{min(result.magnitudes_g):.2f} to {max(result.magnitudes_g):.2f} g, each looked at for "
        f"{result.horizon_s:g} s."
    )
    return " ".join([looked, *lines])


def _key_figures(result: HoldMapResult) -> tuple[tuple[str, str, str], ...]:
    """Left and right with the doors working at each speed, against no baffles at all."""
    rows = []
    for rpm in result.rpm:
        at = {a.doors: a for a in result.asymmetries if a.rpm == rpm}
        own, bare = at.get("working"), at.get("no baffles")
        if own is None:
            continue
        beside = "" if bare is None else f"without baffles {_pair(bare, result)}"
        pair = _pair(own, result)
        rows.append((f"Left / right turn, {rpm:.0f} rpm", pair, beside))
    return tuple(rows)


def _pair(one: Asymmetry, result: HoldMapResult) -> str:
    """``0.30 / 0.40 g``."""
    left, right = held_text(one.left_g, result), held_text(one.right_g, result)
    return f"{left.removesuffix(' g')} / {right}"


def _sides(result: HoldMapResult) -> Table:
    rows = tuple(
        (
            f"{a.rpm:.0f} rpm, {STATES[a.doors]}",
            held_text(a.left_g, result),
            held_text(a.right_g, result),
            apart_text(a.left_g, a.right_g, result),
            _weaker(a.left_g - a.right_g),
        )
        for a in result.asymmetries
    )
    head = (f"holds {result.hold_time_s:g} s up to", "left", "right", "apart", "weaker")
    note = (
        "The largest g looked at that holds, and every smaller one too. Steps of the look: "
        f"{_step(result)}."
    )
    return Table("sides", "Left against right", head, rows, note)


def _weaker(apart: float) -> str:
    return "left" if apart < -1e-9 else "right" if apart > 1e-9 else "the same"


def _step(result: HoldMapResult) -> str:
    g = result.magnitudes_g
    return f"{max(b - a for a, b in pairwise(g)):.2f} g" if len(g) > 1 else "one g"
