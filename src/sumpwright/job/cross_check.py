# SPDX-License-Identifier: Apache-2.0
"""What no section of a job can see alone: values that contradict one another."""

from collections.abc import Iterator, Sequence
from typing import Protocol

from sumpwright.errors import Problem
from sumpwright.job.cross_check_baffle import baffle_problems
from sumpwright.job.cross_check_manoeuvre import manoeuvre_problems
from sumpwright.job.cross_check_rail import rail_problems
from sumpwright.job.cross_check_running import running_problems
from sumpwright.job.cross_check_shape import shape_problems
from sumpwright.job.model import Dipstick, Engine, Job, Pan
from sumpwright.job.tree import Keys, Tree, dotted
from sumpwright.units import shown

_SLACK = 1e-9
"""Of a speed: the rounding of a unit conversion is not a contradiction."""


class _Point(Protocol):
    @property
    def rpm(self) -> float: ...


def cross_problems(job: Job, tree: Tree) -> list[Problem]:
    """Contradictions between the values of a job that are each right by themselves."""
    return [
        *_fill(job, tree),
        *_low_mark(job, tree),
        *_pan(job.new, "new", tree),
        *(_pan(job.stock, "stock", tree) if job.stock else ()),
        *_temperatures(job, tree),
        *_curves(job.engine, tree),
        *_crank_sweep(job.engine, tree),
        *running_problems(job, tree),
        *manoeuvre_problems(job, tree),
        *rail_problems(job.rail, tree),
        *_same_names(job, tree),
    ]


def _fill(job: Job, tree: Tree) -> Iterator[Problem]:
    by_litres, by_mark = job.oil.fill, job.new.dipstick and job.new.dipstick.full
    needed = "the fill once: `oil.fill`, or `new.dipstick.full` from which it is computed"
    if by_litres is None and by_mark is None and job.new.fill is None:
        do = "add `fill:` to `oil`, or `full:` to the new pan's dipstick"
        yield Problem("JOB-130", tree.where(("oil", "fill")), "no fill", needed, do)
    given = [
        keys
        for keys in (("oil", "fill"), ("new", "fill"), ("new", "dipstick", "full"))
        if keys in tree.marks and tree.typed(keys) != "nothing"
    ]
    if ("new", "dipstick", "full") in given and len(given) > 1:
        first, last = sorted((given[0], given[-1]), key=tree.line_of)
        found = f"{tree.typed(last)}, and {dotted(first)} on line {tree.line_of(first)}"
        do = "delete one of the two; `check` then says where the mark comes or what the mark holds"
        yield Problem("JOB-130", tree.where(last), found, needed, do)
    if job.stock and job.stock.fill is not None and job.stock.dipstick and job.stock.dipstick.full:
        keys = ("stock", "dipstick", "full")
        needed = "the stock fill once: `stock.fill`, or `stock.dipstick.full`"
        found = f"{tree.typed(keys)}, and stock.fill on line {tree.line_of(('stock', 'fill'))}"
        yield Problem("JOB-130", tree.where(keys), found, needed, "delete one of the two")


def _low_mark(job: Job, tree: Tree) -> Iterator[Problem]:
    fill = job.new.fill if job.new.fill is not None else job.oil.fill
    keys: Keys = ("oil", "low")
    if job.oil.low is not None and fill is not None and job.oil.low >= fill:
        needed = f"less than the full mark's {shown(fill, 'volume', job.units)}"
        do = "lower it, or raise the fill"
        yield Problem("JOB-131", tree.where(keys), tree.typed(keys), needed, do)
    if job.oil.low is not None and job.new.dipstick and job.new.dipstick.low is not None:
        line = tree.line_of(("new", "dipstick", "low"))
        found = f"{tree.typed(keys)}, and new.dipstick.low on line {line}"
        needed = "the low mark once: `oil.low`, or `new.dipstick.low`"
        yield Problem("JOB-131", tree.where(keys), found, needed, "delete one of the two")


def _pan(pan: Pan, name: str, tree: Tree) -> Iterator[Problem]:
    yield from shape_problems(pan, name, tree)
    if pan.cavity is not None and pan.cavity.wall is not None and pan.outside is None:
        keys: Keys = (name, "cavity", "wall")
        needed = f"`{name}.outside`, the skin that the wall is taken off"
        do = f"add `outside:` with the pan's file to `{name}`, or give a cavity file"
        yield Problem("JOB-135", tree.where(keys), tree.typed(keys), needed, do)
    if pan.dipstick is not None:
        yield from _dipstick(pan.dipstick, (name, "dipstick"), tree)
    yield from baffle_problems(pan, name, tree)


def _dipstick(stick: Dipstick, at: Keys, tree: Tree) -> Iterator[Problem]:
    full, low, length = stick.full, stick.low, stick.length
    if full is not None and low is not None and low <= full:
        needed = f"more than the full mark's {tree.typed((*at, 'full'))}: both count from `start`"
        do = "swap the two, or mend one"
        yield Problem("JOB-131", tree.where((*at, "low")), tree.typed((*at, "low")), needed, do)
    for mark, along in (("full", full), ("low", low)):
        if along is not None and length is not None and along > length:
            needed = f"at most the stick's length, {tree.typed((*at, 'length'))}"
            do = "mend the mark or the length"
            keys = (*at, mark)
            yield Problem("JOB-131", tree.where(keys), tree.typed(keys), needed, do)


