# SPDX-License-Identifier: Apache-2.0
"""A programme as one HTML file; prints one sheet to a page as well."""

from sumpwright.report.block import (
    cautions_of,
    listed,
    page_of,
    provenance_of,
    said,
    still_open,
    tables_of,
    top,
)
from sumpwright.report.content import Content
from sumpwright.report.plan_sheet import Grid, Part, Sheet

STYLES = """
.page { break-before: page; }
.page .warning { border: 2px solid #a02313; color: #a02313; font-weight: bold; padding: 6px 12px; }
.page td.box { border: 1px solid var(--ink); min-width: 64px; height: 30px; }
.page ul.ticks { list-style: none; padding-left: 0; }
.page ul.ticks li::before { content: "\\2610\\00a0\\00a0"; }
.page h3 { font-size: 16px; margin: 14px 0 4px; }
.page .blank { display: inline-block; min-width: 45%; border-bottom: 1px solid var(--ink);
  margin: 14px 3% 0 0; color: var(--muted); font-size: 14px; }
.page td, .page th { overflow-wrap: normal; }
.page td { white-space: nowrap; }
.page td.words { white-space: normal; min-width: 130px; }
.page.large td { font-size: 22px; font-weight: bold; }
@media print { .page.large td { font-size: 15pt; } .page td.box { height: 18pt; } }
"""


LONG = 24
"""Letters of a cell from which it may break into lines."""


def plan_html(content: Content, sheets: tuple[Sheet, ...]) -> bytes:
    """The page as UTF-8."""
    parts = [
        top(content),
        still_open(content),
        tables_of(content, ("programme",)),
        listed("Assumptions", content.assumptions),
        cautions_of(content),
        *map(_sheet, sheets),
        provenance_of(content),
    ]
    return page_of(content, parts, styles=STYLES)


def _sheet(sheet: Sheet) -> str:
    large = " large" if sheet.large else ""
    warning = f'<p class="warning">{said(sheet.warning)}</p>' if sheet.warning else ""
    blanks = "".join(f'<span class="blank">{said(b)}</span>' for b in sheet.blanks)
    return (
        f'<section class="page{large}" id="{said(sheet.key)}"><h2>{said(sheet.title)}</h2>'
        f'<p class="kind">{said(sheet.kicker)}</p>{warning}'
        f"{''.join(map(_part, sheet.parts))}<p>{blanks}</p></section>"
    )


def _part(part: Part) -> str:
    lines = "".join(f"<li>{said(line)}</li>" for line in part.lines)
    kind = ' class="ticks"' if part.ticks else ""
    listing = f"<ul{kind}>{lines}</ul>" if lines else ""
    return f"<h3>{said(part.title)}</h3>{_grid(part.grid)}{listing}"


def _grid(grid: Grid | None) -> str:
    if grid is None:
        return ""
    head = "".join(f"<th>{said(h)}</th>" for h in grid.head)
    rows = "".join(f"<tr>{''.join(map(_cell, row))}</tr>" for row in grid.rows)
    note = f'<p class="foot">{said(grid.note)}</p>' if grid.note else ""
    table = f"<table><thead><tr>{head}</tr></thead><tbody>{rows}</tbody></table>"
    return f'<div class="scroll">{table}</div>{note}'


def _cell(text: str) -> str:
    kind = ' class="words"' if len(text) > LONG else ""
    return f"<td{kind}>{said(text)}</td>" if text else '<td class="box"></td>'
