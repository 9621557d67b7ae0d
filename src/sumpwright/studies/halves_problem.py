# SPDX-License-Identifier: Apache-2.0
"""What keeps a pan from being parted, each as one sentence with its place."""

from sumpwright.errors import InputError, Problem
from sumpwright.job.load import LoadedJob
from sumpwright.studies.size_words import in_units
from sumpwright.units import shown

SPLIT = ("new", "split")


def mm(value: float, units: str) -> str:
    """A length as the job's person reads it."""
    return shown(value, "length", units)


def refuse_lacking(loaded: LoadedJob) -> None:
    """InputError with all that the job must have before anything is parted, and lacks."""
    job = loaded.job
    problems = []
    if job.new.shape is None and job.new.outside is None:
        found = "a pan without its outside"
        needed = "`new.outside` beside `new.cavity`: the metal is what lies between, or `new.shape`"
        do = "add the outside's file, as STEP where there is one"
        problems.append(Problem("HALF-508", loaded.where("new"), found, needed, do))
    if job.shop is None or job.shop.machine is None:
        found = "a shop without a milling machine"
        do = "add its name and `travel` under `shop.machine`"
        needed = "`shop.machine`, to hold the halves against"
        problems.append(Problem("HALF-506", loaded.where("shop"), found, needed, do))
    if job.shop is None or not job.shop.cutters:
        found = "a shop without a cutter"
        do = "add each end mill's `diameter`, `corner`, `reach` and `holder`"
        needed = "at least one entry in `shop.cutters`, to say what is reached"
        problems.append(Problem("HALF-505", loaded.where("shop"), found, needed, do))
    if problems:
        raise InputError(problems)


def refuse_height(loaded: LoadedJob, height: float, *, flange: float, floor: float) -> None:
    """InputError where a split at `height` [m] would miss the pan's walls.

    `flange` is the height of the flange's underside, `floor` that of the inside's lowest point.
    """
    units = loaded.job.units
    needed = f"a height between {mm(floor, units)} and {mm(flange, units)}"
    do = "change it, or leave `height` out to have one proposed"
    if height >= flange:
        where = "within the flange or over it: its underside is at " + mm(flange, units)
        raise _split(loaded, "HALF-501", f"a split at {mm(height, units)}, {where}", needed, do)
    if height <= floor:
        where = f"not over the inside's lowest point at {mm(floor, units)}"
        raise _split(loaded, "HALF-502", f"a split at {mm(height, units)}, {where}", needed, do)


def no_ring(loaded: LoadedJob, height: float, what: str) -> InputError:
    """The split does not part the pan into two halves with one plain ring between them."""
    units = loaded.job.units
    found = f"a split at {mm(height, units)} {in_units(what, units)}"
    needed = "two halves, and between them one ring of wall all round"
    do = "move the split clear of bosses, holes and floors; left out, `height` is proposed"
    return _split(loaded, "HALF-503", found, needed, do)


def thin_wall(
    loaded: LoadedJob, key: str, taken: float, wall: float, at: tuple[float, float]
) -> InputError:
    """Lip, clearance and groove need `taken` of a wall of `wall` [m]."""
    units = loaded.job.units
    place = f"x {mm(at[0], units)}, y {mm(at[1], units)}"
    found = f"{mm(taken, units)} taken out of a wall of {mm(wall, units)} at {place}"
    needed = "lip, its clearance and the groove together less than the wall at its thinnest"
    do = "make the lip thinner or the groove shallower, or move the split to a thicker wall"
    return _split(loaded, "HALF-504", found, needed, do, key)


def tall_lip(loaded: LoadedJob, height: float, room: float) -> InputError:
    """A lip of `height` has only `room` of wall to go into [m]."""
    units = loaded.job.units
    found = f"a lip {mm(height, units)} high, and {mm(room, units)} of wall for it"
    needed = "a lip, with its clearance, lower than the other half's wall"
    do = "make the lip lower, or move the split"
    return _split(loaded, "HALF-512", found, needed, do, "lip")


def no_height(loaded: LoadedJob, looked: int) -> InputError:
    """None of the heights looked at parts the pan."""
    found = f"{looked} heights looked at, none with one plain ring of wall between two halves"
    needed = "a height at which a level cut meets one closed wall and nothing else"
    do = "see the pan at different heights in CAD, and give `new.split.height`"
    return _split(loaded, "HALF-507", found, needed, do)


def _split(
    loaded: LoadedJob, code: str, found: str, needed: str, do: str, key: str = "height"
) -> InputError:
    return InputError([Problem(code, loaded.where(*SPLIT, key), found, needed, do)])
