# SPDX-License-Identifier: Apache-2.0
"""Columns of a text log as numbers, by the layout that was found; only those that are asked for."""

import io
import warnings
from collections.abc import Sequence
from itertools import islice
from pathlib import Path
from typing import TYPE_CHECKING, Any

import numpy as np
from numpy.typing import NDArray

from sumpwright.errors import InputError, Problem
from sumpwright.logs.dialect import Dialect

if TYPE_CHECKING:
    import polars

Floats = NDArray[np.float64]

_CLOCK = r"(?:^|[ T])(\d{1,3}):(\d\d)(?::(\d\d(?:[.,]\d+)?)|([.,]\d+))?"
"""Hours, minutes and seconds; or minutes, seconds and their fraction"""
_DATE = r"(\d{4}-\d\d-\d\d)"


def columns_of(path: Path, dialect: Dialect, places: Sequence[int], clock: int) -> list[Floats]:
    """The columns at `places`; nan where a cell is blank or no number.

    Parameters
    ----------
    path : Path [-]
    dialect : Dialect [-]
    places : sequence of int [-]
        From 0.
    clock : int [-]
        Place of the time among them, which may be a time of day or a date and time.

    Returns
    -------
    columns : list of (n,) [-]
        In the order of `places`.

    Raises
    ------
    InputError
        LOG-207, where the text cannot be taken apart.
    """
    text = {k for k in places if k == clock and _is_clock(dialect, k)}
    frame = _frame(path, dialect, places, text)
    found = []
    for place in places:
        series = frame[f"c{place}"]
        found.append(_seconds(series) if place in text else _numbers(series))
    return found


def _is_clock(dialect: Dialect, place: int) -> bool:
    cells = [row[place] for row in dialect.sample if place < len(row) and row[place]]
    return any(":" in cell for cell in cells)


def _frame(
    path: Path, dialect: Dialect, places: Sequence[int], text: set[int]
) -> "polars.DataFrame":
    import polars as pl

    wide = len(dialect.names)
    quoted = dialect.decimal_comma and dialect.delimiter == ","  # numbers as "3,5"
    schema: dict[str, Any] = {f"c{k}": pl.String if quoted else pl.Float64 for k in range(wide)}
    schema |= {f"c{k}": pl.String for k in range(wide) if k in text or k not in places}
    options: dict[str, Any] = {
        "separator": dialect.delimiter,
        "has_header": False,
        "skip_lines": dialect.first_row - 1,
        "schema": schema,
        "columns": sorted(places),
        "decimal_comma": dialect.decimal_comma and not quoted,
        "ignore_errors": True,
        "truncate_ragged_lines": True,
        "quote_char": '"' if dialect.quoted else None,
        "encoding": "utf8-lossy",
        "low_memory": False,
    }
    try:
        try:
            with warnings.catch_warnings():
                # said where a quote that never ends joins rows; those rows are lost
                warnings.filterwarnings("ignore", message="CSV malformed")
                frame = pl.read_csv(_source(path, dialect), **options)
            if not dialect.quoted or quoted or frame.height >= _rows(path, dialect):
                return frame
            options["quote_char"] = None  # a quote that never ends has swallowed rows
            return pl.read_csv(_source(path, dialect), **options)
        except pl.exceptions.PolarsError:
            options["quote_char"] = None
            return pl.read_csv(_source(path, dialect), **options)
    except pl.exceptions.PolarsError as err:
        found = str(err).splitlines()[0][:120] or "text that does not come apart"
        needed = "rows of cells, each as the row of names"
        do = "export the log again; look at its last line, it may be cut"
        raise InputError([Problem("LOG-207", path.name, found, needed, do)]) from err


def _rows(path: Path, dialect: Dialect) -> int:
    """Lines with something in them from the first row on; 0 where bytes do not tell."""
    if dialect.encoding == "utf-16" or dialect.bare_return:
        return 0
    with path.open("rb") as stream:
        return sum(bool(line.strip()) for line in islice(stream, dialect.first_row - 1, None))


def _source(path: Path, dialect: Dialect) -> Any:
    """The file itself, or its text in memory where its bytes are not as the reader takes them."""
    if dialect.encoding != "utf-16" and not dialect.bare_return:
        return path
    wide = dialect.encoding == "utf-16"
    data = path.read_bytes()
    text = data.decode("utf-16" if wide else "utf-8", errors="replace")
    return io.BytesIO((text.replace("\r", "\n") if dialect.bare_return else text).encode("utf-8"))


def _numbers(series: "polars.Series") -> Floats:
    import polars as pl

    if series.dtype == pl.String:
        series = series.str.strip_chars().str.replace(",", ".").cast(pl.Float64, strict=False)
    values = series.fill_null(np.nan).to_numpy().astype(float)
    return np.where(np.isfinite(values), values, np.nan)


def _seconds(series: "polars.Series") -> Floats:
    """Times of day, with the day where one is given, as seconds."""
    import polars as pl

    clock = series.str.strip_chars().str.extract_groups(_CLOCK).struct.unnest()
    hours, minutes, seconds, part = (
        column.str.replace(",", ".").cast(pl.Float64, strict=False) for column in clock
    )
    short = part.is_not_null().to_numpy()
    if not len(seconds.drop_nulls()) and hours.drop_nulls().head(1).to_list() == [0.0]:
        short = np.ones(len(short), dtype=bool)  # `0:30` typed from the start: minutes and seconds
    days = series.str.extract(_DATE, 1).str.to_date("%Y-%m-%d", strict=False)
    days = days.cast(pl.Int32).cast(pl.Float64).fill_null(0.0)
    whole = (hours * 3600.0 + minutes * 60.0).fill_null(np.nan).to_numpy()
    rest = (seconds.fill_null(0.0) + part.fill_null(0.0)).to_numpy()
    found = days.to_numpy() * 86400.0 + np.where(short, whole / 60.0, whole) + rest
    return np.asarray(found, dtype=float)
