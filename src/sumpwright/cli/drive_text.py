# SPDX-License-Identifier: Apache-2.0
"""What `drive` answers, as a person reads it: does the pickup keep its oil, and where is it."""

import textwrap
from collections.abc import Iterator
from itertools import pairwise
from pathlib import Path

from sumpwright.cli.ledger_text import (
    WIDTH,
    failures,
    ledger_lines,
    not_judged,
    verdict_text,
    wrapped,
)
from sumpwright.cli.tail_text import tail
from sumpwright.studies.motion_result import CompartmentCourse, DoorCourse, DriveResult, Series
from sumpwright.studies.result import Triple
from sumpwright.units import shown

_FELT = 0.05
"""g; less to a side is not said."""
_SHUT = 0.5
"""deg; a door less open is shut: it lies on its seat but for the numbers' sake."""


def drive_verdict(result: DriveResult) -> str:
    """``met``, ``not met``, or ``not judged`` where nothing could be."""
    states = {r.state for r in result.requirements}
    return next((s for s in ("not met", "met") if s in states), "not judged")


def drive_text(result: DriveResult, pages: tuple[Path, ...], *, colour: bool = False) -> str:
    """The answer in the job's units, at most 80 columns, with no need of `colour`."""
    return "\n".join(_lines(result, pages, colour))


def _lines(result: DriveResult, pages: tuple[Path, ...], colour: bool) -> Iterator[str]:
    verdict = verdict_text(drive_verdict(result), colour)
    yield f"{verdict}  {result.job}, revision {result.revision}"
    yield from _what_was_driven(result)
    yield from failures(result.requirements, result.units)
    yield from _pickup(result)
    yield from _compartments(result)
    yield from _doors(result)
    yield from _chances(result)
    yield "\nLedger"
    yield from ledger_lines(result.requirements, result.units, colour)
    yield from not_judged(result.requirements)
    yield ""
    yield from wrapped(_trust(result), "Numbers: ")
    yield from tail(result.assumptions, result.findings, pages)


def _what_was_driven(result: DriveResult) -> Iterator[str]:
    summary = result.summary
    kind = f" ({result.kind})" if result.kind not in result.manoeuvre else ""
    yield from wrapped(f"{result.manoeuvre}{kind}", "  ")
    oil = shown(result.temperature_k, "temperature", result.units)
    doors = result.doors_are if result.doors_are == "no baffles" else f"doors {result.doors_are}"
    yield f"  {summary.duration_s:.1f} s, up to {summary.largest_g:.2f} g, oil {oil}, {doors}"


def _pickup(result: DriveResult) -> Iterator[str]:
    summary, units = result.summary, result.units
    where = f" (in compartment {result.pickup.compartment})" if result.pickup.compartment else ""
    yield f"\nPickup{where}"
    if summary.first_air_s is None:
        never = result.pickup.air_fraction and any(
            a is not None for a in result.pickup.air_fraction
        )
        yield _row("first air", "never" if never else "-")
    else:
        yield _row("first air", _time(summary.first_air_s), _moment(result, summary.first_air_s))
        yield _row("longest time with air", _time(summary.longest_dry_s))
        yield _row("with air in all", _time(summary.aerated_s))
        yield _row("air drawn", shown(summary.air_drawn_m3, "volume", units))
    for label, value, kind, at in (
        ("least cover", summary.least_cover_m, "length", summary.least_cover_s),
        ("least inlet pressure", summary.least_inlet_pa, "inlet_pressure", summary.least_inlet_s),
        ("least oil pressure", summary.least_pressure_pa, "pressure", None),
    ):
        if value is not None:
            moment = "" if at is None else f"at {_time(at)}, {_moment(result, at)}"
            none = kind == "inlet_pressure" and value < 0.0  # the pump cannot draw that much
            yield _row(label, "none" if none else shown(value, kind, units), moment)


def _moment(result: DriveResult, time: float) -> str:
    """What the car does then: ``1.02 g, left turn and braking (steady)``."""
    spans = [name for name, start, end in result.spans if start <= time <= end]
    accel = result.accel_g[_nearest(result.time_s, time)]
    return _way(accel, result.kind) + (f" ({', '.join(spans)})" if spans else "")


