# SPDX-License-Identifier: Apache-2.0
"""A free space in sentences: how many litres where, what takes them, whether the fill fits."""

from collections.abc import Iterator
from dataclasses import replace

from sumpwright.job.model import Job
from sumpwright.studies.result import Triple, Verdict
from sumpwright.studies.space_result import SpaceResult, Taken
from sumpwright.units import shown

TOLD = (0.012, 0.024)
"""Kick-outs that are spoken of [m]"""
LITTLE = 1e-6
"""m^3; an obstacle that takes less is not in the way, a corner that sticks out by less is none"""


def worded(found: SpaceResult, job: Job) -> SpaceResult:
    """The answer with its verdict, sentences and assumptions."""
    return replace(
        found,
        verdict=_verdict(found),
        summary=_summary(found),
        sentences=tuple(_sentences(found)),
        assumptions=tuple(_assumptions(found, job)),
    )


def _verdict(found: SpaceResult) -> Verdict:
    if found.fill is None:
        return "not judged"
    return "met" if found.fill.fits else "not met"


def _summary(found: SpaceResult) -> str:
    units = found.units
    space = f"{shown(found.inside_m3, 'volume', units)} of makeable space below the rail"
    if found.fill is None:
        return f"{space}; the job says no fill to compare it with."
    fill, most = (shown(v, "volume", units) for v in (found.fill.fill_m3, found.fill.most_m3))
    if found.fill.fits:
        return f"{space}; the fill of {fill} fits, up to {most} by {found.fill.by}."
    return f"{space}; the fill of {fill} does not fit: at most {most} by {found.fill.by}."


def _sentences(found: SpaceResult) -> Iterator[str]:
    units, table = found.units, found.table
    bare = shown(table.at("both", 0.0), "volume", units)
    yield f"{_flush(found)} you have {bare} without kick-outs."
    for growth in TOLD:
        if growth in table.growths_m:
            grown = shown(growth, "length", units, digits=0 if units == "metric" else 2)
            volume = shown(table.at("both", growth), "volume", units)
            yield f"{grown} left and right kick-outs bring {volume}."
    far = table.growths_m[-1]
    reach = shown(far, "length", units, digits=0 if units == "metric" else 1)
    both, left, right, front, rear = (
        shown(table.at(side, far), "volume", units)
        for side in ("both", "left", "right", "front", "rear")
    )
    yield (
        f"As far as {reach} beyond the opening: {both} with both sides, {left} with the left only, "
        f"{right} with the right only, {front} with the front only, {rear} with the rear only."
    )
    yield from _taken(found)
    yield from _pan(found)


def _flush(found: SpaceResult) -> str:
    depth = shown(
        found.deepest_m, "length", found.units, digits=0 if found.units == "metric" else 2
    )
    for limit in found.lowest:
        if limit.binds:
            return (
                f"Down to the limit that {limit.name} sets, {depth} below the rail at its deepest,"
            )
    return f"Down to {depth} below the rail"


def _taken(found: SpaceResult) -> Iterator[str]:
    in_the_way = sorted((t for t in found.taken if t.lost_m3 > LITTLE), key=lambda t: -t.lost_m3)
    for taken in in_the_way:
        yield _takes(taken, found.units)
    free = [t.obstacle for t in found.taken if t.lost_m3 <= LITTLE]
    if free:
        yield f"Not in the way: {', '.join(free)}."


def _takes(taken: Taken, units: str) -> str:
    lost, rest, worst = (
        shown(v, "volume", units) for v in (taken.lost_m3, taken.at_rest_m3, taken.worst_m3)
    )
    where = "" if taken.middle_m is None else f", about {place_text(taken.middle_m, units)}"
    if taken.worst_m3 <= taken.at_rest_m3:
        case = "most of it at rest"
    else:
        case = f"{rest} at rest, {worst} in {taken.worst_case}, the worst case by itself"
    return f"The {taken.obstacle} alone takes {lost}: {case}{where}."


def place_text(point: Triple, units: str) -> str:
    """``x 105 mm, y -40 mm, z -90 mm``"""
    digits = 0 if units == "metric" else 2
    x, y, z = (shown(c, "length", units, digits=digits) for c in point)
    return f"x {x}, y {y}, z {z}"


def _pan(found: SpaceResult) -> Iterator[str]:
    pan, units = found.pan, found.units
    yield (
        f"{pan.name} has {shown(pan.volume_m3, 'volume', units)} inside and uses "
        f"{shown(pan.share, 'share', units)} of the space."
    )
    told = [out for out in pan.out if out.volume_m3 > LITTLE]
    for out in told[:4]:
        by, volume = (
            shown(v, k, units) for v, k in ((out.by_m, "length"), (out.volume_m3, "volume"))
        )
        place = place_text(out.at_m, units)
        yield f"It sticks out of the space by {by} near {place}: {volume} there."
    if not told:
        yield "It nowhere sticks out of the space by more than sharp corners."


def _assumptions(found: SpaceResult, job: Job) -> Iterator[str]:
    units = found.units
    wall, corner, flange = (
        shown(v, "length", units) for v in (found.wall_m, found.radius_m, found.flange_m)
    )
    yield (
        f"Litres are of the inside; a wall of {wall} ({found.wall_from}) stands outside of it and "
        "keeps every clearance."
    )
    yield (
        f"Inside corners and floors have a radius of {corner} ({found.radius_from}); beside the "
        f"opening the inside begins {flange} below the rail, so that the bolts can be reached."
    )
    yield f"The opening is {found.opening}. The crank turns inside the pan and takes nothing."
    yield (
        "The engine's own parts (starter, timing cover, bell housing, exhaust) count only where "
        "they are among the obstacles."
    )
    if not found.taken:
        yield "The job has no obstacles: only ground, depth and the sides asked for limit it."
    if not job.movement:
        yield "The job has no cases of engine movement: the engine is taken to stand still."
    if job.pose.height is None:
        yield "The pose has no height: the ground is not asked."
    for taken in found.taken:
        if taken.needed_m is None:
            yield f"No gap is asked to the {taken.obstacle}: the wall may just touch it."
    yield (
        "In the table edges at a chosen floor or side are sharp; the cutter's rounding there takes "
        "up to half a per cent."
    )
