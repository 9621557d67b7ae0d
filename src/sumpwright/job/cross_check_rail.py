# SPDX-License-Identifier: Apache-2.0
"""Contradictions in the bolt pattern: holes over one another, too small, or measured but unknown.

Names that two holes share are said with all other names.
"""

import math
from collections.abc import Iterator

from sumpwright.errors import Problem
from sumpwright.job.rail import Rail
from sumpwright.job.tree import Keys, Tree


def rail_problems(rail: Rail | None, tree: Tree) -> Iterator[Problem]:
    """What is wrong with the bolt pattern and what was measured of it."""
    if rail is None:
        return
    yield from _crowded(rail, tree)
    yield from _too_small(rail, tree)
    yield from _strangers(rail, tree)
    if rail.hot < rail.cold:
        keys: Keys = ("rail", "hot")
        needed = "no colder than `rail.cold`"
        yield Problem("RAIL-504", tree.where(keys), tree.typed(keys), needed, "swap the two")


def bolt_of(rail: Rail) -> float:
    """Nominal diameter of the rail's bolts [m]."""
    return 1e-3 * float(rail.thread.removeprefix("M"))


def _crowded(rail: Rail, tree: Tree) -> Iterator[Problem]:
    """Holes that leave no room for two bolts."""
    least = bolt_of(rail)
    for i, hole in enumerate(rail.holes):
        for k, other in enumerate(rail.holes[:i]):
            apart = math.dist(hole.at, other.at)
            if apart < least:
                keys: Keys = ("rail", "holes", i, "at")
                found = f"{tree.typed(keys)}, {1e3 * apart:.4g} mm from hole {other.name}"
                needed = f"at least {1e3 * least:.4g} mm, the bolt's own diameter, from any other"
                do = f"correct one of the two, or delete one (entry {k} or {i})"
                yield Problem("RAIL-501", tree.where(keys), found, needed, do)
                break


def _too_small(rail: Rail, tree: Tree) -> Iterator[Problem]:
    for i, hole in enumerate(rail.holes):
        if hole.diameter is not None and hole.diameter <= bolt_of(rail):
            keys: Keys = ("rail", "holes", i, "diameter")
            needed = f"more than the {1e3 * bolt_of(rail):.4g} mm of an {rail.thread} bolt"
            do = "enlarge it, or leave it out: `rail.fit` then gives it"
            yield Problem("RAIL-502", tree.where(keys), tree.typed(keys), needed, do)


def _strangers(rail: Rail, tree: Tree) -> Iterator[Problem]:
    known = {h.name for h in rail.holes}
    for i, measured in enumerate(rail.measured):
        for k, hole in enumerate(measured.holes):
            if hole.name not in known:
                keys: Keys = ("rail", "measured", i, "holes", k, "name")
                needed = "the name of a hole of `rail.holes`"
                needed += f": {_listed(known)}" if known else ", which has none"
                do = "correct the name, add the hole to the design, or leave it out"
                yield Problem("RAIL-503", tree.where(keys), tree.typed(keys), needed, do)


def _listed(names: set[str]) -> str:
    some = sorted(names, key=lambda n: (len(n), n))
    return ", ".join(some[:24]) + (" and more" if len(some) > 24 else "")
