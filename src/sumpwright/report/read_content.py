# SPDX-License-Identifier: Apache-2.0
"""What the page of a log says, in words and in order."""

from collections.abc import Iterator
from datetime import datetime

from sumpwright.report.caution import motion_cautions
from sumpwright.report.content import (
    Content,
    Figure,
    finding_lines,
    foot,
    open_lines,
    provenance,
)
from sumpwright.report.ledger import failures, ledger_rows
from sumpwright.report.table import Table
from sumpwright.report.text import plain, told
from sumpwright.studies.read_result import Event, Fitted, ReadResult, Side
from sumpwright.units import shown

FIGURES = (
    Figure(
        "read",
        "Over time",
        "Logged pressure beside what it should have been at that speed and temperature; dips are "
        "shaded through all charts. What is foretold comes from the network alone, which has not "
        "seen the pressure.",
    ),
)
MOST_EVENTS = 40


def read_content(result: ReadResult, *, made: datetime) -> Content:
    """The words of a log's page."""
    found = (events_table(result), _reach(result), _stages(result), _fit(result), _channels(result))
    return Content(
        kind="A session, as logged",
        job=plain(result.job),
        revision=plain(result.revision),
        pan=plain(", ".join(name for name, _ in result.files)),
        state=state_of(result),
        verdict=plain(_capital(headline_of(result))),
        summary=plain(_summary(result)),
        note="",
        failures=failures(result),
        open=open_lines(result),
        key_figures=tuple(_figures(result)),
        figures=FIGURES,
        ledger=ledger_rows(result),
        tables=tuple(t for t in found if t.rows),
        assumptions=tuple(map(told, result.assumptions)),
        findings=(
            *(plain(f"{n.channel}: {n.text}") for n in result.health),
            *finding_lines(result),
            *((plain(f"Record: {result.filing}"),) if result.filing else ()),
        ),
        cautions=motion_cautions(),
        provenance=provenance(result, made),
        foot=foot(result),
    )


def state_of(result: ReadResult) -> str:
    """How it is drawn: what is not proven yet is no better than not judged."""
    stands = result.summary.standing
    return "not judged" if stands == "not proven" else stands


def headline_of(result: ReadResult) -> str:
    """The answer as a page's first line."""
    said = result.summary.headline
    return f"Not proven yet: {said}" if result.summary.standing == "not proven" else said


def _summary(result: ReadResult) -> str:
    said = f"{result.summary.judged_s:.0f} s of {result.summary.duration_s:.0f} s could be judged."
    parts = [said, result.summary.confidence]
    if result.prediction is not None:
        parts.append(result.prediction.text)
    return " ".join(p for p in parts if p)


def _figures(result: ReadResult) -> Iterator[tuple[str, str, str]]:
    low, read = result.summary.low_readings, result.summary.readings
    if read is not None:
        yield (
            "Readings that were low",
            f"{low} of {read}",
            "by hand: between them nothing is seen",
        )
    for side in () if read is not None else result.summary.sides:
        yield (f"Dips, {way_text(side)}", str(side.dips), f"in {side.time_s:.0f} s{_over(side)}")
    if result.summary.worst is not None:
        worst = result.events[result.summary.worst]
        where = f"{worst.turn}, {worst.rpm:.0f} rpm, at {worst.start_s:.1f} s"
        yield ("Worst: pressure missing", f"{100.0 * worst.depth:.0f} %", where)
    if result.prediction is not None:
        told_ = result.prediction.original
        yield (
            "Dips foretold",
            f"{told_.hits} of {told_.hits + told_.misses}",
            f"{told_.false_alarms} false alarms",
        )


def way_text(side: Side) -> str:
    """The way round in words; of a log that tells none, that it is all of it."""
    words = {"straight": "straight on", "turning": "turning", "not known": "in all"}
    return words.get(side.turn, f"turning {side.turn}")


