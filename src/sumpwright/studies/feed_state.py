# SPDX-License-Identifier: Apache-2.0
"""One pan with its suction line and its oil, ready to be asked at any speed and temperature.

The car stands on level ground, filled to the full mark; the surface is that of the oil left in the
pan at each speed and temperature.
"""

from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import ArrayLike, NDArray

from sumpwright.geometry.frame import STANDARD_GRAVITY
from sumpwright.geometry.level import levels_of
from sumpwright.job.model import Job, Pan
from sumpwright.oil.density import density, expansion
from sumpwright.oil.drawdown import critical_submergence
from sumpwright.oil.film import HALF_RING, RING, film_depth_upstream
from sumpwright.oil.suction import Budget, SuctionLine, suction_budget
from sumpwright.oil.viscosity import ViscosityLine, kinematic_viscosity
from sumpwright.studies.bodies import Bodies, PanBodies
from sumpwright.studies.feed_range import cold_speed, thick_at
from sumpwright.studies.oil_state import (
    SOLID_ANGLE,
    OilState,
    density_15,
    hold_speed,
    installed_up,
    oil_state,
)
from sumpwright.studies.pickup import floor_gap
from sumpwright.studies.suction_line import (
    crankcase_pressure,
    draws,
    oil_line,
    pickup_flow,
    retained_at,
    suction_line,
)

Floats = NDArray[np.float64]


@dataclass(frozen=True, eq=False)
class FeedState:
    """What holds at each pair of speed and temperature; all arrays of one shape."""

    flow: Floats
    viscosity: Floats
    density: Floats
    oil: Floats
    surface: Floats
    budget: Budget
    cover: Floats | None
    """Oil over the rim's highest point; None without a pickup"""
    drawdown: Floats | None
    film: Floats | None
    """What thick oil needs on top; None where the gap under the mouth is not known"""

    @property
    def spare_cover(self) -> Floats | None:
        """Cover less all that is known to be needed."""
        if self.cover is None or self.drawdown is None:
            return None
        return self.cover - self.drawdown - (0.0 if self.film is None else self.film)


@dataclass(frozen=True, eq=False)
class FeedLine:
    """The way from the surface of one pan's oil to the pump."""

    job: Job
    body: PanBodies
    state: OilState
    suction: SuctionLine
    oil: ViscosityLine
    up: Floats
    pump_height: float
    """Of the pump's inlet along up [m]"""
    ambient: float
    place: str | None
    """What bounds the flow to the mouth; None without a pickup"""
    gap: float | None
    """From a downward mouth to the floor [m]"""
    relief_at: float
    """Temperature [K] by which a relief valve that spills to the inlet opens: hot. Colder it opens
    sooner, but not while the galleries fill after a start, when the pickup carries it all."""

    def at(self, speed: ArrayLike, temperature: ArrayLike) -> FeedState:
        """Flow, pressures and cover at `speed` [rad/s] and `temperature` [K], which broadcast."""
        speed, t = np.broadcast_arrays(*(np.asarray(a, float) for a in (speed, temperature)))
        flow = pickup_flow(self.job, self.oil, speed, np.full(t.shape, self.relief_at))
        oil = self._oil(speed, t)
        height, area = self._surface(oil)
        nu, rho = kinematic_viscosity(self.oil, t), density(density_15(self.job), t)
        budget = suction_budget(
            self.suction,
            flow,
            viscosity=nu,
            density=rho,
            rise=self.pump_height - height,
            gravity=STANDARD_GRAVITY,
            ambient=self.ambient,
        )
        return FeedState(flow, nu, rho, oil, height, budget, **self._cover(flow, nu, height, area))

    def _oil(self, speed: Floats, t: Floats) -> Floats:
        """In the pan: the full fill at its temperature less what the engine holds up."""
        grown = expansion(density_15(self.job), t_from=self.job.oil.cold, t_to=t)
        left = self.state.full * grown - retained_at(self.job, speed, t)
        return np.clip(left, 0.0, self.body.level.volume)

    def _surface(self, oil: Floats) -> tuple[Floats, Floats]:
        found = levels_of(self.body.level, self.up, oil.ravel())
        return found.height.reshape(oil.shape), found.surface_area.reshape(oil.shape)

    def _cover(self, flow: Floats, nu: Floats, height: Floats, area: Floats) -> dict[str, Any]:
        if self.place is None or self.body.rim is None:
            return {"cover": None, "drawdown": None, "film": None}
        rim, up = self.body.rim, self.up[None]
        needed = critical_submergence(flow, STANDARD_GRAVITY, SOLID_ANGLE[self.place])
        cover = np.asarray(height - rim.highest_height(up)[0])
        film = None if self.gap is None else self._film(flow, nu, needed + self.gap, area)
        return {"cover": cover, "drawdown": needed, "film": film}

    def _film(self, flow: Floats, nu: Floats, depth: Floats, area: Floats) -> Floats:
        """Head from the pan's far side to the mouth, over a floor level with the one below it."""
        assert self.body.rim is not None
        radius = 0.5 * self.body.rim.equivalent_diameter
        angle = HALF_RING if self.place == "corner" else RING
        far = np.maximum(np.sqrt(2.0 * area / angle), radius)
        near = np.maximum(depth, 1e-6)  # a mouth that lies on the floor
        found = film_depth_upstream(
            flow,
            viscosity=nu,
            depth=near,
            radius=radius,
            far_radius=far,
            gravity=STANDARD_GRAVITY,
            angle=angle,
        )
        return np.asarray(found - near)


def feed_lacks(job: Job) -> str:
    """What the job does not say that a feed needs, as ``needs ...``; empty where nothing."""
    if job.new.suction is None:
        return "needs `new.suction`"
    oil = oil_line(job)
    if oil is None:
        return "needs `oil.viscosity`, or `oil.grade` with its hot number"
    if thick_at(oil) >= job.oil.hot:
        return "needs an oil that is thinner than 20000 mm²/s at `oil.hot`"
    if not draws(job):
        return "needs `engine.pump.displacement`, or `engine.flow`"
    return "" if hold_speed(job) is not None else "needs `engine.rpm`"


def cold_lacks(job: Job) -> str:
    """What keeps the cold inlet from being judged where `feed_lacks` has nothing to say."""
    oil = oil_line(job)
    if cold_speed(job) is None:
        return "needs curves over engine speed that reach `engine.cold_rpm`"
    if oil is None or job.oil.cold < thick_at(oil):
        return "needs an oil that is thinner than 20000 mm²/s at `oil.cold`"
    return ""


def feed_line(job: Job, bodies: Bodies, pan: Pan, body: PanBodies) -> FeedLine | None:
    """The way from the pan's oil to the pump; None where something it needs is not given."""
    oil, state = oil_line(job), oil_state(job, bodies, pan, body)
    if feed_lacks(job) or oil is None or state is None or pan.suction is None:
        return None
    up = installed_up(bodies)
    return FeedLine(
        job=job,
        body=body,
        state=state,
        suction=suction_line(pan.suction, pan.housing),
        oil=oil,
        up=up,
        pump_height=float(np.asarray(pan.suction.pump_inlet) @ up),
        ambient=crankcase_pressure(job),
        place=None if pan.pickup is None else pan.pickup.place,
        gap=floor_gap(body),
        relief_at=job.oil.hot,
    )
