# SPDX-License-Identifier: Apache-2.0
"""What has to be seen before a release, and how each is judged from the records that count."""

from collections.abc import Callable
from dataclasses import dataclass

from sumpwright.job.record import (
    DoorRow,
    DoorTest,
    FillRow,
    FillTest,
    LeakTest,
    Session,
    Teardown,
)
from sumpwright.job.record_load import Filed
from sumpwright.studies.proof_case import Case, Seen, Unseen
from sumpwright.studies.proof_log import WAY, asks_g, driven
from sumpwright.studies.proof_tilt import tilted
from sumpwright.studies.record import doors_of
from sumpwright.studies.result import PanFill
from sumpwright.studies.rule import number
from sumpwright.units import shown

_FULL = 0.97
"""Share of the full mark a fill test has to reach: what it may be off by, short of it."""
LOST = 0.1
"""Share of the full mark by which the oil may differ afterwards; common practice, no source."""
_FEWEST = 3
"""Pours: two points fit any straight line."""


@dataclass(frozen=True)
class ProofRule:
    """One requirement on evidence."""

    id: str
    statement: str
    kind: str
    judge: Callable[[Case], Seen | Unseen]
    asked: Callable[[Case], bool] = lambda _case: True


def _fill(case: Case) -> Seen | Unseen:
    limit = number(case.loaded.job.requirements.proof_fill)
    filed = case.of("fill-test")
    if case.fill is None:
        return Unseen("needs a fill curve: the job's fill", limit)
    if not filed:
        return case.unseen("fill-test", "a fill test", limit)
    short = [s for f in filed if (s := _short_of(f, case.fill.full_m3))]
    if len(short) == len(filed):
        why = f"needs a fill test of {_FEWEST} pours or more, up to the full mark; "
        return Unseen(f"{why}{', '.join(short)}", limit)
    high = [f.name for f in filed if _highest(f) > case.fill.curve.depth_m[-1]]
    if high:
        return Unseen(f"needs heights under the rail; {', '.join(high)} has one over it", limit)
    worst, name, where = max(_fill_error(f, case.fill, case.loaded.job.units) for f in filed)
    return Seen(worst, limit, f"worst at {where}, of {name}", _names(filed), at_most=True)


def _short_of(filed: Filed, full: float) -> str:
    """What a fill test lacks; empty where it has enough."""
    record = filed.record
    assert isinstance(record, FillTest)
    if len(record.rows) < _FEWEST:
        return f"{filed.name} has {len(record.rows)}"
    return (
        "" if max(r.poured for r in record.rows) >= _FULL * full else f"{filed.name} stops before"
    )


def _highest(filed: Filed) -> float:
    record = filed.record
    assert isinstance(record, FillTest)
    return max(row.height for row in record.rows)


def _fill_error(filed: Filed, fill: PanFill, units: str) -> tuple[float, str, str]:
    """Largest difference to the curve as a share of the full mark, and where."""
    import numpy as np

    record = filed.record
    assert isinstance(record, FillTest)

    def off(row: FillRow) -> float:
        curve = float(np.interp(row.height, fill.curve.depth_m, fill.curve.volume_m3))
        return abs(curve - row.poured) / fill.full_m3

    worst = max(record.rows, key=off)
    return off(worst), filed.name, shown(worst.poured, "volume", units)


def _doors(case: Case) -> Seen | Unseen:
    wanted = doors_of(case.loaded)
    filed = case.of("door-test")
    if not filed:
        return case.unseen("door-test", "a door test", float(len(wanted)))
    rows = [r for f in filed if isinstance(f.record, DoorTest) for r in f.record.doors]
    good, bad = _good_doors(rows, wanted)
    why = f"not: {', '.join(bad)}" if bad else "each seen to swing and to stop"
    return Seen(float(good), float(len(wanted)), why, _names(filed))


