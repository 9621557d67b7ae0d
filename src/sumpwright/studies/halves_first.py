# SPDX-License-Identifier: Apache-2.0
"""A split that misses the pan's walls, said before anything is drawn or cut."""

import math

from sumpwright.geometry.wall import flange_thickness
from sumpwright.job.load import LoadedJob
from sumpwright.job.split import Split
from sumpwright.studies.bodies import Bodies
from sumpwright.studies.halves_problem import mm, no_ring, refuse_height, tall_lip
from sumpwright.studies.shape_form import pan_form


def refuse_split(loaded: LoadedJob) -> None:
    """InputError where the numbers of a drawn pan alone say that the split misses its walls."""
    split = loaded.job.new.split
    if loaded.job.new.shape is None or split is None or split.height is None:
        return
    form = pan_form(loaded, "new")
    # where the drawn outline reaches furthest down; sides that lean may keep the floor above it
    floors = [zone.span[0] for zone in form.zones]
    if form.relief is not None:
        axis = (form.relief.start, form.relief.end)
        floors.append(min(float(end[2]) for end in axis) - form.relief.radius)
    _refuse(loaded, split, split.height, flange=-form.flange, floor=min(floors))
    for boss in form.bosses:
        ends = (float(boss.at[2]), float(boss.inner[2]))
        tilted = boss.radius * math.sqrt(max(1.0 - float(boss.out[2]) ** 2, 0.0))
        low, high = min(ends) - tilted, max(ends) + tilted
        if low < split.height < high:
            span = " to ".join(mm(z, loaded.job.units) for z in (high, low))
            raise no_ring(loaded, split.height, f"goes through {boss.name}, from {span}")


def refuse_split_of(loaded: LoadedJob, bodies: Bodies) -> None:
    """InputError where the split misses the walls of the bodies as they were read."""
    split, outside = loaded.job.new.split, bodies.new.outside
    if split is None or split.height is None or outside is None:
        return
    rail = float(outside.bounds[1, 2])
    shape = loaded.job.new.shape
    flange = flange_thickness(outside, rail) if shape is None else shape.flange.thickness
    floor = float(bodies.new.cavity.bounds[0, 2])
    _refuse(loaded, split, split.height, flange=rail - flange, floor=floor)


def _refuse(loaded: LoadedJob, split: Split, height: float, *, flange: float, floor: float) -> None:
    """The split itself, then how far its lip reaches along the wall."""
    refuse_height(loaded, height, flange=flange, floor=floor)
    lip = split.lip
    if lip is None:
        return
    room = flange - height if lip.on == "lower" else height - floor
    if lip.height + lip.clearance >= room:
        raise tall_lip(loaded, lip.height, room)
