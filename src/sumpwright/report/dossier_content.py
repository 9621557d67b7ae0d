# SPDX-License-Identifier: Apache-2.0
"""What a release's dossier says: the evidence, the fill and fitting sheets, what was not tested."""

from datetime import datetime

from sumpwright.report.caution import cautions
from sumpwright.report.content import Content, Figure, finding_lines, foot, provenance
from sumpwright.report.dipstick_view import dipstick_view
from sumpwright.report.fill_view import fill_view
from sumpwright.report.ledger import key_figures, ledger_rows
from sumpwright.report.sheet import tables
from sumpwright.report.table import Table
from sumpwright.report.text import plain, told
from sumpwright.studies.history import grouped
from sumpwright.studies.release import ReleaseResult

FIGURES = (
    Figure("fill", "Fill curve", "How high the oil stands for how much of it, car level."),
    Figure(
        "dipstick", "Dipstick", "Check the first full fill by volume before relying on the marks."
    ),
)
SHEETS = (
    "fill-sheet",
    "dipstick-marks",
    "parked",
    "fitting",
    "evidence",
    "aside",
    "photos",
    "changes",
)
"""Tables of the dossier, in order."""


def dossier_content(result: ReleaseResult, *, made: datetime) -> Content:
    """The words of the dossier."""
    counted = f"{len(result.requirements)} requirements met, {len(result.records)} records seen"
    return Content(
        kind="Release",
        job=plain(result.job),
        revision=plain(result.revision),
        pan=plain(result.check.fill.name),
        state="met",
        verdict="Released: every requirement has its evidence",
        summary=f"{counted}. Read what was not tested.",
        note=plain(result.check.note or ""),
        failures=(),
        open=(),
        key_figures=key_figures(result.check),
        figures=FIGURES,
        ledger=ledger_rows(result),
        tables=(*tables(result.check), *_sheets(result)),
        assumptions=tuple(map(told, result.check.assumptions)),
        findings=finding_lines(result),
        cautions=cautions(),
        provenance=(*provenance(result, made), ("Part (hash)", result.part_hash)),
        foot=foot(result),
    )


def dossier_pictures(result: ReleaseResult) -> dict[str, bytes]:
    """The pictures by key, each an SVG."""
    stick = dipstick_view(result.check)
    return {"fill": fill_view(result.check), **({} if stick is None else {"dipstick": stick})}


def untested_lines(result: ReleaseResult) -> tuple[str, ...]:
    """What was not tested, a sentence each."""
    return tuple(map(told, result.untested))


def _sheets(result: ReleaseResult) -> tuple[Table, ...]:
    found = (_fitting(result), _evidence(result), _aside(result), _photos(result), _changes(result))
    return tuple(t for t in found if t is not None)


def _fitting(result: ReleaseResult) -> Table:
    torque = "not given" if result.torque is None else plain(result.torque)
    rows = (
        ("Bolt torque", torque),
        ("Bolt order", _bolt_order(result)),
        ("Gasket or sealant", "not given"),
    )
    return Table(
        key="fitting",
        title="Fitting sheet",
        head=("What", "As given"),
        rows=rows,
        note="What is not given here comes from the engine's own manual or its maker. Cars are "
        "held on stands, engines on a support that was made for it, never by the pan.",
        words=(0, 1),
    )


def _bolt_order(result: ReleaseResult) -> str:
    """Holes in their turn; the engine maker's own order goes before it."""
    if not result.bolts:
        return "not given: the job has no bolt holes"
    holes = ", ".join(plain(bolt.name) for bolt in result.bolts)
    return (
        f"holes {holes}: all by hand, then in this order at half the torque, at all of it, and "
        "once more. Usual practice; the engine maker's own order goes before it."
    )


def _evidence(result: ReleaseResult) -> Table:
    rows = tuple(
        (
            plain(r.kind),
            plain(r.by),
            plain(r.name),
            plain(r.note),
        )
        for r in result.records
    )
    head = ("Record", "By", "File", "Note")
    return Table("evidence", "Evidence", head, rows, words=(0, 1, 2, 3))


def _aside(result: ReleaseResult) -> Table | None:
    if not result.aside:
        return None
    rows = tuple((plain(record), plain(decision)) for record, decision in result.aside)
    title = "Records that a decision has set aside"
    return Table("aside", title, ("Record", "Decision"), rows, words=(0, 1))


def _photos(result: ReleaseResult) -> Table | None:
    if not result.photos:
        return None
    rows = tuple(
        (plain(p.file), p.sha256[:12], "as filed" if p.unchanged else "CHANGED OR GONE")
        for p in result.photos
    )
    head = ("Picture", "SHA-256, first 12", "Now")
    return Table("photos", "Pictures of the teardown", head, rows, words=(0, 1, 2))


def _changes(result: ReleaseResult) -> Table | None:
    if result.changed_from is None:
        return None
    rows = tuple(
        (plain(c.key), plain(c.before or "–"), plain(c.after or "–"))
        for c in grouped(result.changes)
    )
    title = f"Changed since revision {plain(result.changed_from)}"
    return Table("changes", title, ("Key", "Before", "Now"), rows, words=(0, 1, 2))
