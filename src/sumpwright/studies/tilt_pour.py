# SPDX-License-Identifier: Apache-2.0
"""How much oil a tilt test wants in the pan, and how far off its lines still read the same."""

from dataclasses import dataclass

import numpy as np

from sumpwright.job.model import Job
from sumpwright.studies.oil_state import hold_speed, retained_oil_at
from sumpwright.studies.result import PanFill

READ = 1e-3
"""m; the sheet gives its lines, and has them read, to a whole millimetre."""


@dataclass(frozen=True)
class Pour:
    """Oil for a tilt test [m^3]."""

    volume: float
    """The full fill, hot, less what the engine holds up at the hold speed"""
    within: float
    """More or less moves a level line by less than it is read to"""
    holds: float
    """The pan up to its rail; without walls over it no more goes in"""

    def fits(self, filled: float) -> bool:
        """Whether a pan with `filled` in it [m^3] shows the lines of the sheet."""
        low = min(self.volume, self.holds)
        return low - self.within <= filled <= self.volume + self.within


def tilt_pour(job: Job, fill: PanFill) -> Pour:
    """What the plan asks to pour for the tilt test of the new pan."""
    volume = max(0.0, fill.full_m3 * fill.expansion - retained_oil_at(job, hold_speed(job)))
    area = float(np.interp(volume, fill.curve.volume_m3, fill.curve.surface_area_m2))
    return Pour(volume, READ * area, fill.cavity_m3)
