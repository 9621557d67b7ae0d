# SPDX-License-Identifier: Apache-2.0
"""The weld list: what is joined, where, how long, how thick, how it is prepared."""

import math
from collections.abc import Iterator
from dataclasses import replace

from sumpwright.errors import Finding, Problem
from sumpwright.job.load import LoadedJob
from sumpwright.job.shape import Boss
from sumpwright.metal.material import material
from sumpwright.metal.weld import fillet_leg, round_length
from sumpwright.studies.halves import Halved
from sumpwright.studies.make_against import ANYWAY
from sumpwright.studies.make_join import SheetJoint
from sumpwright.studies.make_result import WeldLine
from sumpwright.studies.make_seat import PAN, SeatedOn, pan_metal_name
from sumpwright.studies.part import Part
from sumpwright.units import shown


def welds_of(
    loaded: LoadedJob,
    halved: Halved | None,
    seats: tuple[SeatedOn, ...],
    joints: tuple[SheetJoint, ...],
) -> tuple[WeldLine, ...]:
    """Every weld of the pan that the job knows of, numbered."""
    lines = [
        *(_split(loaded, halved) if halved is not None else ()),
        *_bosses(loaded),
        *_tabs(loaded, seats),
        *_joints(loaded, joints),
    ]
    return tuple(replace(line, name=f"W{number}") for number, line in enumerate(lines, 1))


def weld_notes(
    loaded: LoadedJob, seats: tuple[SeatedOn, ...], joints: tuple[SheetJoint, ...]
) -> tuple[str, ...]:
    """What is joined otherwise, or not said to be joined."""
    new = loaded.job.new
    bosses = () if new.shape is None else new.shape.bosses
    milled = [boss.name for boss in bosses if not welded_in(loaded, boss)]
    said = []
    if milled:
        said.append(f"No weld: {', '.join(milled)} (milled with the half).")
    held = sum(s.tab.holes is not None and s.tab.holes.use != "plug welds" for s in seats)
    if held:
        said.append(f"{held} of {len(seats)} tabs are riveted or screwed: see the parts list.")
    plain = sum(not joint.welded for joint in joints)
    if plain:
        said.append(f"{plain} of {len(joints)} joins of sheet parts are not welded.")
    return tuple(said)


def weld_problems(loaded: LoadedJob, seats: tuple[SeatedOn, ...]) -> Iterator[Problem]:
    """Metals that do not weld to each other."""
    for seat in seats:
        if _welded(seat) and not seat.joins:
            yield Problem(
                "MAKE-509",
                seat.where(loaded.job.units),
                f"a weld of {seat.metal} onto {seat.on_metal}",
                "metals that weld to each other",
                f"give the tab holes for rivets or screws, or make both of one metal, {ANYWAY}",
            )


def weld_findings(loaded: LoadedJob, seats: tuple[SeatedOn, ...]) -> Iterator[Finding]:
    """Baffles that nothing holds."""
    if loaded.job.new.baffles and not any(seat.on == PAN for seat in seats):
        yield Finding(
            "MAKE-510",
            "baffles",
            "no tab of theirs lies on the pan: the job does not say what holds them there",
            "add tabs that reach its wall or floor, or settle how they are held",
            "note",
        )


def welded_in(loaded: LoadedJob, boss: Boss) -> bool:
    """Whether a boss is turned and welded in; halves have theirs milled on unless the job asks."""
    if boss.made is None:
        return loaded.job.new.split is None
    return boss.made == "welded in"


def turned_bosses(loaded: LoadedJob) -> Iterator[Part]:
    """Bosses that are turned, for the parts list."""
    shape = loaded.job.new.shape
    metal = pan_metal_name(loaded)
    for number, boss in enumerate(() if shape is None else shape.bosses, 1):
        if not welded_in(loaded, boss):
            continue
        bore = _bore(boss)
        area = 0.25 * math.pi * (boss.diameter**2 - bore**2)
        units = loaded.job.units
        stock = [shown(v, "length", units) for v in (boss.diameter, boss.height)]
        said = f"tapped {boss.thread}" if boss.thread else f"bored {_mm(bore, units)}"
        yield Part(
            key=f"boss-{number}",
            name=f"{boss.name}, boss",
            how="turned",
            material=metal or "",
            mass=None if metal is None else material(metal).density * area * boss.height,
            stock=f"round bar {stock[0]}, {stock[1]} long",
            note=f"{said} after welding",
        )


