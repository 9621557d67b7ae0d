# SPDX-License-Identifier: Apache-2.0
"""In which order a sheet part is bent, in words where there is none, or none for a press brake."""

from collections.abc import Iterator
from dataclasses import replace

from sumpwright.errors import Finding, RangeError
from sumpwright.metal.bend_order import bend_order
from sumpwright.metal.bend_swing import Hindrance
from sumpwright.metal.flat_pattern import FlatPattern
from sumpwright.studies.sheet_doubt import place_in_flat

_TOLD = 3
"""Bends that are told to be in the way; the others are as these are."""


def in_order(
    name: str, pattern: FlatPattern, units: str
) -> tuple[FlatPattern, tuple[str, ...], tuple[Finding, ...]]:
    """A part with its bends in the order they are made, their names in that order, and what to
    mind; where there is no order, the part as it was, and no names."""
    try:
        found = bend_order(pattern)
    except RangeError:  # said by `doubts_of`
        return pattern, (), ()
    bends = tuple(pattern.bends[k] for k in found.order)
    said = tuple(_stuck(name, pattern, found.made, found.hindrances, bool(bends), units))
    done = replace(pattern, bends=bends) if bends else pattern
    return done, tuple(bend.name for bend in bends), said


def _stuck(
    name: str,
    pattern: FlatPattern,
    made: tuple[int, ...],
    stuck: tuple[Hindrance, ...],
    by_hand: bool,
    units: str,
) -> Iterator[Finding]:
    if not stuck:
        return
    counted = 0
    for met in stuck[:_TOLD]:
        counted |= met.mask
    before = _names(pattern, (k for k in made if counted >> k & 1))
    lead = f"with {before} bent, " if before else ""
    rows = "; ".join(_met(pattern, met, units) for met in stuck[:_TOLD])
    if by_hand:
        found = f"in no order is a press brake's straight tool clear: {lead}{rows}"
        mend = "bend it by hand over a bar in the order given, or with a blade that is cut away"
        yield Finding("SHEE-527", name, found, mend, "warning")
        return
    found = f"there is no order to bend it in: {lead}{rows}"
    mend = "shorten a flange, move one of the tabs, or make it a part of its own"
    yield Finding("SHEE-526", name, found, mend, "error")


def _met(pattern: FlatPattern, met: Hindrance, units: str) -> str:
    bend, other = pattern.bends[met.bend].name, _names(pattern, met.others) or "the sheet"
    near = place_in_flat(float(met.place[0]), float(met.place[1]), units)
    return {
        "sheet": f"bending '{bend}' runs into {other} near {near}",
        "die": f"'{bend}' cannot lie on the die for {other} near {near}",
        "blade": f"the blade in '{bend}' meets {other} near {near}",
    }[met.what]


def _names(pattern: FlatPattern, bends: Iterator[int] | tuple[int, ...]) -> str:
    names = [f"'{pattern.bends[k].name}'" for k in bends]
    return " and ".join([", ".join(names[:-1]), names[-1]] if len(names) > 1 else names)
