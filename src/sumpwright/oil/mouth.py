# SPDX-License-Identifier: Apache-2.0
r"""What a pickup draws when oil stands too low over it: oil, air, or both.

At a cover S a sink can draw oil alone up to the flow whose draw-down height is S (drawdown.py):
the inverse of that formula. What the pump draws beyond is air. A mouth that leans is the mean of
its rim, at eight points round it.
"""

import math

from numpy.typing import ArrayLike

from sumpwright.geometry.kernel import compiled_lean
from sumpwright.oil.drawdown import critical_submergence
from sumpwright.oil.table import not_negative, positive

RISES = (1.0, math.sqrt(0.5), 0.0, -math.sqrt(0.5), -1.0)
"""Heights of eight even points round a leaning rim, over its middle, in halves of its rise."""
WEIGHTS = (0.125, 0.25, 0.25, 0.25, 0.125)


def air_fraction(
    *,
    cover_of_highest: float,
    cover_of_lowest: float,
    flow: float,
    gravity: float,
    solid_angle: float,
) -> float:
    r"""Share of air in what a pump draws through a mouth at a cover.

    .. math:: \alpha = 1 - \min\left(1, (S/H)^{5/2}\right), \quad S > 0

    H is the draw-down height of the whole flow; the mean over the rim is taken.

    Parameters
    ----------
    cover_of_highest : float [m]
        S over the rim's highest point, along effective gravity; negative where it is dry.
    cover_of_lowest : float [m]
        S over its lowest point.
    flow : float [m^3/s]
        Q, oil and air.
    gravity : float [m/s^2]
        g, local effective gravity.
    solid_angle : float [sr]
        Omega, as in drawdown.py.

    Returns
    -------
    fraction : float [-]
        0 while the highest point keeps the draw-down height, and where nothing is drawn.

    Raises
    ------
    RangeError
        If the flow is negative or gravity not positive.

    Source
    ------
    [Lubin-Springer-1967] turned round; that air makes up the rest is [common-practice]. Checked by
    tests/oil/test_mouth.py.
    """
    q = float(not_negative(flow, "flow", "m^3/s"))
    needed = float(critical_submergence(q, positive(gravity, "gravity", "m/s^2"), solid_angle))
    return float(air_fraction_of(cover_of_highest, cover_of_lowest, needed)[0])


def drawdown_coefficient(solid_angle: ArrayLike) -> float:
    """Draw-down height of a unit flow in unit gravity: H = c (Q^2/g)^(1/5).

    Parameters
    ----------
    solid_angle : float [sr]
        Omega.

    Returns
    -------
    coefficient : float [-]

    Source
    ------
    As `critical_submergence`.
    """
    return float(critical_submergence(1.0, 1.0, solid_angle))


@compiled_lean
def air_fraction_of(high: float, low: float, needed: float) -> tuple[float, float]:
    """Share of air, and its slope as the surface rises. Nothing is checked.

    Parameters
    ----------
    high : float [m]
        Cover over the rim's highest point.
    low : float [m]
        Cover over its lowest point.
    needed : float [m]
        Draw-down height of the whole flow; 0 where nothing is drawn.

    Returns
    -------
    fraction, by_level : float [-], float [1/m]

    Source
    ------
    As `air_fraction`.
    """
    if not needed > 0.0:
        return 0.0, 0.0
    middle, half = 0.5 * (high + low), 0.5 * (low - high)
    oil, slope = 0.0, 0.0
    for k in range(5):
        share = (middle - half * RISES[k]) / needed
        if share >= 1.0:
            oil += WEIGHTS[k]
        elif share > 0.0:
            root = math.sqrt(share) * share
            oil += WEIGHTS[k] * root * share
            slope += WEIGHTS[k] * 2.5 * root / needed
    return 1.0 - oil, -slope
