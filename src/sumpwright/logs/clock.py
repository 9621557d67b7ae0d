# SPDX-License-Identifier: Apache-2.0
"""A log's time as seconds that rise: repeats, steps backwards and restarts put right and said."""

from dataclasses import dataclass
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from sumpwright.errors import Finding, InputError, Problem

Floats = NDArray[np.float64]
Rows = NDArray[np.int64]

DAY = 86400.0
FEW = 0.05
"""Share of rows that may be out of order; with more, the clock began anew."""
PART, APART = 5.0, 30.0
"""[s] of the shortest part of a session; between parts: longer than any gap that is bridged."""


@dataclass(frozen=True, eq=False)
class Clock:
    """Rising time and the rows it came from."""

    time: Floats
    """(k,) [s] from 0"""
    rows: Rows
    """(k,) places in the log"""
    findings: tuple[Finding, ...]


def rising(time: Floats, name: str) -> Clock:
    """The rows of a log in rising time, from 0.

    Parameters
    ----------
    time : (n,) [s]
        As logged; nan where a row has none.
    name : str [-]
        Of the file, for messages.

    Returns
    -------
    clock : Clock [s]

    Raises
    ------
    InputError
        LOG-208, where fewer than two times are left.
    """
    findings: list[Finding] = []
    rows = np.flatnonzero(np.isfinite(time))
    if len(rows) < len(time):
        findings.append(_found("LOG-221", name, len(time) - len(rows), "without a time", time))
    rows = _over_midnight(time, rows, findings, name)
    rows = _in_order(time, rows, findings, name)
    if len(rows) < 2:
        found = f"{len(rows)} row{'' if len(rows) == 1 else 's'} with a time of its own"
        needed, do = "at least two", "log for longer, or name the column of time"
        raise InputError([Problem("LOG-208", name, found, needed, do)])
    kept = time[rows]
    return Clock(kept - kept[0], rows, tuple(findings))


def _over_midnight(time: Floats, rows: Rows, findings: list[Finding], name: str) -> Rows:
    """Adds a day where a time of day begins anew at midnight."""
    t = time[rows]
    drops = np.flatnonzero(np.diff(t) < -0.9 * DAY)
    if not len(drops) or t.max() >= DAY:
        return rows
    for k in drops:
        time[rows[k + 1 :]] += DAY
    findings.append(
        Finding("LOG-224", name, "a time of day that passes midnight", "a day was added", "note")
    )
    return rows


def _in_order(time: Floats, rows: Rows, findings: list[Finding], name: str) -> Rows:
    t = time[rows]
    if len(t) < 2:
        return rows
    top = np.maximum.accumulate(t)
    later = np.concatenate([[True], t[1:] > top[:-1]])
    same = ~later & np.concatenate([[False], t[1:] == top[:-1]])
    back = ~later & ~same
    if back.mean() > FEW:
        return _end_to_end(time, rows, findings, name)
    if same.any():
        findings.append(_found("LOG-222", name, int(same.sum()), "with the time before", t[same]))
    if back.any():
        findings.append(_found("LOG-223", name, int(back.sum()), "back in time", t[back]))
    return np.asarray(rows[later])


def _end_to_end(time: Floats, rows: Rows, findings: list[Finding], name: str) -> Rows:
    """Parts whose time begins anew, one after another; repeats within each taken out.

    Where they are too many or too short to be parts of a session, the longest alone.
    """
    t = time[rows]
    cuts = np.concatenate([[0], np.flatnonzero(np.diff(t) < 0.0) + 1, [len(t)]])
    sizes = np.diff(cuts)
    parts = [rows[a:b] for a, b in pairwise(cuts.tolist())]
    found = f"time begins anew {len(sizes) - 1} times"
    whole = [p for p in parts if len(p) > 1 and time[p[-1]] - time[p[0]] >= PART]
    if sum(map(len, whole)) < 0.9 * len(t):
        k = int(np.argmax(sizes))
        repair = f"only the longest part was read, {sizes[k]} of {len(t)} rows"
        findings.append(Finding("LOG-225", name, found, repair, "error"))
        return _once(time, parts[k])
    now, starts = float(time[whole[0][0]]), []
    for part in whole:
        time[part] += now - time[part[0]]
        starts.append(now - float(time[whole[0][0]]))
        now = float(time[part].max()) + APART
    said = ", ".join(f"{s:.0f} s" for s in starts)
    lost = len(t) - sum(map(len, whole))
    repair = f"its parts were laid {APART:.0f} s apart, from {said}" + (
        f"; {lost} rows of shorter parts left out" if lost else ""
    )
    findings.append(Finding("LOG-225", name, found, repair, "note"))
    return np.concatenate([_once(time, p) for p in whole])


def _once(time: Floats, rows: Rows) -> Rows:
    return np.asarray(rows[np.concatenate([[True], np.diff(time[rows]) > 0.0])])


def _found(code: str, name: str, count: int, what: str, times: Floats) -> Finding:
    said = f"{count} row{'' if count == 1 else 's'} {what}"
    if np.isfinite(times[:1]).all() and len(times):
        said += f", first at {times[0]:.3f} s"
    return Finding(code, name, said, "left out", "note")
