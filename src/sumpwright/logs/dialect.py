# SPDX-License-Identifier: Apache-2.0
"""How a logger's text is laid out: its encoding, what parts the cells, where names and rows are."""

import csv
import re
from collections import Counter
from dataclasses import dataclass, replace

from sumpwright.errors import InputError, Problem
from sumpwright.logs.channel_name import name_and_unit
from sumpwright.logs.log_unit import is_unit

HEAD = 1 << 18
"""Bytes from which the layout is read."""
MOST_COLUMNS = 2000
_DELIMITERS = (";", "\t", ",", "|")
_NUMBER = re.compile(r"[-+]?(\d+([.,]\d*)?|[.,]\d+)([eE][-+]?\d+)?")
_CLOCK = re.compile(
    r"(\d{4}-\d\d-\d\d[T ])?\d{1,3}:\d\d(:\d\d([.,]\d+)?|[.,]\d+)?(Z| ?[+-]\d\d:?\d\d)?"
)
_WORD = {";": "semicolons", "\t": "tabs", ",": "commas", "|": "bars"}


@dataclass(frozen=True)
class Dialect:
    """The layout of a text log."""

    encoding: str
    delimiter: str
    decimal_comma: bool
    names: tuple[str, ...]
    units: tuple[str, ...]
    """Beside the names; empty where none is said"""
    name_line: int
    first_row: int
    """1-based lines"""
    sample: tuple[tuple[str, ...], ...]
    """A few rows"""
    bare_return: bool = False
    """Lines end with a carriage return alone"""
    quoted: bool = True
    """Cells stand between quotes; a quote is a letter like others where none do"""

    def __str__(self) -> str:
        decimal = ", decimal comma" if self.decimal_comma else ""
        return f"CSV, {_WORD[self.delimiter]}{decimal}, names in line {self.name_line}"


def dialect_of(head: bytes, name: str) -> Dialect:
    """The layout of a log that begins with `head`.

    Parameters
    ----------
    head : bytes [-]
        The first `HEAD` bytes, or all.
    name : str [-]
        Of the file, for messages.

    Returns
    -------
    dialect : Dialect [-]

    Raises
    ------
    InputError
        LOG-201 to LOG-206.
    """
    encoding = _encoding(head, name)
    lines = head.decode(encoding, errors="replace").splitlines()
    if len(head) >= HEAD and len(lines) > 1:
        lines = lines[:-1]  # the last may be cut
    if not any(line.strip() for line in lines):
        raise InputError([_problem("LOG-202", name, "nothing in it", "export the log again")])
    delimiter = _delimiter(lines)
    if max(line.count(delimiter) for line in lines) >= MOST_COLUMNS:
        found = f"more than {MOST_COLUMNS} columns"
        raise InputError([_problem("LOG-206", name, found, "export the channels that matter")])
    rows = [_cells(line, delimiter) for line in lines]
    first = _first_row(rows, name)
    names, units, at = _names(rows, first, name)
    sample = tuple(tuple(row) for row in rows[first : first + 50] if _filled(row))
    comma = _decimal_comma(sample)
    bare = b"\r" in head and b"\n" not in head
    quoted = any(n and n % 2 == 0 for n in (line.count('"') for line in lines[first:]))
    layout = Dialect(encoding, delimiter, comma, names, units, at + 1, first + 1, sample)
    return replace(layout, bare_return=bare, quoted=quoted)


def _encoding(head: bytes, name: str) -> str:
    for mark, encoding in ((b"\xef\xbb\xbf", "utf-8-sig"), (b"\xff\xfe", "utf-16"),
                           (b"\xfe\xff", "utf-16")):  # fmt: skip
        if head.startswith(mark):
            return encoding
    if b"\0" in head:
        found = "bytes that are no text"
        do = "export the log as CSV or MDF4 from the logger's own program"
        raise InputError([_problem("LOG-201", name, found, do)])
    try:
        head[: len(head) - 3 if len(head) >= HEAD else None].decode("utf-8")
    except UnicodeDecodeError:
        return "cp1252"
    return "utf-8"


def _delimiter(lines: list[str]) -> str:
    """What parts most lines into the same number of cells; the comma after what may part it."""
    tail = [line for line in lines[-60:] if line.strip()]

    def fit(mark: str) -> int:
        counts = Counter(line.count(mark) for line in tail)
        return max((often for count, often in counts.items() if count), default=0)

    best = max(map(fit, _DELIMITERS))
    # a decimal comma in every cell comes as regularly as what parts the cells
    return next(mark for mark in _DELIMITERS if fit(mark) >= 0.8 * best)


def _cells(line: str, delimiter: str) -> list[str]:
    try:
        return [c.strip() for c in next(csv.reader([line], delimiter=delimiter), [])]
    except csv.Error:
        return [c.strip() for c in line.split(delimiter)]


def _filled(row: list[str]) -> list[str]:
    return [cell for cell in row if cell]


def _is_data(row: list[str]) -> bool:
    filled = _filled(row)
    numbers = sum(bool(_NUMBER.fullmatch(c) or _CLOCK.fullmatch(c)) for c in filled)
    return len(row) > 1 and numbers >= max(1, 0.6 * len(filled))


def _first_row(rows: list[list[str]], name: str) -> int:
    """The first of a run of rows of numbers, as wide as most are."""
    wide = Counter(len(r) for r in rows if _is_data(r)).most_common(1)
    if not wide:
        found = "no row of numbers" if any(map(_filled, rows)) else "empty rows"
        raise InputError([_problem("LOG-203", name, found, "export the log with its rows")])
    for k, row in enumerate(rows):
        if len(row) == wide[0][0] and _is_data(row):
            return k
    raise AssertionError("a row of that width was counted")


def _names(
    rows: list[list[str]], first: int, name: str
) -> tuple[tuple[str, ...], tuple[str, ...], int]:
    """Names, units and the names' line, from what stands above the first row."""
    wide = len(rows[first])
    above = [k for k in range(first - 1, -1, -1) if len(_filled(rows[k])) > 1][:2]
    above = [k for k in above if abs(len(rows[k]) - wide) <= 1]
    if not above:
        found = f"line {first + 1} holds numbers, and no names stand above it"
        raise InputError([_problem("LOG-204", name, found, "put a line of names above the rows")])
    at, units = above[0], [""] * wide
    filled = _filled(rows[at])
    if len(above) > 1 and sum(map(is_unit, filled)) >= 0.6 * len(filled):
        units = _wide(rows[at], wide)
        at = above[1]
    parts = [name_and_unit(cell) for cell in _wide(rows[at], wide)]
    said = [unit or own for unit, (_, own) in zip(units, parts, strict=True)]
    return tuple(n for n, _ in parts), tuple(said), at


def _wide(row: list[str], wide: int) -> list[str]:
    return (row + [""] * wide)[:wide]


def _decimal_comma(sample: tuple[tuple[str, ...], ...]) -> bool:
    cells = [c for row in sample for c in row if _NUMBER.fullmatch(c)]
    return sum("," in c for c in cells) > sum("." in c for c in cells)


def _problem(code: str, where: str, found: str, do: str) -> Problem:
    needed = "a log: a line of names, then a row of numbers for each time"
    return Problem(code, where, found, needed, do)
