# SPDX-License-Identifier: Apache-2.0
"""A pan in numbers, ready for the CAD kernel; and what is wrong with it, by the part it is at."""

from collections.abc import Iterable
from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from sumpwright.errors import SumpwrightError
from sumpwright.geometry.profile import Profile
from sumpwright.geometry.zone import ZoneForm

Floats = NDArray[np.float64]
Part = tuple[str | int, ...]
"""``("zones", 2)``: a list of the pan and the number in it."""


@dataclass(frozen=True)
class PanFlaw:
    """One thing that cannot be made."""

    code: str
    part: Part
    found: str
    needed: str
    do: str


class PanError(SumpwrightError):
    """A pan that cannot be made; holds everything that was found."""

    def __init__(self, flaws: Iterable[PanFlaw]) -> None:
        self.flaws = tuple(flaws)
        super().__init__("; ".join(f.found for f in self.flaws))


@dataclass(frozen=True, eq=False)
class BossForm:
    """A round boss with a hole through it."""

    name: str
    at: Floats
    """(3,) [m] middle of its outer face"""
    out: Floats
    """(3,) [-] unit vector that its outer face looks along"""
    radius: float
    height: float
    bore: float
    """m, radius"""

    @property
    def inner(self) -> Floats:
        """(3,) [m] middle of its inner face."""
        return np.asarray(self.at - self.height * self.out)


@dataclass(frozen=True, eq=False)
class HoleForm:
    """A bolt hole of the flange."""

    name: str
    at: Floats
    """(2,) [m]"""
    radius: float


@dataclass(frozen=True, eq=False)
class ReliefForm:
    """A cylinder that is kept free of metal: crank and rods with their clearance."""

    start: Floats
    """(3,) [m]"""
    end: Floats
    """(3,) [m]"""
    radius: float

    def grown(self, wall: float, floor: float = 0.0) -> "ReliefForm":
        """With a wall at its ends, and round it, where it is mostly floor, the thicker of both."""
        along = (self.end - self.start) / float(np.linalg.norm(self.end - self.start))
        start, end = self.start - wall * along, self.end + wall * along
        return ReliefForm(start, end, self.radius + max(wall, floor))


@dataclass(frozen=True, eq=False)
class PanForm:
    """A pan. Engine frame, SI."""

    zones: tuple[ZoneForm, ...]
    wall: float
    floor: float
    """Thickness of the floors"""
    edge: Profile
    """Of the flange, outside"""
    flange: float
    """Its thickness"""
    holes: tuple[HoleForm, ...] = ()
    bosses: tuple[BossForm, ...] = ()
    relief: ReliefForm | None = None

    @cached_property
    def grown(self) -> tuple[ZoneForm, ...]:
        """The zones with their walls."""
        return tuple(z.grown(self.wall, self.floor) for z in self.zones)
