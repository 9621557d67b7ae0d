# SPDX-License-Identifier: Apache-2.0
"""A table of the report, and how its cells read."""

from dataclasses import dataclass

from sumpwright.units import shown

Row = tuple[str, ...]


@dataclass(frozen=True)
class Table:
    """A titled table."""

    key: str
    title: str
    head: Row
    rows: tuple[Row, ...]
    note: str = ""
    fold: int = 1
    """Parts the rows are set in, side by side where there is room."""
    words: tuple[int, ...] = (0,)
    """Columns of words, which may break into lines; the others are numbers."""


def length_text(value: float | None, units: str) -> str:
    """A length, or a dash where there is none."""
    return "–" if value is None else shown(value, "length", units)


def volume_text(value: float | None, units: str) -> str:
    """A volume, or a dash where there is none."""
    return "–" if value is None else shown(value, "volume", units)
