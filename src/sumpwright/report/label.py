# SPDX-License-Identifier: Apache-2.0
"""Words in a column beside a picture, each with a thin line to the thing it names."""

from dataclasses import dataclass

import numpy as np

from sumpwright.report import palette
from sumpwright.report.lettering import fitted, stacked, wrapped
from sumpwright.report.svg import Drawing

SIZE, ROW, BETWEEN = 14.0, 17.0, 6.0
"""Height of the letters, of a row, and the white between two labels."""
MOST_ROWS = 3


@dataclass(frozen=True)
class Label:
    """What to say of the spot `at`, with a small heading `over` it."""

    at: tuple[float, float]
    words: str
    bold: bool = False
    """Ringed, and the last to be left out."""
    over: str = ""
    hidden: bool = False
    """The spot is behind something: its ring is dashed."""


@dataclass(frozen=True)
class Column:
    """Where the words go, and the knee where the lines turn level."""

    left: float
    right: float
    top: float
    bottom: float

    @property
    def knee(self) -> float:
        """x at which a line reaches the height of its words."""
        return self.left - 20.0


def draw_labels(drawing: Drawing, labels: list[Label], column: Column, *, rest: str = "") -> None:
    """Write the labels; those that find no room are counted in a last line that ends in `rest`."""
    told, left_out = _fitting(labels, column)
    high = [_height(rows) for _, rows in told]
    bottom = column.bottom - (ROW + BETWEEN if left_out else 0.0)
    places = stacked([a.at[1] for a, _ in told], high, column.top, bottom)
    for (label, rows), middle, tall in zip(told, places, high, strict=True):
        top = middle - 0.5 * tall + 0.5 * BETWEEN
        _line(drawing, label, column, top + 0.5 * ROW + (ROW if label.over else 0.0))
        if label.over:
            drawing.text((column.left, top + 12.0), label.over, size=12, fill=palette.MUTED)
            top += ROW
        for k, row in enumerate(rows[1:] if label.over else rows):
            place = (column.left, top + 13.0 + ROW * k)
            drawing.text(place, row, size=SIZE, bold=label.bold)
    if left_out:
        words = fitted(f"and {left_out} more{rest}", 13.0, column.right - column.left)
        drawing.text((column.left, column.bottom - 4.0), words, size=13, fill=palette.MUTED)


def _height(rows: list[str]) -> float:
    return ROW * len(rows) + BETWEEN


def _fitting(labels: list[Label], column: Column) -> tuple[list[tuple[Label, list[str]]], int]:
    """The labels with their rows, as many of both as there is room for, and how many are not."""
    room, kept = column.bottom - column.top, list(labels)
    for most in (MOST_ROWS, 2, 1):
        told = [(label, _rows(label, column, most)) for label in kept]
        if sum(_height(rows) for _, rows in told) <= room:
            return told, 0
    room -= ROW + BETWEEN
    while len(told) > 1 and sum(_height(rows) for _, rows in told) > room:
        spare = [k for k, (label, _) in enumerate(told) if not label.bold] or [len(told) - 1]
        told.pop(spare[-1])
    return told, len(kept) - len(told)


def _rows(label: Label, column: Column, most: int) -> list[str]:
    wide = column.right - column.left
    rows = wrapped(label.words, SIZE, wide, label.bold)
    if label.bold:  # the one that matters is never cut short
        most = max(most, 5)
    if len(rows) > most:
        rows = [*rows[: most - 1], " ".join(rows[most - 1 :])]
    rows = [fitted(row, SIZE, wide, label.bold) for row in rows]
    return [label.over, *rows] if label.over else rows


def _line(drawing: Drawing, label: Label, column: Column, y: float) -> None:
    """From the spot to the knee and on to the words; from the ring's edge where there is one."""
    knee, spot = np.array([column.knee, y]), np.array(label.at)
    away = knee - spot
    if label.bold:
        spot = spot + away * (9.0 / max(float(np.linalg.norm(away)), 9.0))
    leader = np.array([spot, knee, (column.left - 5.0, y)])
    drawing.path([leader], stroke=palette.PAPER, width=3.4, closed=False)
    drawing.path([leader], stroke=palette.INK, width=1.1, closed=False)
    if label.bold:
        drawing.dot(label.at, 9.0, stroke=palette.PAPER, width=5.0)
        dash = (4.0, 3.0) if label.hidden else ()
        drawing.dot(label.at, 9.0, stroke=palette.INK, width=2.4, dash=dash)
    else:
        drawing.dot(label.at, 2.6, fill=palette.INK, stroke=palette.PAPER, width=1.0)
