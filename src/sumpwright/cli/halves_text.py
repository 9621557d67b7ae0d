# SPDX-License-Identifier: Apache-2.0
"""What `halves` answers, as a person reads it."""

import textwrap
from collections.abc import Callable, Iterator, Sequence
from pathlib import Path

from sumpwright.cli.fold_text import folded
from sumpwright.cli.ledger_text import verdict_text
from sumpwright.studies.halves_result import (
    Candidate,
    Half,
    HalvesResult,
    Joint,
    stock_words,
)
from sumpwright.studies.halves_words import missed_words, places_of
from sumpwright.studies.size_words import size_figures, sizes, small_mass
from sumpwright.units import figure, shown, shown_number, unit_name

PLACES = 4
"""Missed places that are listed of a half."""


def halves_text(result: HalvesResult, files: Sequence[Path], *, colour: bool = False) -> str:
    """The answer in the job's units, at most 80 columns, with no need of `colour`."""
    return "\n".join(_lines(result, files, colour))


def _lines(result: HalvesResult, files: Sequence[Path], colour: bool) -> Iterator[str]:
    units = result.units
    yield f"{verdict_text(result.verdict, colour)}  {result.job}, revision {result.revision}"
    for lack in result.lacks:
        yield from _wrapped(lack, "Lacks: ")
    for way in result.advice:
        yield from _wrapped(way, "Way out: ")
    at, how = shown(result.height_m, "length", units), "proposed: " if result.proposed else ""
    yield from _wrapped(f"Split at {at}, {how}{result.why}", "")
    if result.candidates:
        yield from _candidates(result.candidates, units)
    for half in (result.upper, result.lower):
        yield from _half(half, result)
    yield from _joint(result.joint, result)
    yield "\nSealing faces"
    for step in result.sealing:
        yield from _wrapped(step, "  ")
    yield ""
    for said in result.cautions:
        yield from _wrapped(said, "Mind: ")
    yield from _wrapped("What was taken for granted stands in --json, under `assumptions`.", "")
    for finding in result.findings:
        yield from _wrapped(f"{finding.place}: {finding.found} [{finding.code}]", "Noticed: ")
    if files:
        kind = "STEP" if result.made_from == "solids" else "STL"
        note = "" if units == "metric" else f"; {kind} is in mm"
        yield f"\nFiles  {files[0].parent}: " + ", ".join(file.name for file in files) + note


def _candidates(looked: Sequence[Candidate], units: str) -> Iterator[str]:
    length, area, mass = (unit_name(kind, units) for kind in ("length", "area", "weight"))
    yield ""
    yield (
        f"  {'height':>8}{'no reach':>10}{'weld':>8}{'torch':>7}{'wall':>7}{'wet':>6}"
        f"{'metal':>8}  {'machine':9}{'to buy':>6}"
    )
    yield f"  {length:>8}{area:>10}{length:>8}{'deg':>7}{length:>7}{'%':>6}{mass:>8}"
    for c in looked:
        if not c.ring:
            yield f"  {_cell(c.height_m, units):>8}  no plain ring of wall there"
            continue
        yield _row(c, units)


def _row(c: Candidate, units: str) -> str:
    height, weld = (_cell(v, units) for v in (c.height_m, c.weld_m))
    wall, missed = c.wall_least_m, shown_number(c.missed_m2, "area", units)
    thin = f"{1e3 * wall:.2g}" if units == "metric" else figure(wall, "length", units)
    torch = shown_number(c.cone, "angle")
    wet = "-" if c.wet is None else f"{100.0 * c.wet:.0f}"
    metal = figure(c.mass_in_kg, "weight", units, finer=-1)
    fits = "fits" if c.machine else "too small"
    mark = "*" if c.chosen else " "
    return (
        f"{mark} {height:>8}{missed:10.4g}{weld:>8}{torch:7.0f}{thin:>7}{wet:>6}"
        f"{metal:>8}  {fits:9}{c.bought:6d}"
    )


def _cell(length: float, units: str) -> str:
    return size_figures([length], units, None if units == "metric" else 0)


