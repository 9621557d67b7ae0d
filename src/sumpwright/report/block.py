# SPDX-License-Identifier: Apache-2.0
"""The parts that pages are put together from, as HTML; a person's words are escaped here."""

from base64 import b64encode
from hashlib import sha256
from html import escape
from pathlib import Path

from sumpwright.report import palette
from sumpwright.report.content import Content
from sumpwright.report.ledger import Failure, LedgerRow
from sumpwright.report.table import Table

POLICY = "default-src 'none'; style-src 'unsafe-inline'; img-src data:"
"""Lets a browser refuse whatever is not in the file itself."""
FOUND = "Found while reading the files"
WORD = {"met": "met", "not met": "NOT MET", "not judged": "not judged"}
_SHAPE = {
    "met": '<circle cx="8" cy="8" r="7.5" fill="{ink}"/>'
    '<path d="M4.2 8.4L7 11L11.8 5.2" fill="none" stroke="#fff" stroke-width="2"/>',
    "not met": '<path d="M5 .5H11L15.5 5V11L11 15.5H5L.5 11V5Z" fill="{ink}"/>'
    '<path d="M5 5L11 11M11 5L5 11" stroke="#fff" stroke-width="2"/>',
    "not judged": '<circle cx="8" cy="8" r="6.7" fill="none" stroke="{ink}" stroke-width="1.6" '
    'stroke-dasharray="3 2"/>',
}
"""Round and ticked, eight-sided and crossed, hollow: told apart without colour."""


def page_of(content: Content, parts: list[str], *, script: str = "", styles: str = "") -> bytes:
    """A whole page as UTF-8: one file, nothing fetched, only `script` may run in it."""
    style = (Path(__file__).parent / "page.css").read_text(encoding="utf-8") + styles
    title = f"{said(content.job)}, revision {said(content.revision)}: {said(content.verdict)}"
    digest = b64encode(sha256(script.encode("utf-8")).digest()).decode("ascii")
    policy = f"{POLICY}; script-src 'sha256-{digest}'" if script else POLICY
    shell = [
        '<!doctype html>\n<html lang="en"><head><meta charset="utf-8">',
        f'<meta http-equiv="Content-Security-Policy" content="{policy}">',
        '<meta name="viewport" content="width=device-width, initial-scale=1">',
        f"<title>{title}</title><style>{style}</style></head><body>",
        *parts,
        f"<script>{script}</script>" if script else "",
        "</body></html>\n",
    ]
    return "\n".join(p for p in shell if p).encode("utf-8")


def said(text: str) -> str:
    """Words as a page may hold them."""
    return escape(text, quote=True)


def symbol(state: str) -> str:
    """A small drawing that says a state by its shape."""
    shape = _SHAPE[state].format(ink=palette.STATE_INK[state])
    return f'<svg class="symbol" viewBox="0 0 16 16" aria-hidden="true">{shape}</svg>'


def _class(state: str) -> str:
    return state.replace(" ", "-")


def top(content: Content) -> str:
    """What it is, the verdict, what fails, what the files said, and the few first numbers."""
    note = f'<p class="note">{said(content.note)}</p>' if content.note else ""
    failed = "".join(map(_failure, content.failures))
    failed = (
        f'<h2 class="small">What fails, and by how much</h2><ul>{failed}</ul>' if failed else ""
    )
    return (
        f'<header><p class="kind">{said(content.kind)}</p><h1>{said(content.job)}</h1>'
        f'<p class="sub">{said(content.pan)}, revision {said(content.revision)}</p></header>'
        f'<section class="verdict {_class(content.state)}"><p class="word">'
        f"{symbol(content.state)}<span>{said(content.verdict)}</span></p>"
        f"<p>{said(content.summary)}</p>{failed}</section>"
        f"{_found(content)}{note}{_tiles(content)}"
    )


def _failure(failure: Failure) -> str:
    f, why = failure, f" <span>({said(failure.reason)})</span>" if failure.reason else ""
    return (
        f"<li><b>{said(f.statement)}</b>: {said(f.found)}, needs {said(f.needed)}, "
        f"<b>{said(f.short)} short</b>{why}</li>"
    )


def _found(content: Content) -> str:
    """What the reading of the files found, before any number is believed."""
    lines = "".join(f"<li>{said(line)}</li>" for line in content.findings)
    if not lines:
        return ""
    return f'<section class="said"><h2 class="small">{FOUND}</h2><ul>{lines}</ul></section>'


def still_open(content: Content) -> str:
    """What is not judged yet, by what it needs."""
    groups = "".join(
        f"<p><b>Not judged yet:</b> {said(reason)}</p><p class='held'>{said(' · '.join(lines))}</p>"
        for reason, lines in content.open
    )
    return f'<section class="open">{groups}</section>' if groups else ""


def _tiles(content: Content) -> str:
    tiles = "".join(
        f"<div><dt>{said(what)}</dt><dd>{said(much)}</dd>"
        f"<dd class='beside'>{said(beside)}</dd></div>"
        for what, much, beside in content.key_figures
    )
    return f'<dl class="tiles">{tiles}</dl>'