def _good_doors(rows: list[DoorRow], wanted: tuple[tuple[str, str], ...]) -> tuple[int, list[str]]:
    """How many doors are right whenever they were looked at, and which are not or were not."""
    bad = []
    for baffle, door in wanted:
        seen = [r for r in rows if (r.baffle, r.door) == (baffle, door)]
        if not seen or not all(r.swings and r.stops for r in seen):
            bad.append(f"{door} on {baffle}" + ("" if seen else " (not looked at)"))
    return len(wanted) - len(bad), bad


def _leak(case: Case) -> Seen | Unseen:
    filed = case.of("leak-test")
    if not filed:
        return case.unseen("leak-test", "a leak test", 0.0)
    faults = [
        f"{leak.place} {leak.much}"
        for f in filed
        if isinstance(f.record, LeakTest)
        for leak in f.record.leaks
    ]
    return _none_of(faults, filed)


def _session(case: Case) -> Seen | Unseen:
    filed = case.of("session")
    if not filed:
        return case.unseen("session", "a session that was driven", 0.0)
    faults = []
    for f in filed:
        if isinstance(f.record, Session):
            faults += [f"{leak.place} {leak.much}" for leak in f.record.leaks]
            faults += list(f.record.trouble)
            faults += _lost(case, f.record.level_before, f.record.level_after, 0.0)
    return _none_of(faults, filed)


def _lost(case: Case, before: float, after: float, stays: float) -> list[str]:
    """Oil that came or went without a word: a leak, oil burnt, fuel or water in it."""
    if case.fill is None:
        return []
    units, much = case.loaded.job.units, LOST * case.fill.full_m3
    one, other = (shown(v, "volume", units) for v in (before, after))
    if before - after > much + stays:
        return [f"oil fell from {one} to {other}"]
    if after - before > much:
        return [f"oil rose from {one} to {other}"]
    return []


def _teardown(case: Case) -> Seen | Unseen:
    filed = case.of("teardown")
    if not filed:
        return case.unseen("teardown", "a teardown", 0.0)
    faults = [x for f in filed if isinstance(f.record, Teardown) for x in _faults(f.record, case)]
    return _none_of(faults, filed)


def _faults(record: Teardown, case: Case) -> list[str]:
    faults = [f"{leak.place} {leak.much}" for leak in record.leaks]
    faults += [f"weld {w.name} not sound" for w in record.welds if not w.sound]
    faults += [f"door: {bad}" for bad in _good_doors(list(record.doors), doors_of(case.loaded))[1]]
    if record.oil not in ("good", "dark"):
        faults.append(f"oil {record.oil}")
    if record.debris in ("flakes", "chips"):
        faults.append(f"{record.debris} in the pan")
    if record.screen != "clean":
        faults.append(f"screen {record.screen}")
    beyond = case.loaded.job.oil.beyond_pan
    return faults + _lost(case, record.level_in, record.level_out, beyond)


def _none_of(faults: list[str], filed: tuple[Filed, ...]) -> Seen:
    why = ", ".join(faults) if faults else "nothing found"
    return Seen(float(len(faults)), 0.0, why, _names(filed), at_most=True)


def _names(filed: tuple[Filed, ...]) -> tuple[str, ...]:
    return tuple(f.name for f in filed)


RULES = (
    ProofRule("proof_fill", "A fill test follows the fill curve", "share", _fill),
    ProofRule("proof_tilt", "A tilt test puts the oil where it should lie", "length", tilted),
    ProofRule(
        "proof_doors",
        "Every trap door was seen to swing",
        "count",
        _doors,
        lambda case: bool(doors_of(case.loaded)),
    ),
    ProofRule("proof_leak", "A leak test found no leak", "count", _leak),
    *(
        ProofRule(
            f"proof_{turn}",
            f"Logs without a dip, {WAY[turn]}",
            "acceleration",
            driven(turn),
            asks_g(turn),
        )
        for turn in ("left", "right", "brake")
    ),
    ProofRule("proof_session", "Sessions without a leak or trouble", "count", _session),
    ProofRule("proof_teardown", "A teardown found no fault", "count", _teardown),
)
"""In the order of the work."""
