# SPDX-License-Identifier: Apache-2.0
"""Compiled flow through one opening; opening.py is the door and holds the theory.

An opening is triangles: ``corners`` (m, 3, 3), signed ``areas`` (m,) and ``traits`` (4,), as in
`sumpwright.oil.opening.Opening`. The integrals over them are in opening_integral.py.
"""

import numpy as np
from numpy.typing import NDArray

from sumpwright.geometry.kernel import compiled_lean
from sumpwright.oil.opening_integral import flow_integrals, slot_integrals, speed_of, wetted
from sumpwright.oil.opening_shape import DUST

Floats = NDArray[np.float64]
Four = tuple[float, float, float, float]


@compiled_lean
def opening_flow_of(
    corners: Floats,
    areas: Floats,
    traits: Floats,
    head_1: float,
    head_2: float,
    up: Floats,
    gravity: float,
    viscosity: float,
    discharge: float,
    share: float,
) -> Four:
    """Flow from pool 1 to pool 2 and its slopes. No argument is checked.

    Parameters
    ----------
    corners : (m, 3, 3) [m]
        Of the triangles.
    areas : (m,) [m^2]
        Signed.
    traits : (4,) [m, -, m, -]
        Hydraulic diameter, entry and duct numbers, 1 where the diameter shrinks with wetted area.
    head_1 : float [m]
        Height of pool 1's surface along `up`; minus infinity where the pool is empty.
    head_2 : float [m]
        Of pool 2's.
    up : (3,) [-]
        Unit vector against effective gravity.
    gravity : float [m/s^2]
        Its size; zero or less gives no flow.
    viscosity : float [m^2/s]
        nu, kinematic, above zero.
    discharge : float [-]
        Cd.
    share : float [-]
        Open part of the opening, 0 to 1.

    Returns
    -------
    flow, by_head_1, by_head_2, by_share : float [m^3/s], [m^2/s], [m^2/s], [m^3/s]

    Source
    ------
    As `sumpwright.oil.opening.opening_flow`. Checked by tests/oil/test_opening.py.
    """
    if head_1 >= head_2:
        flow, high, low, opened = _downhill(
            corners, areas, traits, head_1, head_2, up, gravity, viscosity, discharge, share
        )
        return flow, high, low, opened
    flow, high, low, opened = _downhill(
        corners, areas, traits, head_2, head_1, up, gravity, viscosity, discharge, share
    )
    return -flow, -low, -high, -opened


@compiled_lean
def sunk_flow_of(
    area: float,
    traits: Floats,
    head_1: float,
    head_2: float,
    gravity: float,
    viscosity: float,
    discharge: float,
    share: float,
) -> Four:
    """As `opening_flow_of` where both surfaces lie over the whole opening: no shape is needed.

    Parameters
    ----------
    area : float [m^2]
        Of the opening.
    traits : (4,) [m, -, m, -]
        As there.
    head_1 : float [m]
        Height of pool 1's surface.
    head_2 : float [m]
        Of pool 2's.
    gravity : float [m/s^2]
        Above zero.
    viscosity : float [m^2/s]
        nu, kinematic, above zero.
    discharge : float [-]
        Cd.
    share : float [-]
        Open part of the opening, 0 to 1.

    Returns
    -------
    flow, by_head_1, by_head_2, by_share : float [m^3/s], [m^2/s], [m^2/s], [m^3/s]

    Source
    ------
    As `sumpwright.oil.opening.opening_flow`. Checked by tests/oil/test_opening_exact.py.
    """
    if not share > DUST:
        return 0.0, 0.0, 0.0, 0.0
    width, a, b, b_by_width = _losses(traits, share, gravity, viscosity, discharge)
    v = speed_of(abs(head_1 - head_2), a, b)
    slope = area / (2.0 * a * v + b)
    by_share = area * v - slope * v * b_by_width * traits[3] * width
    if head_1 < head_2:
        v, by_share = -v, -by_share
    return share * area * v, share * slope, -share * slope, by_share


@compiled_lean
def _losses(
    traits: Floats, wet: float, gravity: float, viscosity: float, discharge: float
) -> tuple[float, float, float, float]:
    """Hydraulic diameter, a, b and the slope of b by that diameter, for a wetted open share."""
    width = traits[0] * (traits[3] * wet + (1.0 - traits[3]))
    a = 1.0 / (2.0 * gravity * discharge * discharge)
    k = viscosity / (2.0 * gravity)
    b = k * (traits[1] + traits[2] / width) / width
    return width, a, b, -k * (traits[1] + 2.0 * traits[2] / width) / (width * width)


@compiled_lean
def _downhill(
    corners: Floats,
    areas: Floats,
    traits: Floats,
    high: float,
    low: float,
    up: Floats,
    gravity: float,
    viscosity: float,
    discharge: float,
    share: float,
) -> Four:
    """Flow from the higher pool, its slopes by the higher head, the lower head and the share."""
    if not (gravity > 0.0 and share > DUST):
        return 0.0, 0.0, 0.0, 0.0
    if traits[3] == 0.0:
        _, a, b, _ = _losses(traits, share, gravity, viscosity, discharge)
        flow, slope, fall, drag = slot_integrals(corners, areas, up, high, low, a, b)
        return share * flow, share * slope, -share * fall, flow
    whole, wet, rise, bottom = wetted(corners, areas, up, high)
    if not wet > DUST * whole:
        return 0.0, 0.0, 0.0, 0.0
    width, a, b, b_by_width = _losses(traits, share * wet / whole, gravity, viscosity, discharge)
    # minus infinity will not do: any height under the opening has its flow
    low = max(low, bottom - 1.0)
    flow, slope, fall, drag = flow_integrals(corners, areas, up, high, low, a, b)
    # what a wider wetted opening gains by the smaller share of viscous loss
    gain = -drag * b_by_width * traits[3]
    by_high = slope + gain * traits[0] * share * rise / whole
    return share * flow, share * by_high, -share * fall, flow + gain * width
