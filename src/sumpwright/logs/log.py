# SPDX-License-Identifier: Apache-2.0
"""A log once it is understood: what each channel measures, in SI, on its own clock."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from sumpwright.errors import Finding

Floats = NDArray[np.float64]
Role = Literal[
    "pressure", "rpm", "temperature", "ax", "ay", "az", "speed", "yaw_rate", "latitude",
    "longitude", "gear", "throttle", "lap", "inlet", "level",
]  # fmt: skip
ROLES: Mapping[str, tuple[str, str]] = {
    "pressure": ("Pa", "oil pressure over the atmosphere"),
    "rpm": ("rad/s", "engine speed"),
    "temperature": ("K", "oil temperature"),
    "ax": ("m/s^2", "acceleration forward"),
    "ay": ("m/s^2", "acceleration to the left"),
    "az": ("m/s^2", "acceleration up, 0 at rest"),
    "speed": ("m/s", "road speed"),
    "yaw_rate": ("rad/s", "yaw rate, positive to the left"),
    "latitude": ("rad", "latitude"),
    "longitude": ("rad", "longitude"),
    "gear": ("-", "gear"),
    "throttle": ("-", "throttle, 0 to 1"),
    "lap": ("-", "lap number"),
    "inlet": ("Pa", "absolute pressure at the pump's inlet"),
    "level": ("m", "height of the oil in the pan"),
}
"""SI unit and meaning of what a channel may measure."""


@dataclass(frozen=True, eq=False)
class Channel:
    """One measured quantity."""

    role: Role
    column: str
    """Its name in the file"""
    unit: str
    """As read or asked for, such as ``bar``"""
    how: str
    """Why it is taken for that: ``given``, ``kept in the job`` or ``by its name``"""
    time: Floats
    """(k,) [s] rising strictly; blank cells are left out"""
    value: Floats
    """(k,) SI as in `ROLES`; finite"""

    @property
    def rate(self) -> float:
        """Samples a second [1/s], from the middle spacing; 0 with fewer than two."""
        return 1.0 / float(np.median(np.diff(self.time))) if len(self.time) > 1 else 0.0


@dataclass(frozen=True, eq=False)
class Log:
    """A file's channels by role, on one clock that starts at the file's first time."""

    name: str
    channels: Mapping[str, Channel]
    unused: tuple[str, ...] = ()
    """Names of columns that nothing is made of"""
    dialect: str = ""
    """Such as ``CSV, semicolons, decimal comma, names in line 15, units in line 16``"""
    findings: tuple[Finding, ...] = field(default=())
    typed: bool = False
    """Readings of gauges typed by hand, seconds apart or more"""

    def __getitem__(self, role: str) -> Channel:
        return self.channels[role]

    def __contains__(self, role: str) -> bool:
        return role in self.channels