def _way(accel: Triple, kind: str) -> str:
    """Size and direction; on a hill or a bank the oil feels them, and the car does not do them."""
    forward, left, up = accel
    upward = ("pressed down", "light") if kind in ("bank", "hill") else ("thrown up", "dropping")
    words = [
        "left turn" if left > _FELT else "right turn" if left < -_FELT else "",
        "braking" if forward < -_FELT else "accelerating" if forward > _FELT else "",
        upward[0] if up > _FELT else upward[1] if up < -_FELT else "",
    ]
    said = " and ".join(word for word in words if word)
    size = (forward**2 + left**2 + up**2) ** 0.5
    as_if = "as if " if kind == "hill" else ""
    return f"{size:.2f} g, {as_if}{said}" if said else "no g to speak of"


def _compartments(result: DriveResult) -> Iterator[str]:
    if not result.compartments:
        return
    names = [f"{c.name}  {c.where}".rstrip() for c in result.compartments]
    width = min(max(len(name) for name in names), 25)
    head = f"{'least':>9}{'':12}{'most':>9}{'':12}{'holds':>9}"
    yield f"\nOil in compartments\n  {'':{width}}{head}"
    for name, course in zip(names, result.compartments, strict=True):
        room = shown(course.capacity_m3, "volume", result.units)
        yield f"  {name[:width]:{width}}{_least_and_most(result, course)}{room:>9}"


def _least_and_most(result: DriveResult, course: CompartmentCourse) -> str:
    volume = course.volume_m3
    return "".join(
        f"{shown(end, 'volume', result.units):>9} "
        f"{'at ' + _time(result.time_s[volume.index(end)]):11}"
        for end in (min(volume), max(volume))
    )


def _doors(result: DriveResult) -> Iterator[str]:
    if not result.doors:
        return
    yield "\nDoors"
    for door in result.doors:
        yield _row(door.name, *_door(door, result.time_s))


def _door(door: DoorCourse, time: Series) -> tuple[str, str]:
    widest = max(door.angle_deg)
    if widest <= _SHUT:
        return "shut", "all the time"
    first = next(t for t, angle in zip(time, door.angle_deg, strict=True) if angle > _SHUT)
    steps = zip(pairwise(time), door.angle_deg, strict=False)
    share = sum(end - start for (start, end), angle in steps if angle > _SHUT) / time[-1]
    part = f"{100.0 * share:.0f} % of the time"
    return f"{widest:.0f}°", f"of {door.stop_deg:.0f}°, from {_time(first)}, {part}"


def _chances(result: DriveResult) -> Iterator[str]:
    if not result.chances:
        return
    first = result.chances[0]
    yield f"\nChance that it fails ({first.samples} samples, seed {first.seed})"
    for chance in result.chances:
        low, high = 100.0 * chance.low, 100.0 * chance.high
        said = f"{chance.requirement}: {100.0 * chance.fails:.1f} % ({low:.1f} to {high:.1f} %)"
        yield from wrapped(said, "  ")
    yield from wrapped(f"drawn at random: {'; '.join(first.drawn)}", "  ")


def _trust(result: DriveResult) -> str:
    error = result.error
    tolerance, worst, table = (
        shown(m, "length", result.units, digits=3)
        for m in (error.tolerance_m, error.worst_step_m, error.level_table_m)
    )
    return (
        f"oil lost or won {error.mass:.1e} of the fill; a step's error up to {worst}, allowed "
        f"{tolerance}; levels by table within {table} of exact ones; {error.steps} steps, "
        f"{error.rejected} taken back."
    )


def _nearest(time: Series, at: float) -> int:
    return min(range(len(time)), key=lambda i: abs(time[i] - at))


def _time(seconds: float) -> str:
    return f"{seconds:.2f} s"


def _row(label: str, value: str, behind: str = "") -> str:
    *over, last = wrapped(label, "  ") if len(label) > 24 else (f"  {label}",)
    if len(last) > 26:  # no room for the value beside it
        over, last = [*over, last], ""
    head = f"{last:26}{value:>11}  "
    row = textwrap.fill(head + behind, WIDTH, subsequent_indent=" " * len(head)).rstrip()
    return "\n".join([*over, row])
