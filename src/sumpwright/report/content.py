# SPDX-License-Identifier: Apache-2.0
"""What the report says, in words and in order, before it is set as a page or a PDF."""

from dataclasses import asdict, dataclass, replace
from datetime import datetime
from typing import Any

from sumpwright.report.answer import Answer, Judged
from sumpwright.report.axis import GROUND_SQUARE
from sumpwright.report.caution import Caution, cautions
from sumpwright.report.ledger import Failure, LedgerRow, failures, key_figures, ledger_rows
from sumpwright.report.sheet import tables
from sumpwright.report.table import Table
from sumpwright.report.text import plain, told
from sumpwright.studies.result import CheckResult
from sumpwright.units import shown

FOOT = 44
"""Letters of the job's name at the foot of a page."""


@dataclass(frozen=True)
class Figure:
    """A picture with what to look for in it."""

    key: str
    title: str
    caption: str


@dataclass(frozen=True)
class Content:
    """Everything on the pages; every string is plain text that the faces escape."""

    kind: str
    """What was asked: ``Oil pan check``."""
    job: str
    revision: str
    pan: str
    state: str
    verdict: str
    summary: str
    note: str
    failures: tuple[Failure, ...]
    open: tuple[tuple[str, tuple[str, ...]], ...]
    """What is not judged yet: why, and the requirements it holds up."""
    key_figures: tuple[tuple[str, str, str], ...]
    """What, how much, compared with what."""
    figures: tuple[Figure, ...]
    ledger: tuple[LedgerRow, ...]
    tables: tuple[Table, ...]
    assumptions: tuple[str, ...]
    findings: tuple[str, ...]
    cautions: tuple[Caution, ...]
    provenance: tuple[tuple[str, str], ...]
    foot: str

    def as_json(self) -> dict[str, Any]:
        """Plain dict of it."""
        return asdict(self)


_FIGURES = (
    Figure("pan", "The new pan", ""),
    Figure("below", "The same from below", ""),
    Figure(
        "hold",
        "Hold, all round",
        "The largest steady acceleration at which the pickup's whole rim is still under oil. Oil "
        "in motion, doors and baffles are not in this picture.",
    ),
    Figure(
        "rest",
        "Oil at rest",
        "Cut upright through each pickup, car on level ground, all at one scale. The dashed "
        "circle or box is the crank sweep as seen from there, whole.",
    ),
    Figure(
        "turn",
        "Turning, at the g where the pickup uncovers",
        "Cut through each pickup, seen from behind. The oil's surface is the one at the g named "
        "over the picture; a ring marks the end of the pickup that loses the oil.",
    ),
    Figure(
        "brake",
        "Braking and accelerating, at the g where the pickup uncovers",
        "Cut through each pickup, nose to the right.",
    ),
    Figure(
        "fill",
        "Fill curve",
        "How high the oil stands for how much of it, car on level ground at the engine's "
        "installed angle, counted from the pan rail.",
    ),
    Figure(
        "dipstick",
        "Dipstick",
        "Check the first full fill by volume before the marks are made for good.",
    ),
)
FEED_FIGURES = (
    Figure(
        "feed",
        "Oil feed: what is left at the pump's inlet",
        "Absolute pressure at the pump for steady oil without air, car on level ground, full mark. "
        "Under the limits air comes out of the oil, the pump gets loud and wears, and what it "
        "delivers falls behind.",
    ),
    Figure(
        "feed-loss",
        "Oil feed: where the pressure goes",
        "What each part takes, in the order the oil flows. The upright mark is as much as may be "
        "taken: the air on the oil less what the inlet needs.",
    ),
    Figure(
        "feed-speed",
        "Oil feed: how fast the engine may turn",
        "Under a line the inlet keeps its pressure. Let cold oil warm up under it.",
    ),
)