def pictures_of(content: Content, pictures: dict[str, bytes], keys: tuple[str, ...]) -> str:
    """The pictures of these keys that there are, in the content's order."""
    parts = []
    for figure in content.figures:
        if figure.key in keys and figure.key in pictures:
            caption = f"<figcaption>{said(figure.caption)}</figcaption>" if figure.caption else ""
            parts.append(
                f'<figure class="{figure.key}"><h2>{said(figure.title)}</h2>'
                f'<div class="scroll">{inline(pictures[figure.key])}</div>{caption}</figure>'
            )
    return "".join(parts)


def inline(svg: bytes) -> str:
    """An SVG as part of the page, where its namespace goes without saying."""
    return svg.decode("utf-8").replace(' xmlns="http://www.w3.org/2000/svg"', "", 1)


def ledger_of(content: Content) -> str:
    """The requirements with their numbers; nothing where there are none."""
    if not content.ledger:
        return ""
    rows = "".join(map(_ledger_row, content.ledger))
    head = "".join(
        f'<th class="{kind}">{words}</th>'
        for kind, words in (
            ("", "State"),
            ("", "Requirement"),
            ("n", "Needed"),
            ("n", "Found"),
            ("n", "Margin"),
            ("bars", "Short / to spare"),
        )
    )
    return (
        '<section class="ledger"><h2>Requirements</h2><table><thead><tr>'
        f"{head}</tr></thead>{rows}</table><p class='foot'>What is not met comes first. "
        "<span class='bars'>The bar is the margin as a share of the larger of needed and found."
        "</span></p></section>"
    )


def _ledger_row(row: LedgerRow) -> str:
    """Two rows that stay together: the numbers, and below them why, how and by which source."""
    small = " · ".join(s for s in (row.reason, row.formula, row.source) if s)
    kind = _class(row.state)
    numbers = "".join(
        f'<td class="n" data-label="{label}">{said(text)}</td>'
        for label, text in (("Needed", row.limit), ("Found", row.value), ("Margin", row.margin))
    )
    return (
        f'<tbody class="{kind}"><tr class="{kind}"><td class="state">{symbol(row.state)}'
        f'{WORD[row.state]}</td><td class="asked">{said(row.statement)}</td>{numbers}'
        f'<td class="bars">{_bar(row)}</td></tr>'
        f'<tr class="why"><td></td><td colspan="5">{said(small)}</td></tr></tbody>'
    )


def _bar(row: LedgerRow) -> str:
    """Half a scale to the left for short, half to the right for to spare."""
    if row.bar is None:
        return ""
    ink = palette.STATE_INK[row.state]
    wide = 50.0 * abs(row.bar)
    left = 50.0 if row.bar >= 0.0 else 50.0 - wide
    fill = f'<rect x="{left:.1f}" y="3" width="{max(wide, 0.8):.1f}" height="10" fill="{ink}"/>'
    return (
        '<svg class="bar" viewBox="0 0 100 16" aria-hidden="true" preserveAspectRatio="none">'
        f'<rect x="0" y="3" width="100" height="10" fill="{palette.FAINT}"/>{fill}'
        f'<path d="M50 0V16" stroke="{palette.INK}" stroke-width="1"/></svg>'
    )


def tables_of(content: Content, keys: tuple[str, ...]) -> str:
    """The tables of these keys, in the content's order."""
    return "".join(_table(t) for t in content.tables if t.key in keys)


def _table(table: Table) -> str:
    def cells(row: tuple[str, ...], tag: str) -> str:
        kinds = ["" if k in table.words else "n" for k in range(len(row))]
        return "".join(
            f'<{tag} class="{k}">{said(c)}</{tag}>' for k, c in zip(kinds, row, strict=True)
        )

    def part(rows: tuple[tuple[str, ...], ...]) -> str:
        body = "".join(f"<tr>{cells(row, 'td')}</tr>" for row in rows)
        head = f"<thead><tr>{cells(table.head, 'th')}</tr></thead>"
        return f"<table>{head}<tbody>{body}</tbody></table>"

    size = -(-len(table.rows) // table.fold)
    parts = (table.rows[k : k + size] for k in range(0, len(table.rows), size))
    note = f'<p class="foot">{said(table.note)}</p>' if table.note else ""
    return (
        f'<section class="sheet {table.key}"><h2>{said(table.title)}</h2>'
        f'<div class="scroll parts">{"".join(map(part, parts))}</div>{note}</section>'
    )


def listed(title: str, lines: tuple[str, ...]) -> str:
    """A heading and its sentences; nothing where there are none."""
    if not lines:
        return ""
    items = "".join(f"<li>{said(line)}</li>" for line in lines)
    return f"<section><h2>{said(title)}</h2><ul>{items}</ul></section>"


def cautions_of(content: Content) -> str:
    """What can hurt someone."""
    items = "".join(f"<dt>{said(c.topic)}</dt><dd>{said(c.text)}</dd>" for c in content.cautions)
    return f'<section class="cautions"><h2>Cautions</h2><dl>{items}</dl></section>'


def provenance_of(content: Content) -> str:
    """Revision, hash, version and date."""
    items = "".join(f"<dt>{said(n)}</dt><dd>{said(v)}</dd>" for n, v in content.provenance)
    return f"<footer><h2>Where this came from</h2><dl>{items}</dl></footer>"
