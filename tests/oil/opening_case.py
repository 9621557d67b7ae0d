# SPDX-License-Identifier: Apache-2.0
"""Openings that several tests of the flow use."""

import math

import numpy as np

from sumpwright.oil.opening import opening_flow
from sumpwright.oil.opening_shape import Opening, window

G = 9.81  # m/s^2, as the checks were worked
DOWN = np.array([0.0, 0.0, -G])
THIN = 1e-12  # m^2/s; a millionth of water, for sources that know no viscosity
DRY = -math.inf
NO_VISCOSITY = 1e-5  # relative; what THIN leaves of viscous loss in the cases here is below it


def upright(width: float, bottom: float, top: float) -> Opening:
    return window([(0.0, 0.0, bottom), (width, 0.0, bottom), (width, 0.0, top), (0.0, 0.0, top)])


def round_hole(diameter: float, *, level: bool = False) -> Opening:
    """A ring of 64 corners with the circle's own area."""
    turn = np.arange(64) * math.tau / 64
    radius = diameter / 2.0 * math.sqrt(math.tau / 64 / math.sin(math.tau / 64))
    ring = radius * np.array([np.cos(turn), np.sin(turn), np.zeros(64)]).T
    return window(ring if level else ring[:, [0, 2, 1]])


def flow(
    opening: Opening, head_1: float, head_2: float, cd: float, nu: float = THIN, *, g: float = G
) -> float:
    answer = opening_flow(
        opening, head_1=head_1, head_2=head_2, gravity=DOWN * (g / G), viscosity=nu, discharge=cd
    )
    return answer.flow