def _called(boss: Boss) -> str:
    return boss.name if boss.kind in boss.name else f"{boss.name} ({boss.kind})"


def _bore(boss: Boss) -> float:
    if boss.bore is not None:
        return boss.bore
    name, pitch = str(boss.thread).split("x")
    return 1e-3 * (float(name[1:]) - float(pitch))


def _split(loaded: LoadedJob, halved: Halved) -> Iterator[WeldLine]:
    joint, units = halved.result.joint, loaded.job.units

    def mm(value: float) -> str:
        return shown(value, "length", units)

    angle = f"{math.degrees(joint.groove_angle):.0f} deg"
    groove = (
        f"groove {mm(joint.groove_depth_m)} deep, {angle}, root face {mm(joint.root_face_m)}, "
        f"gap {mm(joint.gap_m)}"
    )
    lip = f"; lip {mm(joint.lip_height_m)} high" if joint.lip_height_m else ""
    said = "in the solids" if joint.modelled else "not in the solids: prepare by hand"
    fine = 2 if units == "metric" else 4
    least, most = (shown(v, "length", units, digits=fine) for v in joint.draw_m)
    draw = f"draws the flange down {least} to {most}"
    yield WeldLine(
        kind="split",
        where=f"outside, all round at the split, {mm(-joint.height_m)} below the rail",
        length_m=joint.weld_m,
        thickness_m=joint.wall_least_m,
        metal=halved.result.material,
        prepared=f"{groove}{lip} ({said})",
        note=f"{shown(joint.deposit_kg, 'mass', units)} laid; {draw}; then skim the flange",
    )


def _bosses(loaded: LoadedJob) -> Iterator[WeldLine]:
    shape, units = loaded.job.new.shape, loaded.job.units
    for boss in () if shape is None else shape.bosses:
        if not welded_in(loaded, boss):
            continue
        thin = min(shape.wall, 0.5 * (boss.diameter - _bore(boss))) if shape is not None else 0.0
        x, y, z = (shown(v, "length", units, digits=0) for v in boss.at)
        whole = loaded.job.new.split is not None
        yield WeldLine(
            kind="boss",
            where=f"{_called(boss)}, outside, all round the boss at {x}, {y}, {z}",
            length_m=round_length(boss.diameter),
            thickness_m=thin,
            metal=pan_metal_name(loaded) or "",
            prepared=f"fillet, leg {_mm(fillet_leg(thin, thin), units)}; seat or hole "
            f"{_mm(boss.diameter, units)}, square",
            note="tap and face it after welding"
            + ("; the half's STEP shows it in place: mill the hole instead" if whole else ""),
        )


def _welded(seat: SeatedOn) -> bool:
    return seat.tab.holes is None or seat.tab.holes.use == "plug welds"


def _tabs(loaded: LoadedJob, seats: tuple[SeatedOn, ...]) -> Iterator[WeldLine]:
    units = loaded.job.units
    for seat in seats:
        if not _welded(seat) or not seat.joins:
            continue
        own, other, holes = seat.baffle.thickness, seat.on_thickness, seat.tab.holes
        thin = own if other is None else min(own, other)
        if holes is None:
            length = seat.tab.width
            prepared = f"fillet along the flange's end, leg {_mm(fillet_leg(own, thin), units)}"
        else:
            length = holes.count * round_length(holes.diameter)
            prepared = f"{holes.count} plug welds in holes of {_mm(holes.diameter, units)}"
        yield WeldLine(
            kind="sheet",
            where=seat.where(units),
            length_m=length,
            thickness_m=thin,
            metal=seat.metal,
            prepared=prepared,
            note="the job gives the tab no holes" if holes is None else "length: round the holes",
        )


def _joints(loaded: LoadedJob, joints: tuple[SheetJoint, ...]) -> Iterator[WeldLine]:
    units = loaded.job.units
    for joint in joints:
        if not joint.welded:
            continue
        how = f"fillet, leg {_mm(fillet_leg(joint.thickness, joint.thickness), units)}, one side"
        if joint.tongues:
            width = _mm(joint.width, units)
            how = f"{joint.tongues} tongues of {width}, across their ends on the far side"
        yield WeldLine(
            kind="sheet",
            where=f"{joint.guest} to {joint.host}, {joint.kind}",
            length_m=joint.length,
            thickness_m=joint.thickness,
            metal=joint.metal,
            prepared=how,
            note="" if joint.asked else "as is usual; the job does not say",
        )


def _mm(value: float, units: str) -> str:
    return shown(value, "length", units)
