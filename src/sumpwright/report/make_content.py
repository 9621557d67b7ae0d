# SPDX-License-Identifier: Apache-2.0
"""The pack's first page, what to do with which file, and its lists on paper."""

from collections.abc import Iterable
from datetime import datetime

from sumpwright.report.caution import make_cautions
from sumpwright.report.content import Content, Figure, foot, provenance
from sumpwright.report.inspection_sheet import bolts_table, inspection_tables
from sumpwright.report.parts_list import parts_tables, welds_table
from sumpwright.report.table import Table
from sumpwright.report.text import plain
from sumpwright.studies.make_result import Made

STEPS = (
    ("print/", "Print and try the fit on the cold engine; write down what touches, before metal."),
    ("flat/", "Cut the sheet parts, one part per name or whole nests (nest-1 ...). Kerf: yours."),
    (
        "cad/",
        "Machine from the halves. pan: before it is parted, with outside and inside, to look at or "
        "to make whole. Nothing in these files is toleranced: the drawings are.",
    ),
    ("drawings/", "Sections, depth: the sizes. Weld as the weld list says, then skim the flange."),
    (
        "drawings/rail",
        "Drill the flange from the hole table (in drawings.pdf, too), after welding and skimming.",
    ),
    (
        "drawings/dipstick",
        "Print its sheet of drawings.pdf at 100 %, measure both bars, cut out, scribe the marks.",
    ),
    ("lists/", "Parts, welds, bolt order; fill in the inspection sheet and keep it."),
    ("manifest.json", "What each file was when this was made: size and SHA-256."),
)


def index_content(made: Made, paths: Iterable[str], *, made_at: datetime) -> Content:
    """The words of the first page."""
    against = tuple(plain(f"{p.where}: {p.found} [{p.code}]") for p in made.against)
    verdict = "Ready to be made" if not against else "Made although something speaks against it"
    summary = "Work in this order; stop where a drawing and a file differ."
    if against:
        summary = "Against it: " + " · ".join(against)
    tables = (_steps(tuple(paths)), *_minded(made))
    return _content(made, "Pack for the shop", verdict, summary, tables, made_at)


def lists_content(made: Made, *, made_at: datetime) -> Content:
    """The words of the lists."""
    found = (welds_table(made), *inspection_tables(made), bolts_table(made))
    tables = (*parts_tables(made), *(t for t in found if t is not None))
    verdict = "Parts, welds, inspection, bolt order"
    summary = "Boxes are for the shop to fill in; the sheet stays with the pan."
    return _content(made, "Lists", verdict, summary, tables, made_at)


def _content(
    made: Made,
    kind: str,
    verdict: str,
    summary: str,
    tables: tuple[Table, ...],
    made_at: datetime,
) -> Content:
    check = made.check
    caption = "Ring by ring in the order of their numbers; beside each the hole's own name."
    bolts = (Figure("bolts", "Bolt order, seen from above", caption),)
    return Content(
        kind=kind,
        job=plain(check.job),
        revision=plain(check.revision),
        pan=plain(check.fill.name),
        state="not met" if made.against else "met",
        verdict=verdict,
        summary=summary,
        note="",
        failures=(),
        open=(),
        key_figures=(),
        figures=bolts if kind == "Lists" else (),
        ledger=(),
        tables=tables,
        assumptions=not_made_lines(made) if kind != "Lists" else (),
        findings=(),
        cautions=make_cautions(),
        provenance=(*provenance(check, made_at), ("Part (hash)", made.part_hash)),
        foot=foot(check),
    )


def not_made_lines(made: Made) -> tuple[str, ...]:
    """What the pack lacks, and what would bring it."""
    return tuple(plain(f"No {n.what}: {n.why}. It comes with {n.key}.") for n in made.not_made)


def _steps(paths: tuple[str, ...]) -> Table:
    rows: list[tuple[str, str, str]] = []
    for start, words in STEPS:
        names = [p for p in paths if p.startswith(start)]
        if start == "drawings/":
            names = [p for p in names if not p.startswith(("drawings/rail", "drawings/dipstick"))]
        if names or start == "manifest.json":
            rows.append((str(len(rows) + 1), words, _listed(names) or start))
    head = ("Step", "What to do", "Files")
    return Table("steps", "What to do with which file", head, tuple(rows), words=(1, 2))


def _listed(names: list[str]) -> str:
    shown = ", ".join(plain(n) for n in names[:8])
    return f"{shown} and {len(names) - 8} more" if len(names) > 8 else shown


def _minded(made: Made) -> tuple[Table, ...]:
    """What was noticed on the way, and what to do about it; nothing where it is nothing."""
    rows = tuple((plain(f"{f.place}: {f.found}"), plain(f.repair), f.code) for f in made.findings)
    head = ("What was noticed", "What to do", "Code")
    return (Table("minded", "To mind", head, rows, words=(0, 1)),) if rows else ()
