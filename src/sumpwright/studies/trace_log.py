# SPDX-License-Identifier: Apache-2.0
"""A log's file as the motion of a car, and what was done to it on the way."""

from difflib import get_close_matches
from pathlib import Path

from sumpwright.errors import Finding, InputError, Problem
from sumpwright.geometry.frame import STANDARD_GRAVITY
from sumpwright.logs.trace_csv import TraceColumns, trace_columns
from sumpwright.vehicle.motion import Motion
from sumpwright.vehicle.trace import CUTOFF, TRACE_JERK, Smoothing, logged_trace
from sumpwright.vehicle.trace_fault import LONGEST_GAP, Fault, trace_faults

_CODE = {
    "number": "LOG-104",
    "order": "LOG-106",
    "gap": "LOG-107",
    "rows": "LOG-108",
    "size": "LOG-109",
    "gravity": "LOG-110",
}
_SIGNS = "; then look at ax and ay too: forward and left are positive"


def logged_motion(
    path: Path,
    *,
    cutoff: float | None = None,
    jerk: float | None = None,
    longest_gap: float | None = None,
) -> tuple[Motion, tuple[Finding, ...], tuple[str, ...]]:
    """Motion, findings and assumptions of the CSV file `path`; InputError with its problems."""
    columns, findings = _read(path)
    channels = (columns.time, columns.ax_g, columns.ay_g, columns.az_g, columns.rpm)
    gap = LONGEST_GAP if longest_gap is None else longest_gap
    if faults := trace_faults(*channels, longest_gap=gap):
        raise InputError(_problem(fault, columns, path.name) for fault in faults)
    motion, smoothing = logged_trace(
        *channels,
        cutoff=CUTOFF if cutoff is None else cutoff,
        jerk=TRACE_JERK if jerk is None else jerk,
        longest_gap=gap,
    )
    return motion, (*findings, *_held_back(smoothing, path.name)), _assumptions(smoothing, columns)


def _read(path: Path) -> tuple[TraceColumns, tuple[Finding, ...]]:
    if not path.is_file():
        raise InputError([_missing(path)])
    try:
        with path.open("rb") as stream:
            return trace_columns(stream, path.name)
    except OSError as err:
        found = f"a file that cannot be read ({err.strerror})"
        raise InputError(
            [Problem("LOG-115", str(path), found, "a log", "allow reading it")]
        ) from err


def _missing(path: Path) -> Problem:
    if path.is_dir():
        return Problem("LOG-115", str(path), "a folder", "a log as a CSV file", "name the file")
    try:
        there = [p.name for p in path.parent.iterdir() if p.suffix.lower() == ".csv"]
    except OSError:
        there = []
    near = get_close_matches(path.name, there, n=1)
    do = f"did you mean {path.parent / near[0]}?" if near else "check the path"
    return Problem("LOG-115", str(path), "no file of that name", "a log as a CSV file", do)


def _problem(fault: Fault, columns: TraceColumns, name: str) -> Problem:
    where = name if fault.row is None else f"{name}:{columns.line[fault.row]}"
    channel = fault.channel.removesuffix("_g")
    do = fault.do + (_SIGNS if fault.found.startswith("-") and fault.sort == "gravity" else "")
    return Problem(_CODE[fault.sort], f"{where}  {channel}", fault.found, fault.needed, do)


def _held_back(smoothing: Smoothing, name: str) -> tuple[Finding, ...]:
    if not smoothing.held_share:
        return ()
    found = (
        f"smoothed at {smoothing.cutoff:.3g} Hz it still rises faster than a car does, over "
        f"{100.0 * smoothing.held_share:.2g} % of its time"
    )
    repair = f"held back there, by {smoothing.largest_hold / STANDARD_GRAVITY:.2g} g at most"
    return (Finding("LOG-121", name, found, repair, "note"),)


def _assumptions(smoothing: Smoothing, columns: TraceColumns) -> tuple[str, ...]:
    said = [f"What swings faster than {smoothing.cutoff:.3g} Hz was taken off the log."]
    if columns.az_g is None:
        said.append("The log has no az: no vertical acceleration.")
    return tuple(said)
