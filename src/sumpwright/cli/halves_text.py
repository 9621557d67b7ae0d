# SPDX-License-Identifier: Apache-2.0
"""What `halves` answers, as a person reads it."""

from collections.abc import Iterator, Sequence
from pathlib import Path

from sumpwright.cli.ledger_text import verdict_text, wrapped
from sumpwright.studies.halves_result import (
    CAUSE_WORDS,
    Candidate,
    Half,
    HalvesResult,
    Joint,
    stock_words,
)
from sumpwright.units import shown, shown_number, unit_name

POUND = 0.45359237
"""kg, by definition."""
PLACES = 4
"""Missed places that are listed of a half."""


def halves_text(result: HalvesResult, files: Sequence[Path], *, colour: bool = False) -> str:
    """The answer in the job's units, at most 80 columns, with no need of `colour`."""
    return "\n".join(_lines(result, files, colour))


def _lines(result: HalvesResult, files: Sequence[Path], colour: bool) -> Iterator[str]:
    units = result.units
    yield f"{verdict_text(result.verdict, colour)}  {result.job}, revision {result.revision}"
    for lack in result.lacks:
        yield from wrapped(lack, "Lacks: ")
    for way in result.advice:
        yield from wrapped(way, "Way out: ")
    how = "proposed" if result.proposed else "given"
    at = shown(result.height_m, "length", units)
    yield from wrapped(f"Split at {at}, {how}: {result.why}", "")
    if result.candidates:
        yield from _candidates(result.candidates, units)
    for half in (result.upper, result.lower):
        yield from _half(half, result)
    yield from _joint(result.joint, result)
    yield "\nSealing faces"
    for step in result.sealing:
        yield from wrapped(step, "  ")
    yield ""
    for said in result.cautions:
        yield from wrapped(said, "Mind: ")
    yield from wrapped("What was taken for granted stands in --json, under `assumptions`.", "")
    for finding in result.findings:
        yield from wrapped(f"{finding.place}: {finding.found} [{finding.code}]", "Noticed: ")
    if files:
        yield f"\nFiles  {files[0].parent}: " + ", ".join(file.name for file in files)


def _candidates(looked: Sequence[Candidate], units: str) -> Iterator[str]:
    length, area = unit_name("length", units), unit_name("area", units)
    mass = "kg" if units == "metric" else "lb"
    yield ""
    yield (
        f"  {'height':>8}{'no reach':>10}{'weld':>8}{'torch':>7}{'wall':>7}{'wet':>6}"
        f"{'metal':>8}  {'machine':9}{'to buy':>6}"
    )
    yield f"  {length:>8}{area:>10}{length:>8}{'deg':>7}{length:>7}{'%':>6}{mass:>8}"
    for c in looked:
        if not c.ring:
            height = shown_number(c.height_m, "length", units)
            yield f"  {height:8.4g}  no plain ring of wall there"
            continue
        yield _row(c, units)


def _row(c: Candidate, units: str) -> str:
    height, weld, wall = (
        shown_number(v, "length", units) for v in (c.height_m, c.weld_m, c.wall_least_m)
    )
    missed = shown_number(c.missed_m2, "area", units)
    torch = shown_number(c.cone, "angle")
    wet = "-" if c.wet is None else f"{100.0 * c.wet:.0f}"
    metal = c.mass_in_kg / (1.0 if units == "metric" else POUND)
    fits = "fits" if c.machine else "too small"
    mark = "*" if c.chosen else " "
    return (
        f"{mark} {height:8.4g}{missed:10.4g}{weld:8.4g}{torch:7.0f}{wall:7.2g}{wet:>6}"
        f"{metal:8.1f}  {fits:9}{c.bought:6d}"
    )


