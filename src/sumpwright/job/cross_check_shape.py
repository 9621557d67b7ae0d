# SPDX-License-Identifier: Apache-2.0
"""A pan's bodies must come from one place: its files, or the numbers of its shape."""

from collections.abc import Iterator

from sumpwright.errors import Problem
from sumpwright.job.pan import Pan
from sumpwright.job.shape import Shape
from sumpwright.job.tree import Keys, Tree
from sumpwright.units import shown


def shape_problems(pan: Pan, name: str, tree: Tree) -> Iterator[Problem]:
    """What a pan says twice, or not at all."""
    if pan.cavity is None and pan.shape is None:
        keys: Keys = (name, "cavity")
        needed = "the inside of the pan: `cavity`, a file; or `shape`, numbers to draw it from"
        do = "add `cavity:` with the file of its inside, or `shape:` with its zones"
        yield Problem("JOB-104", tree.where(keys), tree.typed(keys), needed, do)
    if pan.shape is None:
        return
    for key, given in (("cavity", pan.cavity), ("outside", pan.outside)):
        if given is not None:
            keys = (name, key)
            line = tree.line_of((name, "shape"))
            found = f"{tree.typed(keys)}, and {name}.shape on line {line}"
            needed = "the pan once: from files, or from numbers"
            yield Problem("SHAP-501", tree.where(keys), found, needed, "delete one of the two")
    yield from _numbers(pan.shape, (name, "shape"), tree)


def _numbers(shape: Shape, at: Keys, tree: Tree) -> Iterator[Problem]:
    for k, zone in enumerate(shape.zones):
        if zone.top is not None and zone.top >= zone.depth:
            keys = (*at, "zones", k, "top")
            needed = f"less than the depth of its floor, {shown(zone.depth, 'length')}"
            do = "raise the roof, or lower the floor"
            yield Problem("SHAP-503", tree.where(keys), tree.typed(keys), needed, do)
    for k, boss in enumerate(shape.bosses):
        wide = (("bore", boss.bore), ("thread", _across(boss.thread)))
        for key, across in wide:
            if across is None or across < boss.diameter:
                continue
            keys = (*at, "bosses", k, key)
            needed = f"less than the boss, {shown(boss.diameter, 'length')} across"
            do = "make the boss wider, or the hole smaller"
            yield Problem("SHAP-509", tree.where(keys), tree.typed(keys), needed, do)


def _across(thread: str | None) -> float | None:
    """Diameter of a thread by its name [m]: 14 mm of M14x1.5."""
    return None if thread is None else 1e-3 * float(thread.removeprefix("M").split("x")[0])
