# SPDX-License-Identifier: Apache-2.0
"""What keeps a logged trace from being used, said all at once."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import ArrayLike, NDArray

from sumpwright.vehicle.motion import Floats

LONGEST_GAP = 0.5
"""s; [common-practice]: half a swing of the oil. What happened in a longer gap nobody knows."""
MOST_LEVEL_G = 4.0
"""g; [common-practice]: no car on tyres does that for as long as oil takes notice. Single rows may:
noise and blows are what the filter is for."""
OFTEN = 0.01
"""Share of the rows above which a value is no single row's."""
MOST_G = 20.0
"""g; [common-practice]: no row of a sound log has that, in any direction."""
AT_REST_G = 0.5
"""g; a vertical channel with a middle above this has gravity in it."""
MOST_RPM = 25000.0

Sort = Literal["rows", "number", "order", "gap", "size", "gravity"]


@dataclass(frozen=True)
class Fault:
    """One thing wrong with a trace; the reader of the file adds its line."""

    sort: Sort
    channel: str
    row: int | None
    """First row it is true of, from 0; None where it is true of the whole channel."""
    found: str
    needed: str
    do: str

    def __str__(self) -> str:
        place = self.channel if self.row is None else f"{self.channel}, row {self.row}"
        return f"{place}: found {self.found}, needed {self.needed}; {self.do}"


def trace_faults(
    time: ArrayLike,
    ax_g: ArrayLike,
    ay_g: ArrayLike,
    az_g: ArrayLike | None = None,
    rpm: ArrayLike | None = None,
    *,
    longest_gap: float = LONGEST_GAP,
) -> tuple[Fault, ...]:
    """Everything that keeps a trace from being used; empty for a good one.

    Parameters
    ----------
    time : (n,) [s]
        Of each row, rising, from any start.
    ax_g : (n,) [g]
        Forward.
    ay_g : (n,) [g]
        Left.
    az_g : (n,) or None [g]
        Up, without gravity: 0 at rest.
    rpm : (n,) or None [1/min]
        Engine speed.
    longest_gap : float [s]
        Between two rows.

    Returns
    -------
    faults : tuple of Fault [-]

    Source
    ------
    [common-practice] for the limits. Checked by tests/vehicle/test_trace.py.
    """
    named = channels(time, ax_g, ay_g, az_g, rpm)
    if faults := tuple(_shape_faults(named)):
        return faults
    found = [*_number_faults(named)]
    if not any(fault.channel == "time" for fault in found):
        found += _time_faults(named["time"], longest_gap)
    return (*found, *_value_faults(named))


def channels(
    time: ArrayLike,
    ax_g: ArrayLike,
    ay_g: ArrayLike,
    az_g: ArrayLike | None,
    rpm: ArrayLike | None,
) -> dict[str, Floats]:
    """The channels that were given, as arrays by name.

    Parameters
    ----------
    time : (n,) [s]
        Of each row.
    ax_g : (n,) [g]
        Forward.
    ay_g : (n,) [g]
        Left.
    az_g : (n,) or None [g]
        Up.
    rpm : (n,) or None [1/min]
        Engine speed.

    Returns
    -------
    named : dict of (n,) [as given]
    """
    given = {"time": time, "ax_g": ax_g, "ay_g": ay_g, "az_g": az_g, "rpm": rpm}
    return {n: np.asarray(c, dtype=np.float64) for n, c in given.items() if c is not None}


def _shape_faults(named: dict[str, Floats]) -> Iterator[Fault]:
    rows = named["time"].size
    for name, values in named.items():
        if values.ndim != 1 or len(values) != rows:
            found, needed = f"{values.size} values", f"{rows}, one a row"
            yield Fault("rows", name, None, found, needed, "fill the column")
    if rows < 2:
        yield Fault("rows", "time", None, f"{rows} rows", "at least 2", "log for longer")


def _number_faults(named: dict[str, Floats]) -> Iterator[Fault]:
    for name, values in named.items():
        bad = ~np.isfinite(values)
        yield from _first(
            "number", name, bad, lambda i: "no number", "a number", "cut or fill the row"
        )


def _time_faults(time: Floats, longest_gap: float) -> Iterator[Fault]:
    step = np.diff(time)
    yield from _first(
        "order",
        "time",
        np.append(False, step <= 0.0),
        lambda i: f"{time[i]:.6g} s after {time[i - 1]:.6g} s",
        "time that rises from row to row",
        "take out doubled rows, or give one session only",
    )
    yield from _first(
        "gap",
        "time",
        np.append(False, step > longest_gap * (1.0 + 1e-9)),
        lambda i: f"{step[i - 1]:.4g} s without a row",
        f"{longest_gap:.4g} s at most",
        "cut the log there, and use the pieces one by one",
    )


def _value_faults(named: dict[str, Floats]) -> Iterator[Fault]:
    for name in ("ax_g", "ay_g", "az_g"):
        if name in named:
            yield from _too_large(name, np.abs(named[name]))
    if "az_g" in named and abs(middle := float(np.nanmedian(named["az_g"]))) > AT_REST_G:
        do = "take 1 g off the channel" if middle > 0.0 else "turn its sign and take 1 g off"
        yield Fault("gravity", "az_g", None, f"{middle:.3g} g as its middle", "0 g at rest", do)
    if "rpm" in named:
        values = named["rpm"]
        yield from _first(
            "size",
            "rpm",
            (values < 0.0) | (values > MOST_RPM),
            lambda i: f"{values[i]:.6g} rpm",
            f"0 to {MOST_RPM:.0f} rpm",
            "mend the channel or leave it out",
        )


def _too_large(name: str, size: Floats) -> Iterator[Fault]:
    over = size > MOST_LEVEL_G
    if np.mean(over) > OFTEN:
        do = "see whether it is in m/s^2: then divide by 9.80665"
        yield from _first(
            "size", name, over, lambda i: f"{size[i]:.4g} g", f"{MOST_LEVEL_G:g} g or less", do
        )
    else:
        do = "cut the row, or fill it from its neighbours"
        yield from _first(
            "size", name, size > MOST_G, lambda i: f"{size[i]:.4g} g", f"{MOST_G:g} g or less", do
        )


def _first(
    sort: Sort,
    channel: str,
    bad: NDArray[np.bool_],
    found: Callable[[int], str],
    needed: str,
    do: str,
) -> Iterator[Fault]:
    """One fault for all rows that share it, at the first of them."""
    if bad.any():
        row, count = int(np.argmax(bad)), int(bad.sum())
        more = f" ({count} rows in all)" if count > 1 else ""
        yield Fault(sort, channel, row, found(row) + more, needed, do)