def _figures(result: CheckResult) -> tuple[Figure, ...]:
    """The pictures' words; of the pan among obstacles where there are any."""
    figures = tuple(_fitted(f, result) for f in (*_FIGURES, *FEED_FIGURES))
    room = result.clearance
    if room is None or not room.obstacles:
        return figures
    caption = (
        "The pan's skin is coloured by its gap to what is near. A body in front of the pan is "
        "drawn see-through."
    )
    if room.ground_m is not None:
        _, square = GROUND_SQUARE[result.units]
        caption += f" Shadows lie straight below on the road; its squares are {square}."
    first = Figure("pan", "Room round the pan", caption)
    second = Figure("below", "The same from below", "The other side, in the same colours.")
    return (first, second, *figures[2:])


def _fitted(figure: Figure, result: CheckResult) -> Figure:
    """A figure with what only some jobs have to be told."""
    if figure.key == "turn":
        return _with_draw_down(figure, result)
    room = result.clearance
    pans = [] if room is None else [room] if room.stock is None else [room, room.stock]
    if figure.key == "rest" and any(o.cases[0].gap_m < 0.0 for p in pans for o in p.obstacles):
        words = " Stripes: the pan and a part of the car would be in the same place."
        return replace(figure, caption=figure.caption + words)
    return figure


def _with_draw_down(figure: Figure, result: CheckResult) -> Figure:
    """Why the surface is still above the rim where the pickup counts as uncovered."""
    if result.hold is None or result.hold.drawdown_at_rest_m == 0.0:
        return figure
    depth = shown(result.hold.drawdown_at_rest_m, "length", result.units)
    words = (
        f" The pickup counts as uncovered once less oil stands over its rim than it draws down: "
        f"{depth} at rest, less at a higher g."
    )
    return replace(figure, caption=figure.caption + words)


def content_of(result: CheckResult, *, made: datetime) -> Content:
    """The report's words for a result."""
    state, verdict = _verdict(result)
    return Content(
        kind="Oil pan check",
        job=plain(result.job),
        revision=plain(result.revision),
        pan=plain(result.fill.name),
        state=state,
        verdict=verdict,
        summary=plain(result.summary),
        note=plain(result.note or ""),
        failures=failures(result),
        open=open_lines(result),
        key_figures=key_figures(result),
        figures=_figures(result),
        ledger=ledger_rows(result),
        tables=tables(result),
        assumptions=tuple(map(plain, result.assumptions)),
        findings=finding_lines(result),
        cautions=cautions(),
        provenance=provenance(result, made),
        foot=foot(result),
    )


def _verdict(result: CheckResult) -> tuple[str, str]:
    if result.verdict != "met":
        words = {"not met": "Requirements not met", "not judged": "Nothing judged yet"}
        return result.verdict, words[result.verdict]
    still = sum(r.state == "not judged" for r in result.requirements)
    return "met", f"Requirements met, {still} not judged yet" if still else "Requirements met"


def open_lines(result: Judged) -> tuple[tuple[str, tuple[str, ...]], ...]:
    """What is not judged, by why."""
    held: dict[str, list[str]] = {}
    for line in result.requirements:
        if line.state == "not judged":
            held.setdefault(told(line.reason), []).append(plain(line.statement))
    return tuple((reason, tuple(lines)) for reason, lines in held.items())


def foot(result: Answer) -> str:
    """What stands at the foot of each page."""
    job = result.job if len(result.job) <= FOOT else f"{result.job[:FOOT].rstrip()}…"
    return plain(f"{job}, revision {result.revision}, inputs {result.input_hash[:12]}")


def finding_lines(result: Answer) -> tuple[str, ...]:
    """What was found while reading the files, a sentence each."""
    rows = []
    for finding in result.findings:
        mend = f" What a repair would do: {finding.repair}." if finding.repair else ""
        mend = " Repaired, as the job file asks." if finding.repair == "done" else mend
        rows.append(plain(f"{finding.place}: {finding.found}.{mend} [{finding.code}]"))
    return tuple(rows)


def provenance(result: Answer, made: datetime) -> tuple[tuple[str, str], ...]:
    """Where the numbers came from."""
    rows = (
        ("Job", result.job),
        ("Revision", result.revision),
        ("Inputs (hash)", result.input_hash),
        ("Computed by", f"Sumpwright {result.code_version}"),
        ("Report made", made.strftime("%Y-%m-%d %H:%M %Z").strip()),
    )
    return tuple((name, plain(value)) for name, value in rows)
