# SPDX-License-Identifier: Apache-2.0
"""A logged trace out of a CSV file: read strictly, all problems at once with their lines.

Comma between columns, or semicolon; with the semicolon numbers may have a decimal comma. Empty
lines, and lines that begin with #, are passed over.
"""

import csv
from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import BinaryIO

import numpy as np
from numpy.typing import NDArray

from sumpwright.errors import Finding, InputError, Problem
from sumpwright.logs.text_line import text_lines
from sumpwright.logs.trace_header import trace_header
from sumpwright.logs.trace_row import TraceRows

Floats = NDArray[np.float64]

_NEAR_ONE = (0.5, 1.5)
"""g; a vertical channel with its middle between has gravity in it: no car is half its time in the
air or in a dip."""


@dataclass(frozen=True, eq=False)
class TraceColumns:
    """Channels of a log, (n,) each, and where its rows stand."""

    time: Floats
    """[s]"""
    ax_g: Floats
    """[g] forward"""
    ay_g: Floats
    """[g] left"""
    az_g: Floats | None
    """[g] up, 0 at rest"""
    rpm: Floats | None
    """[1/min]"""
    line: NDArray[np.int64]
    """1-based, in the file"""


def trace_columns(stream: BinaryIO, name: str) -> tuple[TraceColumns, tuple[Finding, ...]]:
    """The channels of a CSV log and what was put right on the way.

    Whether they make sense as the motion of a car is not asked here.

    Parameters
    ----------
    stream : BinaryIO [-]
        Open at its start.
    name : str [-]
        Of the file, for messages.

    Returns
    -------
    columns : TraceColumns [s, g, 1/min]
    findings : tuple of Finding [-]
        LOG-120, where gravity was taken off the vertical channel.

    Raises
    ------
    InputError
        Every problem, codes LOG-101 to LOG-105 and LOG-111 to LOG-114.
    """
    lines = _written(text_lines(stream, name))
    rows, problems = _headed(lines, name)
    try:
        for number, line in lines:
            rows.take(number, line)
    except InputError as err:
        problems += err.problems
    problems += rows.problems
    if problems:
        raise InputError(problems)
    got = {channel: np.array(values) for channel, values in rows.values.items()}
    columns = TraceColumns(
        time=got["time"], ax_g=got["ax"], ay_g=got["ay"], az_g=got.get("az"), rpm=got.get("rpm"),
        line=np.array(rows.lines),
    )  # fmt: skip
    return without_gravity(columns, name)


def without_gravity(columns: TraceColumns, name: str) -> tuple[TraceColumns, tuple[Finding, ...]]:
    """The columns with 1 g off a vertical channel that reads it at rest.

    Parameters
    ----------
    columns : TraceColumns [s, g, 1/min]
        As logged.
    name : str [-]
        Of the file, for messages.

    Returns
    -------
    columns : TraceColumns [s, g, 1/min]
    findings : tuple of Finding [-]

    Source
    ------
    [common-practice] for the limits: an accelerometer at rest reads what holds it up, 1 g.
    Checked by tests/logs/test_trace_csv.py.
    """
    if columns.az_g is None or not len(columns.az_g):
        return columns, ()
    middle = float(np.median(columns.az_g))
    if not _NEAR_ONE[0] < middle < _NEAR_ONE[1]:
        return columns, ()
    found = f"az has its middle at {middle:.3g} g: gravity is in it"
    finding = Finding("LOG-120", name, found, "1 g was taken off", "note")
    return replace(columns, az_g=columns.az_g - 1.0), (finding,)


def _written(lines: Iterator[str]) -> Iterator[tuple[int, str]]:
    """Lines that say something, by their number."""
    for number, line in enumerate(lines, 1):
        if line.strip() and not line.startswith("#"):
            yield number, line


def _headed(lines: Iterator[tuple[int, str]], name: str) -> tuple[TraceRows, list[Problem]]:
    """What takes the rows, once the line of names is read, and that line's problems."""
    number, header = next(lines, (0, ""))
    if not header:
        needed, do = "a line of names, then a row for each time", "export the log again"
        raise InputError([Problem("LOG-111", name, "nothing in it", needed, do)])
    delimiter = ";" if ";" in header else ","
    try:
        cells = next(csv.reader([header], delimiter=delimiter, strict=True))
    except csv.Error:
        cells = header.split(delimiter)  # what is wrong with it is said as names that are missing
    place, problems = trace_header(cells, f"{name}:{number}")
    return TraceRows(place, len(cells), delimiter, name), problems
