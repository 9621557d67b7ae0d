# SPDX-License-Identifier: Apache-2.0
"""Contradictions in what turns: the pump, oil on its way home, the driveline."""

from collections.abc import Iterator
from itertools import pairwise

from sumpwright.errors import Problem
from sumpwright.job.model import Engine, Job
from sumpwright.job.running import Driveline, Pump
from sumpwright.job.tree import Keys, Tree
from sumpwright.units import shown

_SHARES = 2.5e-3
"""Shares are typed in whole or tenth percents: three of 33.3 % make 99.9 %."""
_PUMP: Keys = ("engine", "pump")


def running_problems(job: Job, tree: Tree) -> Iterator[Problem]:
    """What is wrong with pump, returns and driveline."""
    if job.engine.pump is not None:
        yield from _drawn(job.engine.pump, job.engine, tree)
        yield from _relief(job.engine.pump, tree)
    yield from _shares(job.engine, tree)
    if job.driveline is not None:
        yield from _gears(job.driveline, tree)
        yield from _shifts(job.driveline, tree)


def _drawn(pump: Pump, engine: Engine, tree: Tree) -> Iterator[Problem]:
    keys: Keys = (*_PUMP, "displacement")
    needed = "what the pump draws once: `engine.pump.displacement`, or the curve `engine.flow`"
    if pump.displacement is not None and engine.flow is not None:
        found = f"{tree.typed(keys)}, and engine.flow on line {tree.line_of(('engine', 'flow'))}"
        do = "delete one of the two; the pump's pressure is computed from either"
        yield Problem("JOB-141", tree.where(keys), found, needed, do)
    if pump.displacement is None and engine.flow is None:
        do = "add `displacement:`, the volume of one turn, or `flow:` to `engine`"
        yield Problem("JOB-141", tree.where(keys), "neither", needed, do)
    for name in ("drive_ratio", "efficiency"):
        if engine.flow is not None and name in pump.model_fields_set and not pump.displacement:
            keys = (*_PUMP, name)
            needed = "no such key where `engine.flow` says what the pump draws"
            do = "delete it, or give `displacement` instead of `flow`"
            yield Problem("JOB-141", tree.where(keys), tree.typed(keys), needed, do)


def _relief(pump: Pump, tree: Tree) -> Iterator[Problem]:
    keys: Keys = (*_PUMP, "relief")
    if pump.relief is not None and pump.reading is None:
        needed = "`reading`, one oil pressure that was read: how pressure rises comes from it"
        do = "add `reading: {pressure: , rpm: , at: }`, or delete the relief pressure"
        yield Problem("JOB-142", tree.where(keys), tree.typed(keys), needed, do)
    if pump.relief is None and "relief_to" in pump.model_fields_set:
        keys = (*_PUMP, "relief_to")
        needed = "`relief`, the pressure at which the valve opens"
        do = "add `relief:`, or delete `relief_to`"
        yield Problem("JOB-142", tree.where(keys), tree.typed(keys), needed, do)
    if pump.relief is None or pump.reading is None or pump.reading.pressure < pump.relief:
        return
    keys = (*_PUMP, "reading", "pressure")
    needed = f"less than `relief`, {tree.typed((*_PUMP, 'relief'))}: a reading with the valve shut"
    do = "read it hot and at a lower engine speed, where the valve is still shut"
    yield Problem("JOB-142", tree.where(keys), tree.typed(keys), needed, do)


def _shares(engine: Engine, tree: Tree) -> Iterator[Problem]:
    total = sum(r.share for r in engine.returns or ())
    if engine.returns and abs(total - 1.0) > _SHARES:
        found = f"shares that make {shown(total, 'share', digits=1)}"
        do = "change the shares, or add the place where the rest comes home"
        yield Problem("JOB-143", tree.where(("engine", "returns")), found, "100 % in all", do)


def _gears(line: Driveline, tree: Tree) -> Iterator[Problem]:
    for i, (lower, higher) in enumerate(pairwise(line.gears)):
        keys: Keys = ("driveline", "gears", i + 1)
        before = tree.typed(("driveline", "gears", i))
        if higher >= lower:
            needed = f"less than the gear before it, {before}"
            do = "put the ratios in falling order, first gear first"
            yield Problem("JOB-144", tree.where(keys), tree.typed(keys), needed, do)
        elif line.shift_up * higher / lower <= line.shift_down < line.shift_up:
            after = shown(line.shift_up * higher / lower, "speed_rpm")
            keys = ("driveline", "shift_down")
            needed = f"less than {after}, the engine speed after the shift up to gear {i + 2}"
            do = "lower it; else the driver would shift down again at once"
            yield Problem("JOB-144", tree.where(keys), tree.typed(keys), needed, do)


def _shifts(line: Driveline, tree: Tree) -> Iterator[Problem]:
    at: Keys = ("driveline",)
    for low, high, same in (
        ("idle", "shift_down", True),
        ("shift_down", "shift_up", False),
        ("shift_up", "limit", True),
    ):
        slow, fast = getattr(line, low), getattr(line, high)
        if fast is None or slow < fast or (same and slow == fast):
            continue
        keys = (*at, high)
        needed = f"{'not less' if same else 'more'} than `{low}`, {shown(slow, 'speed_rpm')}"
        do = "let idle, shift_down, shift_up and limit rise in that order"
        yield Problem("JOB-144", tree.where(keys), tree.typed(keys), needed, do)
