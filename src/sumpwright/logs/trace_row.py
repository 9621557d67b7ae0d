# SPDX-License-Identifier: Apache-2.0
"""The rows of a logged trace: cells into numbers, and what is wrong with any of them."""

import csv
import math
from array import array
from collections.abc import Mapping
from dataclasses import replace

from sumpwright.errors import InputError, Problem

MOST_ROWS = 1_000_000
"""Most rows read: nearly three hours at 100 a second."""
_SHOWN = 40  # characters of a cell


class TraceRows:
    """Takes lines one by one; of each kind of problem it keeps the first and counts the rest."""

    def __init__(self, place: Mapping[str, int], width: int, delimiter: str, name: str) -> None:
        self.values = {channel: array("d") for channel in place}
        self.lines = array("q")
        self._place, self._width = place, width
        self._delimiter, self._name = delimiter, name
        self._first: dict[str, Problem] = {}
        self._count: dict[str, int] = {}

    @property
    def problems(self) -> list[Problem]:
        """One for all rows that share it, at the first of them."""
        return [
            replace(first, found=f"{first.found} ({self._count[kind]} rows in all)")
            if self._count[kind] > 1
            else first
            for kind, first in self._first.items()
        ]

    def take(self, number: int, line: str) -> None:
        """Read one line that is not empty."""
        if len(self.lines) >= MOST_ROWS:
            raise InputError([self._too_many(number)])
        cells = self._cells(number, line)
        if cells is None:
            return
        self.lines.append(number)
        for channel, at in self._place.items():
            self.values[channel].append(self._number(cells[at], channel, number))

    def _cells(self, number: int, line: str) -> list[str] | None:
        try:
            cells = next(csv.reader([line], delimiter=self._delimiter, strict=True))
        except csv.Error as err:
            do = "mend the line's quotes, or take it out"
            self._note("quotes", number, f"a line that does not end ({err})", "cells", do)
            return None
        extra = [cell for cell in cells[self._width :] if cell.strip()]
        if len(cells) < self._width or extra:
            needed = f"{self._width} cells, as in the line of names"
            do = "fill or cut the row" if not extra else self._mend_of_extra()
            self._note("cells", number, f"{len(cells)} cells", needed, do)
            return None
        return cells

    def _number(self, cell: str, channel: str, number: int) -> float:
        """The cell's number; after a note not one."""
        text = cell.strip()
        if self._delimiter == ";" and "." not in text:
            text = text.replace(",", ".", 1)
        try:
            if text.isascii() and "_" not in text and math.isfinite(value := float(text)):
                return value
        except ValueError:
            pass
        needed = f"a number for {channel}, such as {'0,25' if self._delimiter == ';' else '0.25'}"
        do = "cut the row, or fill it from its neighbours"
        if len(self.lines) == 1:
            do += "; if it is a line of units, take it out"
        self._note(channel, number, repr(cell.strip()[:_SHOWN]), needed, do)
        return math.nan

    def _mend_of_extra(self) -> str:
        if self._delimiter == ",":
            return "where numbers have a decimal comma, put semicolons between the columns"
        return "give every column its name in the first line"

    def _note(self, kind: str, number: int, found: str, needed: str, do: str) -> None:
        self._count[kind] = self._count.get(kind, 0) + 1
        if kind not in self._first:
            code = "LOG-105" if kind in ("quotes", "cells") else "LOG-104"
            where = f"{self._name}:{number}" + ("" if code == "LOG-105" else f"  {kind}")
            self._first[kind] = Problem(code, where, found, needed, do)

    def _too_many(self, number: int) -> Problem:
        needed = f"at most {MOST_ROWS:,} rows"
        do = "export the part to be driven, or fewer rows a second: 50 are plenty for oil"
        return Problem("LOG-114", f"{self._name}:{number}", "one row more", needed, do)
