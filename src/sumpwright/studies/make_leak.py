# SPDX-License-Identifier: Apache-2.0
"""The leak test of a pan: pressure, limit, time, and what the gauge must see."""

import math

import numpy as np

from sumpwright.geometry.frame import STANDARD_GRAVITY
from sumpwright.job.load import LoadedJob
from sumpwright.job.shop import Inspection
from sumpwright.metal.leak import STANDARD_PRESSURE, decay_drop, drift_drop
from sumpwright.metal.leak_limit import air_for_oil
from sumpwright.oil.density import density
from sumpwright.oil.viscosity import kinematic_viscosity
from sumpwright.studies.bodies import Bodies
from sumpwright.studies.make_result import LeakTest
from sumpwright.studies.oil_state import density_15
from sumpwright.studies.suction_line import oil_line

DROP = 5e-8
"""m^3 of a drop of oil, [common-practice]"""
SHIFT = 8.0 * 3600.0
"""s in which a drop may come out, hot and running"""
ROOM = 293.15
"""K of the shop"""
SEEN = 200.0
"""Pa by which the pressure should fall at the limit: a plain gauge of 0.2 mbar then sees a tenth"""
SHORTEST, LONGEST = 120.0, 900.0
"""s of the test; longer, and the room's own warming and cooling says more than the leak"""
THIN = 10e-6
"""m^2/s of hot oil whose viscosity the job does not give, [common-practice]"""
DRIFT = 0.1
"""K"""


def leak_test(loaded: LoadedJob, bodies: Bodies) -> LeakTest:
    """The test of the new pan with its opening closed by a plate."""
    shop = loaded.job.shop
    asked = Inspection() if shop is None else shop.inspection
    volume = bodies.new.cavity.volume + (asked.hose or 0.0)
    inside = STANDARD_PRESSURE + asked.pressure
    viscosity, head = _hot_oil(loaded, bodies)
    limit = asked.leak
    if limit is None:
        limit = air_for_oil(
            DROP / SHIFT,
            oil_viscosity=viscosity,
            head=head,
            inside=inside,
            outside=STANDARD_PRESSURE,
            warm=ROOM,
        )
    time = _time(limit, volume)
    drop = decay_drop(limit, volume, time, ROOM)
    return LeakTest(
        volume_m3=volume,
        pressure_pa=asked.pressure,
        settle_s=asked.settle,
        time_s=time,
        limit_m3_s=limit,
        given=asked.leak is not None,
        drop_pa=drop,
        resolution_pa=0.1 * drop,
        drift_pa=drift_drop(inside, ROOM, DRIFT),
        viscosity_pa_s=None if asked.leak is not None else viscosity,
        head_pa=None if asked.leak is not None else head,
    )


def _time(limit: float, volume: float) -> float:
    """Whole minutes for the drop to be seen, within reason."""
    second = decay_drop(limit, volume, 1.0, ROOM)
    return min(max(60.0 * math.ceil(SEEN / second / 60.0), SHORTEST), LONGEST)


def _hot_oil(loaded: LoadedJob, bodies: Bodies) -> tuple[float, float]:
    """Dynamic viscosity of the hot oil, and its head over the pan's deepest place to the rail."""
    oil = loaded.job.oil
    rho = float(np.asarray(density(density_15(loaded.job), oil.hot)))
    low, high = bodies.new.cavity.bounds[:, 2]
    line = oil_line(loaded.job)
    nu = THIN if line is None else float(kinematic_viscosity(line, oil.hot))
    return rho * nu, rho * STANDARD_GRAVITY * float(high - low)
