# SPDX-License-Identifier: Apache-2.0
"""What the job says of suction line, pump, oil and air, as the formulas take it.

Speeds are the crankshaft's in rad/s, temperatures in K; both may be arrays that broadcast.
"""

import math

import numpy as np
from numpy.typing import ArrayLike, NDArray

from sumpwright.errors import RangeError
from sumpwright.job.housing import Housing
from sumpwright.job.model import Job, RetainedPoint
from sumpwright.job.suction import Screen, Suction
from sumpwright.oil import screen as oil_screen
from sumpwright.oil.atmosphere import SEA_LEVEL, isa_pressure
from sumpwright.oil.grade import typical_viscosity
from sumpwright.oil.pipe import Bend, Tube
from sumpwright.oil.pump import Gallery, Pump, delivery, displaced_flow
from sumpwright.oil.retained import Curve, speed_curve
from sumpwright.oil.suction import SuctionLine
from sumpwright.oil.viscosity import ViscosityLine, kinematic_viscosity, viscosity_line
from sumpwright.studies.housing_place import suction_with

Floats = NDArray[np.float64]


def suction_line(suction: Suction, housing: Housing | None = None) -> SuctionLine:
    """Screen, mouth and tubes, from the pickup to the pump; what is left out, of the housing."""
    suction = suction_with(suction, housing)
    tubes = tuple(
        Tube(t.bore, t.length, tuple(Bend(b.angle, b.radius) for b in t.bends), t.roughness)
        for t in suction.tubes
    )
    screen = None if suction.screen is None else screen_of(suction.screen)
    return SuctionLine(tubes, screen, suction.edge_radius / tubes[0].bore)


def screen_of(screen: Screen) -> oil_screen.Screen:
    """The screen as the formulas take it."""
    if screen.pitch is not None and screen.wire is not None:
        return oil_screen.WovenScreen(screen.pitch, screen.wire, screen.area)
    assert screen.hole is not None
    assert screen.open_area is not None
    assert screen.thickness is not None
    return oil_screen.PerforatedScreen(screen.hole, screen.open_area, screen.thickness, screen.area)


def oil_line(job: Job) -> ViscosityLine | None:
    """The oil's viscosity over temperature: as measured, else typical of the grade, else None."""
    if job.oil.viscosity is not None:
        first, second = job.oil.viscosity
        return viscosity_line(nu_1=first.value, t_1=first.at, nu_2=second.value, t_2=second.at)
    if job.oil.grade is None:
        return None
    try:
        return typical_viscosity(job.oil.grade).line
    except RangeError:  # a winter grade alone says nothing of the oil when hot
        return None


def crankcase_pressure(job: Job) -> float:
    """Absolute pressure on the oil's surface [Pa]: as given, of the altitude, else at the sea."""
    if job.air is None:
        return SEA_LEVEL
    if job.air.pressure is not None:
        return job.air.pressure
    return float(isa_pressure(job.air.altitude or 0.0))


def draws(job: Job) -> bool:
    """Whether the job says what the pump draws."""
    pump = job.engine.pump
    return job.engine.flow is not None or (pump is not None and pump.displacement is not None)


def pickup_flow(job: Job, line: ViscosityLine | None, speed: ArrayLike, t: ArrayLike) -> Floats:
    """Flow through the pickup [m^3/s].

    A relief valve that spills back to the pump's inlet spares the pickup that part, the more the
    thicker the oil is.
    """
    whole = pump_flow(job, speed, t)
    if line is None or not spares_pickup(job):
        return whole
    return delivery(gallery(job, line), whole, kinematic_viscosity(line, t)).to_engine


def pump_flow(job: Job, speed: ArrayLike, t: ArrayLike) -> Floats:
    """Flow that the pump moves [m^3/s], or that is read from the job's curve."""
    pump = job.engine.pump
    if pump is None or pump.displacement is None:
        points = job.engine.flow or ()
        return _over(speed_curve([p.rpm for p in points], [p.flow for p in points]), speed, t)
    moved = displaced_flow(Pump(pump.displacement, pump.drive_ratio, pump.efficiency), speed)
    return np.asarray(moved + 0.0 * np.asarray(t, dtype=float))


def spares_pickup(job: Job) -> bool:
    """Whether the relief valve spills to the pump's inlet, and where it opens can be computed."""
    pump = job.engine.pump
    if pump is None or pump.relief_to != "inlet":
        return False
    return pump.relief is not None and pump.reading is not None


def gallery(job: Job, line: ViscosityLine) -> Gallery:
    """The one reading of the oil pressure, which the job must have, and the relief valve."""
    pump = job.engine.pump
    assert pump is not None
    assert pump.reading is not None
    return Gallery(
        pressure=pump.reading.pressure,
        flow=float(pump_flow(job, pump.reading.rpm, pump.reading.at)),
        viscosity=float(kinematic_viscosity(line, pump.reading.at)),
        relief=math.inf if pump.relief is None else pump.relief,
    )


def retained_at(job: Job, speed: ArrayLike, t: ArrayLike) -> Floats:
    """Oil up in the engine [m^3].

    Straight between the curve at `oil.cold` and the one at `oil.hot`; colder than the one and
    hotter than the other as there.
    """
    engine, oil = job.engine, job.oil
    one = engine.retained or engine.retained_cold
    if one is None:
        return np.zeros(np.broadcast_shapes(np.shape(speed), np.shape(t)))
    hot = _over(speed_curve(*_points(one)), speed, t)
    if engine.retained_cold is None or oil.hot <= oil.cold:
        return hot
    cold = _over(speed_curve(*_points(engine.retained_cold)), speed, t)
    share = np.clip((np.asarray(t, dtype=float) - oil.cold) / (oil.hot - oil.cold), 0.0, 1.0)
    return np.asarray(cold + share * (hot - cold))


def _points(curve: tuple[RetainedPoint, ...]) -> tuple[list[float], list[float]]:
    return [p.rpm for p in curve], [p.oil for p in curve]


def _over(curve: Curve, speed: ArrayLike, t: ArrayLike) -> Floats:
    """The curve's values, one for every pair of speed and temperature."""
    return np.asarray(curve.at(speed) + 0.0 * np.asarray(t, dtype=float))