def _temperatures(job: Job, tree: Tree) -> Iterator[Problem]:
    oil = job.oil
    if oil.cold > oil.hot:
        keys: Keys = ("oil", "hot" if ("oil", "hot") in tree.marks else "cold")
        found = f"cold {shown(oil.cold, 'temperature')}, hot {shown(oil.hot, 'temperature')}"
        needed = "`oil.cold` not above `oil.hot`"
        yield Problem("JOB-137", tree.where(keys), found, needed, "swap the two, or mend one")
    if oil.viscosity is None:
        return
    cool, warm = sorted(oil.viscosity, key=lambda point: point.at)
    if cool.at == warm.at or cool.value <= warm.value:
        keys = ("oil", "viscosity")
        needed = "two temperatures, and an oil that is thinner at the higher one"
        do = "see the oil's data sheet: usually 40 degC and 100 degC"
        yield Problem("JOB-137", tree.where(keys), tree.typed(keys), needed, do)


def _curves(engine: Engine, tree: Tree) -> Iterator[Problem]:
    curves: dict[str, Sequence[_Point]] = {
        "retained": engine.retained or (),
        "flow": engine.flow or (),
    }
    for name, points in {**curves, "retained_cold": engine.retained_cold or ()}.items():
        yield from _rising(points, ("engine", name), tree)
    tops = [p.rpm for points in curves.values() for p in points]
    speed = engine.rpm if engine.rpm is not None else max(tops, default=None)
    if speed is None:
        return
    for name, points in curves.items():
        if points:
            yield from _covers(points, name, speed, engine, tree)


def _rising(points: Sequence[_Point], at: Keys, tree: Tree) -> Iterator[Problem]:
    for i in range(1, len(points)):
        if points[i].rpm <= points[i - 1].rpm:
            keys = (*at, i, "rpm")
            needed = f"more than the entry before it, {tree.typed((*at, i - 1, 'rpm'))}"
            do = "put the entries in order of rising speed, each speed once"
            yield Problem("JOB-132", tree.where(keys), tree.typed(keys), needed, do)


def _covers(
    points: Sequence[_Point], name: str, speed: float, engine: Engine, tree: Tree
) -> Iterator[Problem]:
    low, high = min(p.rpm for p in points), max(p.rpm for p in points)
    if low * (1 - _SLACK) <= speed <= high * (1 + _SLACK):
        return
    ends = " to ".join(f"{shown(s, 'speed_rpm')}" for s in (low, high))
    if engine.rpm is None:
        keys: Keys = ("engine", name)
        found = f"a curve of {ends}, and another that goes to {shown(speed, 'speed_rpm')}"
        needed = "curves that both reach the speed at which the pan must hold"
        do = f"carry `{name}` on to that speed, or give `engine.rpm`"
    else:
        keys = ("engine", "rpm")
        found = tree.typed(keys)
        needed = f"a speed that `engine.{name}` covers: {ends}"
        do = f"change it, or carry `{name}` on to that speed; nothing is guessed beyond a curve"
    yield Problem("JOB-133", tree.where(keys), found, needed, do)


def _crank_sweep(engine: Engine, tree: Tree) -> Iterator[Problem]:
    sweep = engine.crank_sweep
    if sweep is None or sweep.front is None or sweep.rear is None or sweep.front > sweep.rear:
        return
    keys: Keys = ("engine", "crank_sweep", "front")
    rear = tree.typed(("engine", "crank_sweep", "rear"))
    needed = f"more than the rear end's {rear}: x counts forward from the block's rear face"
    yield Problem("JOB-138", tree.where(keys), tree.typed(keys), needed, "swap `front` and `rear`")


def _same_names(job: Job, tree: Tree) -> Iterator[Problem]:
    for section, names in _named_lists(job):
        for i, name in enumerate(names):
            if name in names[:i]:
                keys: Keys = (*section, i, "name")
                found = f"{name}, the name of entry {names.index(name)} too"
                do = "give each its own name; pages call them by it"
                yield Problem("JOB-136", tree.where(keys), found, "a name of its own", do)


def _named_lists(job: Job) -> Iterator[tuple[Keys, list[str]]]:
    """Every list whose entries are called by name, and the names."""
    yield ("obstacles",), [o.name for o in job.obstacles]
    yield ("movement",), [m.name for m in job.movement]
    yield ("manoeuvres",), [m.name for m in job.manoeuvres]
    yield ("engine", "returns"), [r.name for r in job.engine.returns or ()]
    if job.rail is not None:
        yield ("rail", "holes"), [h.name for h in job.rail.holes]
        yield ("rail", "measured"), [m.name for m in job.rail.measured]
        for i, measured in enumerate(job.rail.measured):
            yield ("rail", "measured", i, "holes"), [h.name for h in measured.holes]
    for pan_name, pan in (("new", job.new), ("stock", job.stock)):
        if pan is None:
            continue
        yield (pan_name, "displacing"), [d.name for d in pan.displacing]
        if pan.shape is not None:
            yield (pan_name, "shape", "zones"), [z.name for z in pan.shape.zones]
            yield (pan_name, "shape", "bosses"), [b.name for b in pan.shape.bosses]
        yield (pan_name, "baffles"), [b.name for b in pan.baffles]
        for i, baffle in enumerate(pan.baffles):
            yield (pan_name, "baffles", i, "openings"), [o.name for o in baffle.openings]