def _half(half: Half, result: HalvesResult) -> Iterator[str]:
    units, reach, stock = result.units, half.reach, half.stock
    yield ""
    size = sizes((high - low for low, high in zip(*half.bounds_m, strict=True)), units)
    mass, metal, chips = (
        shown(m, "weight", units) for m in (half.mass_kg, stock.mass_in_kg, half.chips_kg)
    )
    yield f"{half.name}  {size}, {mass}"
    yield from _wrapped(
        f"from {stock_words(stock, units)}, {metal} in, {chips} of chips; "
        f"blank {sizes(stock.blank_m, units)}",
        "  ",
    )
    yield from _wrapped(_machine(half, units), "  ")
    if half.milling_s is not None:
        rough = f"  roughly {half.milling_s / 3600.0:.1f} h of milling by the removal rate alone"
        cost = "" if half.cost is None else f", {half.cost:.0f} {result.currency} with the stock"
        yield rough + cost
    error = shown(reach.error_m, "length", units)
    said = f"{missed_words(reach, units)}; metal left thinner than {error} is not told apart"
    yield from _wrapped(said, "  ")
    for cutter in reach.cutters:
        name = textwrap.shorten(cutter.name, 32, placeholder="...")
        left = shown(cutter.missed_m2, "area", units, finer=1)
        yield f"    {name:32} alone leaves {left:>10} of what is seen"
    for place in places_of(reach, units, PLACES):
        yield from _wrapped(place, "    ")


def _machine(half: Half, units: str) -> str:
    machine = half.machine
    verb = "fits" if machine.fits else "does not fit"
    need, has = size_figures(machine.needed_m, units), sizes(machine.has_m, units)
    across = ", across the table" if machine.turned else ""
    return f"{verb} the machine: {need} of {has}{across}"


def _joint(joint: Joint, result: HalvesResult) -> Iterator[str]:
    units = result.units

    def size(value: float, finer: int = 1) -> str:
        return shown(value, "length", units, finer=finer)

    wall = size(joint.wall_least_m)
    yield f"\nWeld  {size(joint.weld_m, -1)} all round, wall {wall} at its thinnest"
    angle = shown(joint.groove_angle, "angle", digits=0)
    gap = f"gap {size(joint.gap_m)}" if joint.gap_m > 0.0 else "no gap"
    if joint.groove_depth_m > 0.0:
        yield (
            f"  groove {size(joint.groove_depth_m)} deep, {angle}, root face "
            f"{size(joint.root_face_m)}, {gap}"
        )
    if joint.lip_height_m is not None:
        assert joint.lip_thickness_m is not None
        assert joint.lip_clearance_m is not None
        yield (
            f"  lip on the {joint.lip_on} half {size(joint.lip_height_m)} high, "
            f"{size(joint.lip_thickness_m)} thick, {size(joint.lip_clearance_m)} clear"
        )
    deposit = small_mass(joint.deposit_kg, units)
    yield f"  {deposit} of weld metal" + ("" if joint.modelled else "; joint not in the solids")
    yield from _welding(joint, size)
    if joint.welding_s is not None:
        cost = joint.welding_cost
        money = "" if cost is None else f", {cost:.0f} {result.currency}"
        yield f"  roughly {joint.welding_s / 3600.0:.1f} h of welding{money}"


def _welding(joint: Joint, size: Callable[..., str]) -> Iterator[str]:
    """Room for the torch, oil over it, and what it draws."""
    cone, needed = (shown(v, "angle", digits=0) for v in (joint.cone, joint.cone_needed))
    x, y = (size(v, -1) for v in joint.cone_at_m)
    near = "" if joint.overhang_m is None else f", metal over it {size(joint.overhang_m, -1)} away"
    yield from _wrapped(f"torch: cone of {cone} at x {x}, y {y}{near}; {needed} are needed", "  ")
    if joint.oil_over_m is not None:
        where = "below" if joint.oil_over_m > 0.0 else "above"
        yield f"  {size(abs(joint.oil_over_m), -1)} {where} the oil at rest, at its lowest point"
    draw, along = ([size(v) for v in pair] for pair in (joint.draw_m, joint.shorten_x_m))
    yield from _wrapped(
        f"pulls the flange down by {draw[0]} to {draw[1]}, of {size(joint.skim_m)} left to skim; "
        f"shortens the pan by {along[0]} to {along[1]}",
        "  ",
    )


def _wrapped(text: str, indent: str) -> list[str]:
    return folded(text, indent, " " * len(indent) + ("  " if indent.isspace() else ""))