def _over(side: Side) -> str:
    return "" if side.over_g is None else f", up to {side.over_g:.2f} g"


def events_table(result: ReadResult) -> Table:
    """The dips, the severest first where there are many."""
    dips = [e for e in result.events if e.kind == "dip"]
    some = sorted(dips, key=lambda e: -e.severity)[:MOST_EVENTS]
    some.sort(key=lambda e: e.start_s)
    note = ""
    if len(dips) > MOST_EVENTS:
        note = f"The {MOST_EVENTS} severest of {len(dips)}."
    head = (
        "From", "to", "Turn", "Missing", "Least", "Should be", "rpm", "g", "Likely cause",
        "Foretold", "Severity",
    )  # fmt: skip
    rows = tuple(_event(e, result.units) for e in some)
    title = "Dips in pressure" if result.summary.readings is None else "Low readings"
    return Table("events", title, head, rows, note, words=(2, 8, 9))


def _event(e: Event, units: str) -> tuple[str, ...]:
    side = e.ay_g if e.turn != "straight" else e.ax_g
    return (
        f"{e.start_s:.2f} s",
        f"{e.end_s:.2f} s",
        e.turn,
        f"{100.0 * e.depth:.0f} %",
        shown(e.least_pa, "pressure", units),
        shown(e.expected_pa, "pressure", units),
        f"{e.rpm:.0f}",
        "–" if side is None else f"{abs(side):.2f}",
        e.cause,
        "–" if e.predicted is None else "yes" if e.predicted else "no",
        f"{e.severity:.2f}",
    )


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]


def _reach(result: ReadResult) -> Table:
    way = {"left": "turning left", "right": "turning right", "brake": "braking"}
    rows = tuple(
        (
            way[r.turn],
            "–" if r.held_g is None else f"{r.held_g:.3f} g",
            "nothing" if r.asked_g is None else f"{r.asked_g:.2f} g",
            "yes" if r.proven else "not yet",
        )
        for r in result.reach
    )
    head = ("Way", "Held without a dip", "Asked", "Proven by this log")
    note = "A release looks at all logs of this part together."
    return Table("reach", "How far it proves", head, rows, note, words=(0,))


def _stages(result: ReadResult) -> Table:
    rows = tuple(
        (
            s.name,
            f"{s.start_s:.0f} s",
            f"{s.end_s - s.start_s:.1f} s",
            "–" if s.ay_g is None else f"{s.ay_g:+.2f} g".replace("-", "−"),
            "–" if s.rpm is None else f"{s.rpm:.0f}",
            "–" if s.lap_s is None else f"{s.lap_s:.2f} s",
            str(s.dips),
        )
        for s in result.stages
    )
    head = ("Part", "From", "Lasts", "To the left", "rpm", "Lap", "Dips")
    return Table("stages", "What was driven", head, rows)


def _fit(result: ReadResult) -> Table:
    found = () if result.prediction is None else result.prediction.parameters
    head = ("Uncertain", "As the job", "Fitted", "95 % from", "to", "Learnt from this log")
    rows = tuple(map(_fitted, found))
    note = "Factors on the job's own values. A fit shows what would agree, not that it is so."
    return Table("fit", "Fitted to the log", head, rows, note, words=(0, 5))


def _fitted(p: Fitted) -> tuple[str, ...]:
    return (p.name, *(f"{v:.2f}" for v in (p.before, p.after, p.low, p.high)), p.known)


def _channels(result: ReadResult) -> Table:
    rows = tuple(
        (c.role.replace("_", " "), c.column, c.unit, c.how, f"{c.rate_hz:.3g} Hz", str(c.samples))
        for c in result.channels
    )
    note = f"Not used: {', '.join(result.unused)}" if result.unused else ""
    head = ("Read as", "Column", "Unit", "Why", "Rate", "Readings")
    return Table("channels", "Channels", head, rows, plain(note), words=(0, 1, 2, 3))
