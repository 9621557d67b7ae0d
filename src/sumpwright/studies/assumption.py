# SPDX-License-Identifier: Apache-2.0
"""What the numbers take for granted, as sentences for the report."""

from collections.abc import Iterator

from sumpwright.errors import RangeError
from sumpwright.job.model import Job
from sumpwright.oil.grade import typical_viscosity
from sumpwright.oil.viscosity import kinematic_viscosity, viscosity_line
from sumpwright.studies.oil_state import density_15
from sumpwright.studies.result import Clearance, PanFill, PanHold
from sumpwright.units import shown

NOTEWORTHY = 0.01
"""Share of a pan's oil that may lie apart from the pickup before it is said."""
APART = (
    ("at_rest_m3", "at rest"),
    ("left_m3", "at its limit in a left turn"),
    ("right_m3", "at its limit in a right turn"),
    ("brake_m3", "at its limit under braking"),
    ("accelerate_m3", "at its limit accelerating"),
    ("slope_up_m3", "at its limit nose uphill"),
    ("slope_down_m3", "at its limit nose downhill"),
    ("slope_left_m3", "at its limit left side uphill"),
    ("slope_right_m3", "at its limit right side uphill"),
    ("low_at_rest_m3", "at rest at the low mark"),
)


def assumptions(
    job: Job, filled: PanFill, cleared: Clearance | None, held: PanHold | None
) -> tuple[str, ...]:
    """Every sentence that applies to this job."""
    said = [*_of_oil(job, filled)]
    if cleared is not None:
        said += _of_room(job, cleared)
    if held is not None:
        said += [*_of_hold(job), *_of_pan(job, held)]
        said += _of_pan(job, held.stock) if held.stock is not None else []
    return tuple(said)


def _of_oil(job: Job, filled: PanFill) -> Iterator[str]:
    yield (
        "Levels are exact for the meshes as read; surfaces are planes square to effective gravity."
    )
    yield "Air escapes from everywhere: none is held under the roof of a kick-out."
    pans = [job.new, *([job.stock] if job.stock is not None else [])]
    if any(pan.baffles or pan.displacing for pan in pans):
        yield (
            "What baffles and displacing bodies take up is taken off every level; a tube counts "
            "with what its body encloses, a trap door as thick as nothing."
        )
    yield (
        f"Oil grows by a factor of {filled.expansion:.4f} from cold to hot "
        "([API-MPMS-11.1], uncertain by about 1 %)."
    )
    if job.oil.density_15 is None:
        of_grade = f", typical of {job.oil.grade}" if job.oil.grade else ""
        yield (
            f"Density at 15 °C is taken as {density_15(job):.0f} kg/m³{of_grade} "
            "(common practice, no source)."
        )
    yield from _of_viscosity(job)
    for pan in (filled, filled.stock):
        if pan is not None and pan.hot_m3 > pan.brim_m3:
            hot, brim = (shown(v, "volume", job.units) for v in (pan.hot_m3, pan.brim_m3))
            yield (
                f"{pan.name}: hot and drained back, the full fill is {hot} and stands above the "
                f"lowest corner of the rail, up to which the pan holds {brim}."
            )


def _of_viscosity(job: Job) -> Iterator[str]:
    """The oil's viscosity hot and cold, so that a person sees what the job's oil is."""
    oil, why = job.oil, ""
    if oil.viscosity is not None:
        first, second = oil.viscosity
        line = viscosity_line(nu_1=first.value, t_1=first.at, nu_2=second.value, t_2=second.at)
    elif oil.grade is not None:
        try:
            typical = typical_viscosity(oil.grade)
        except RangeError:
            return  # a winter grade alone says nothing of the oil when hot
        line, why = typical.line, f" for the {typical.assumption}"
    else:
        return
    hot, cold = (
        f"{shown(float(kinematic_viscosity(line, t)), 'viscosity', job.units)} at "
        f"{shown(t, 'temperature', job.units)}"
        for t in (oil.hot, oil.cold)
    )
    yield f"Viscosity is {hot} and {cold} ([ASTM-D341]){why}; the static hold does not use it."


def _of_room(job: Job, cleared: Clearance) -> Iterator[str]:
    if cleared.obstacles and not job.movement:
        yield "No engine movement is given: the gaps are those of an engine that never moves."
    sweep = job.engine.crank_sweep
    if any(m.roll for m in job.movement) and (sweep is None or sweep.height is None):
        yield (
            "The crank centreline is not given in numbers: the engine is rolled about the middle "
            "of the pan rail, y = 0 and z = 0."
        )
    if cleared.ground_m is not None:
        yield (
            "Ground clearance is that of the height given: load, tyres and the car's own roll and "
            "dive are not taken off."
        )


def _of_hold(job: Job) -> Iterator[str]:
    yield (
        "Static hold is without baffles, doors and slosh: a transition can uncover a pickup "
        "earlier, baffles can keep it covered longer."
    )
    yield (
        "Accelerations are along a level road, in the car's own axes: its roll and dive on the "
        "springs are not added. They flatter the hold: at 1 g, 3° of roll costs about 0.1 g."
    )
    yield (
        "All oil finds one level: what would be left standing in pockets above it is counted as "
        "if it had run down."
    )
    if job.engine.flow is None:
        yield "No oil flow is given: the draw-down over the pickup is not counted."
    else:
        yield (
            "The draw-down height is for oil without swirl and viscosity ([Lubin-Springer-1967]); "
            "swirl and cold oil need more cover."
        )
    if job.engine.retained is None:
        yield "No retained oil is given: all of the oil is taken to be in the pan."
    if job.engine.crankcase_height == 0.0:
        yield (
            "No crankcase height is given: the rail is a lid that holds the oil down, which "
            "flatters the hold wherever oil would climb above the rail."
        )


def _of_pan(job: Job, held: PanHold) -> Iterator[str]:
    if held.oil_m3 == 0.0:
        yield f"{held.name}: at the hold speed all of its oil is up in the engine."
    if held.oil_left_out_m3 > 0.0:
        over = shown(held.oil_left_out_m3, "volume", job.units)
        yield (
            f"{held.name}: running, there is {over} more oil than pan and crankcase hold; it is "
            "left out of the static hold. Give `engine.crankcase_height`, or fill less."
        )
    places = [
        f"{shown(apart, 'volume', job.units)} {when}"
        for key, when in APART
        if (apart := getattr(held.apart, key) or 0.0) > NOTEWORTHY * held.oil_m3
    ]
    if places:
        yield (
            f"{held.name}: some oil lies in pools that do not touch the pickup's: "
            f"{', '.join(places)}. All are taken to stand at one level; really each keeps what ran "
            "into it, and the pump soon empties a small one."
        )
