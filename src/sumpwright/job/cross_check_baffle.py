# SPDX-License-Identifier: Apache-2.0
"""Contradictions in what stands in a pan: baffles, their doors, and the suction line.

Outlines that cross and openings that overlap are judged where their geometry is known.
"""

import math
from collections.abc import Iterator

from sumpwright.errors import Problem
from sumpwright.job.baffle import Baffle, BaffleOpening
from sumpwright.job.pan import Pan
from sumpwright.job.suction import Cloth, Suction, Tube
from sumpwright.job.tree import Keys, Tree

_LEVEL = 1e-3
"""Sine of the tilt under which a sheet counts as level, as in geometry/panel.py."""
_ROUGHEST = 0.05
"""Roughness over bore at which the friction chart ends, as in oil/pipe.py."""


def baffle_problems(pan: Pan, name: str, tree: Tree) -> Iterator[Problem]:
    """What is wrong with the baffles and the suction line of the pan under `name`."""
    for i, baffle in enumerate(pan.baffles):
        at: Keys = (name, "baffles", i)
        yield from _edges(baffle, at, tree)
        for k, opening in enumerate(baffle.openings):
            yield from _hinge(opening, (*at, "openings", k, "door", "hinge"), tree)
    if pan.suction is not None:
        yield from _suction(pan.suction, (name, "suction"), tree)
    if pan.housing is not None and pan.housing.screen is not None:
        yield from _screen(pan.housing.screen, (name, "housing", "screen"), tree)


def _edges(baffle: Baffle, at: Keys, tree: Tree) -> Iterator[Problem]:
    top, bottom = baffle.top, baffle.bottom
    if top is not None and bottom is not None and top <= bottom:
        keys = (*at, "top")
        needed = f"more than `bottom`, {tree.typed((*at, 'bottom'))}: heights over the rail"
        yield Problem("JOB-139", tree.where(keys), tree.typed(keys), needed, "swap the two")
    if baffle.normal is None or (top is None and bottom is None):
        return
    x, y, z = baffle.normal
    if math.hypot(x, y) <= _LEVEL * math.hypot(x, y, z):
        keys = (*at, "top" if top is not None else "bottom")
        needed = "an upright or leaning sheet: a level one is all at one height, that of `at`"
        do = "give an `outline` instead, or leave it out"
        yield Problem("JOB-139", tree.where(keys), tree.typed(keys), needed, do)


def _hinge(opening: BaffleOpening, keys: Keys, tree: Tree) -> Iterator[Problem]:
    door, outline = opening.door, opening.outline
    if door is None:
        return
    sides = 4 if outline is None else len(outline)
    by_word = isinstance(door.hinge, str)
    if outline is not None and by_word:
        needed = f"the number of a side of its outline, 0 to {sides - 1}"
        do = "count the sides from 0, the one from the first corner to the second"
    elif opening.hinge_side is not None and opening.hinge_side >= sides:
        needed = f"one of its {sides} sides: 0 to {sides - 1}"
        needed = f"top, bottom, start or end, or {needed}" if outline is None else needed
        do = "count the sides from 0, the one from the first corner to the second"
    else:
        return
    yield Problem("JOB-140", tree.where(keys), tree.typed(keys), needed, do)


def _suction(suction: Suction, at: Keys, tree: Tree) -> Iterator[Problem]:
    bore: Keys = (*at, "tubes", 0, "bore")
    if suction.edge_radius > suction.tubes[0].bore:
        keys = (*at, "edge_radius")
        needed = f"at most the first tube's bore, {tree.typed(bore)}"
        do = "mend one of the two; a bellmouth's radius is about its bore"
        yield Problem("JOB-149", tree.where(keys), tree.typed(keys), needed, do)
    for i, tube in enumerate(suction.tubes):
        yield from _tube(tube, (*at, "tubes", i), tree)
    if suction.screen is not None:
        yield from _screen(suction.screen, (*at, "screen"), tree)


def _tube(tube: Tube, at: Keys, tree: Tree) -> Iterator[Problem]:
    bore = tree.typed((*at, "bore"))
    if tube.roughness > _ROUGHEST * tube.bore:
        keys = (*at, "roughness")
        needed = f"at most a twentieth of the bore, {bore}: friction is not known beyond"
        yield Problem("JOB-149", tree.where(keys), tree.typed(keys), needed, "check its unit")
    for i, bend in enumerate(tube.bends):
        if bend.radius < 0.5 * tube.bore:
            keys = (*at, "bends", i, "radius")
            needed = f"at least half the bore, {bore}: at half, the inner corner is square"
            do = "measure it to the tube's centre line"
            yield Problem("JOB-149", tree.where(keys), tree.typed(keys), needed, do)


def _screen(screen: Cloth, at: Keys, tree: Tree) -> Iterator[Problem]:
    for small, wide, why in (
        ("wire", "pitch", "the pitch is from wire to wire, one opening and one wire"),
        ("thickness", "hole", "a longer hole is a tube, whose loss is not known here"),
    ):
        low, high = getattr(screen, small), getattr(screen, wide)
        if low is None or high is None or low < high or (low == high and small == "thickness"):
            continue
        keys = (*at, small)
        word = "less than" if small == "wire" else "at most"
        needed = f"{word} `{wide}`, {tree.typed((*at, wide))}: {why}"
        yield Problem("JOB-149", tree.where(keys), tree.typed(keys), needed, "mend one of the two")