def _half(half: Half, result: HalvesResult) -> Iterator[str]:
    units, reach, stock = result.units, half.reach, half.stock
    yield ""
    size = " x ".join(
        f"{shown_number(high - low, 'length', units):.4g}"
        for low, high in zip(*half.bounds_m, strict=True)
    )
    blank = " x ".join(f"{shown_number(s, 'length', units):.4g}" for s in stock.blank_m)
    unit = unit_name("length", units)
    yield f"{half.name}  {size} {unit}, {_mass(half.mass_kg, units)}"
    yield from wrapped(
        f"from {stock_words(stock)}, {_mass(stock.mass_in_kg, units)} in, "
        f"{_mass(half.chips_kg, units)} of chips; blank {blank} {unit}",
        "  ",
    )
    yield f"  {_machine(half, units)}"
    if half.milling_s is not None:
        rough = f"  roughly {half.milling_s / 3600.0:.1f} h of milling by the removal rate alone"
        yield rough + ("" if half.cost is None else f", {half.cost:.0f} {result.currency} with it")
    total, skin = (shown(v, "area", units, digits=1) for v in (reach.missed_m2, reach.area_m2))
    error = shown(reach.error_m, "length", units, digits=1)
    said = f"no cutter reaches {total} of {skin}; less than {error} thick is not told apart"
    yield from wrapped(said, "  ")
    for cutter in reach.cutters:
        left = shown(cutter.missed_m2, "area", units, digits=1)
        yield f"    {cutter.name:32} alone leaves {left:>10} of what is seen"
    for place in reach.places[:PLACES]:
        x, y, z = (shown(c, "length", units, digits=0) for c in place.at_m)
        area = shown(place.area_m2, "area", units, digits=1)
        yield from wrapped(f"{area} {CAUSE_WORDS[place.cause]} near x {x}, y {y}, z {z}", "    ")


def _machine(half: Half, units: str) -> str:
    need, has = (
        " x ".join(f"{shown_number(v, 'length', units):.4g}" for v in size)
        for size in (half.machine.needed_m, half.machine.has_m)
    )
    verb = "fits" if half.machine.fits else "does not fit"
    across = ", across the table" if half.machine.turned else ""
    return f"{verb} the machine: {need} of {has} {unit_name('length', units)}{across}"


def _joint(joint: Joint, result: HalvesResult) -> Iterator[str]:
    units = result.units

    def mm(value: float, digits: int = 2) -> str:
        return shown(value, "length", units, digits=digits)

    yield f"\nWeld  {mm(joint.weld_m, 0)} all round, wall {mm(joint.wall_least_m)} at its thinnest"
    angle = shown(joint.groove_angle, "angle", digits=0)
    if joint.groove_depth_m > 0.0:
        yield (
            f"  groove {mm(joint.groove_depth_m)} deep, {angle}, root face "
            f"{mm(joint.root_face_m)}, gap {mm(joint.gap_m)}"
        )
    if joint.lip_height_m is not None:
        assert joint.lip_thickness_m is not None
        assert joint.lip_clearance_m is not None
        yield (
            f"  lip on the {joint.lip_on} half {mm(joint.lip_height_m)} high, "
            f"{mm(joint.lip_thickness_m)} thick, {mm(joint.lip_clearance_m)} clear"
        )
    deposit = shown(joint.deposit_kg, "mass", units)
    yield f"  {deposit} of weld metal" + ("" if joint.modelled else "; joint not in the solids")
    cone, needed = (shown(v, "angle", digits=0) for v in (joint.cone, joint.cone_needed))
    x, y = (mm(v, 0) for v in joint.cone_at_m)
    near = "" if joint.overhang_m is None else f", metal over it {mm(joint.overhang_m, 0)} away"
    yield from wrapped(f"torch: cone of {cone} at x {x}, y {y}{near}; {needed} are needed", "  ")
    if joint.oil_over_m is not None:
        where = "below" if joint.oil_over_m > 0.0 else "above"
        yield f"  {mm(abs(joint.oil_over_m), 0)} {where} the oil at rest, at its lowest point"
    draw, along = ([mm(v) for v in pair] for pair in (joint.draw_m, joint.shorten_x_m))
    yield from wrapped(
        f"pulls the flange down by {draw[0]} to {draw[1]}, of {mm(joint.skim_m)} left to skim; "
        f"shortens the pan by {along[0]} to {along[1]}",
        "  ",
    )
    if joint.welding_s is not None:
        cost = joint.welding_cost
        money = "" if cost is None else f", {cost:.0f} {result.currency}"
        yield f"  roughly {joint.welding_s / 3600.0:.1f} h of welding{money}"


def _mass(value: float, units: str) -> str:
    if units == "metric":
        return f"{value:.2f} kg"
    return f"{value / POUND:.2f} lb"
