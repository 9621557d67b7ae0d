# SPDX-License-Identifier: Apache-2.0
"""What the pump gets over a drive: pressure at its inlet, and pressure in the gallery.

Steady at every moment: what the oil's column in the tube adds as the car's acceleration changes,
and the time that galleries take to empty, are left out.
"""

from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

from sumpwright.job.load import LoadedJob
from sumpwright.oil.pump import delivery, oil_flow
from sumpwright.oil.suction import suction_budget
from sumpwright.studies.bodies import Bodies
from sumpwright.studies.suction_line import (
    crankcase_pressure,
    gallery,
    oil_line,
    suction_line,
)

if TYPE_CHECKING:
    from sumpwright.studies.drive import Run

Floats = NDArray[np.float64]

FLOWS = 64
"""Flows at which the losses are computed; between them they run straight in the square."""


def inlet_pressure(loaded: LoadedJob, bodies: Bodies, done: "Run") -> Floats | None:
    """(k,) absolute pressure [Pa] at the pump; at the pickup's mouth where no line is given.

    None without a pickup. Where air is drawn, as if the tube were full of oil.
    """
    if done.ready.net.mouth.pool < 0 or bodies.new.rim is None:
        return None
    suction, net = loaded.job.new.suction, done.ready.net
    gravity, surface, up = _over_mouth(bodies, done)
    place = bodies.new.rim.centre
    if suction is not None and suction.pump_inlet is not None:
        place = np.array(suction.pump_inlet)
    head = net.fluid.density * gravity * (surface - up @ place)
    lost = np.zeros(len(head)) if suction is None else _losses(loaded, done)
    return np.asarray(crankcase_pressure(loaded.job) + head - lost)


def _over_mouth(bodies: Bodies, done: "Run") -> tuple[Floats, Floats, Floats]:
    """Effective gravity (k,), height of the surface over the mouth (k,), and up (k, 3)."""
    course, pool = done.course, done.ready.net.mouth.pool
    force = done.force_at(course.time)
    gravity = np.linalg.norm(force, axis=1)
    up = force / gravity[:, None]
    assert bodies.new.rim is not None
    needed = done.ready.net.mouth.drawdown * (course.flow**2 / gravity) ** 0.2
    surface = course.cover + needed + bodies.new.rim.highest_height(up)
    assert pool >= 0
    return gravity, np.asarray(surface), up


def _losses(loaded: LoadedJob, done: "Run") -> Floats:
    """(k,) pressure [Pa] lost between the surface and the pump."""
    suction, fluid = loaded.job.new.suction, done.ready.net.fluid
    assert suction is not None
    flow = done.course.flow
    most = float(flow.max())
    if most <= 0.0:
        return np.zeros(len(flow))
    grid = most * np.linspace(0.0, 1.0, FLOWS)
    budget = suction_budget(
        suction_line(suction, loaded.job.new.housing),
        grid,
        viscosity=fluid.viscosity,
        density=fluid.density,
        rise=0.0,
        gravity=1.0,
        ambient=crankcase_pressure(loaded.job),
    )
    return np.asarray(np.interp(flow, grid, budget.ambient - budget.inlet))


def gallery_pressure(loaded: LoadedJob, done: "Run") -> Floats | None:
    """(k,) gauge pressure [Pa] in the gallery; None where the job gives no reading."""
    line = oil_line(loaded.job)
    pump = loaded.job.engine.pump
    if pump is None or pump.reading is None or line is None:
        return None
    course = done.course
    oil = oil_flow(course.flow, course.air)
    return delivery(gallery(loaded.job, line), oil, done.ready.net.fluid.viscosity).pressure
