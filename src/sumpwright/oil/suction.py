# SPDX-License-Identifier: Apache-2.0
"""What pressure is left at the pump's inlet: surface, screen, mouth, tube, bends, pump.

Steady flow of oil without air. Every loss rises with flow, so at each temperature there is one
largest flow that the inlet can stand. Not in the budget: the narrow way between a mouth and the
floor below it, a screen's load of debris, and the column's own inertia when the car's
acceleration changes.
"""

from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import ArrayLike, NDArray

from sumpwright.errors import RangeError, SolveError
from sumpwright.oil.fitting import bend_loss, entrance_coefficient, step_loss
from sumpwright.oil.pipe import Tube, friction_loss, mean_speed, reynolds_number
from sumpwright.oil.screen import Screen, screen_loss
from sumpwright.oil.table import not_negative, positive

Floats = NDArray[np.float64]

CONTINUOUS, INTERMITTENT = 80e3, 70e3
"""Pa absolute; least inlet pressure of gear pumps as catalogues commonly put it, from memory.
Below them dissolved air comes out, long before the oil itself would boil."""
TEN_INCHES = 101325.0 - 10.0 * 3386.389
"""Pa absolute; "at most 10 inches of mercury of vacuum" at sea level, a common limit."""
_DOUBLINGS, _HALVINGS = 20, 45  # the first try is a millionth of what speed alone allows


@dataclass(frozen=True)
class SuctionLine:
    """The way of the oil from the pickup to the pump, in the order it flows."""

    tubes: tuple[Tube, ...]
    """At least one; where the bore changes, it changes suddenly."""
    screen: Screen | None = None
    edge_ratio: float = 0.0
    """Radius of the mouth's edge over the first bore [-]; 0 is sharp."""


@dataclass(frozen=True)
class Budget:
    """Where the pressure goes, each (...) [Pa] over flow, temperature and what else varies."""

    ambient: Floats
    """On the oil's surface, absolute."""
    head: Floats
    """Gained from surface to pump along effective gravity; negative where the pump is higher."""
    screen: Floats
    mouth: Floats
    friction: Floats
    """Straight tube, with the forming of the profile in the first one."""
    bends: Floats
    steps: Floats
    """Changes of bore."""
    motion: Floats
    """Held in the speed at the pump's inlet."""
    inlet: Floats
    """Left at the pump, absolute and static. Below zero: that flow cannot be had."""
    speed: Floats
    """Fastest in any tube [m/s]."""
    face_speed: Floats
    """Over the screen's whole face [m/s]; nan without a screen."""
    reynolds: Floats
    """Of the tube with the smallest bore [-]."""


def suction_budget(
    line: SuctionLine,
    flow: ArrayLike,
    *,
    viscosity: ArrayLike,
    density: ArrayLike,
    rise: ArrayLike,
    gravity: ArrayLike,
    ambient: ArrayLike,
) -> Budget:
    r"""Pressure from the oil's surface to the pump's inlet, item by item.

    .. math:: p_{in} = p_a - \rho g z - \sum \Delta p - \rho V^2/2

    Arrays broadcast: viscosities and densities over temperature as a column against a row of
    flows give a table.

    Parameters
    ----------
    line : SuctionLine [m]
        Screen, mouth and tubes.
    flow : (...) [m^3/s]
        That the pump draws.
    viscosity : (...) [m^2/s]
        nu, kinematic, at the oil's temperature.
    density : (...) [kg/m^3]
        rho, at the same temperature.
    rise : (...) [m]
        z, from the oil's surface up to the pump's inlet, against effective gravity.
    gravity : (...) [m/s^2]
        g, local effective gravity.
    ambient : (...) [Pa]
        p_a, absolute pressure in the crankcase.

    Returns
    -------
    budget : Budget [Pa]

    Raises
    ------
    RangeError
        If the line has no tube, a value has the wrong sign, or a formula leaves its range.

    Source
    ------
    Bernoulli with losses; each loss as its own function says. Checked by
    tests/oil/test_suction.py.
    """
    if not line.tubes:
        raise RangeError("a suction line needs at least 1 tube, has 0")
    q, rho = not_negative(flow, "flow", "m^3/s"), positive(density, "density", "kg/m^3")
    oil = {"viscosity": viscosity, "density": rho}
    first, last = line.tubes[0], line.tubes[-1]
    air = positive(ambient, "crankcase pressure", "Pa")
    items = {
        "ambient": air,
        "head": -rho * positive(gravity, "effective gravity", "m/s^2") * np.asarray(rise, float),
        "screen": _zero() if line.screen is None else -screen_loss(line.screen, q, **oil),
        "mouth": -entrance_coefficient(line.edge_ratio) * _speed_head(first, q, rho),
        "friction": -_friction(line, q, oil),
        "bends": -_bends(line, q, oil),
        "steps": -_steps(line, q, oil),
        "motion": -_speed_head(last, q, rho),
    }
    inlet = sum(items.values(), _zero())
    lost = ("screen", "mouth", "friction", "bends", "steps", "motion")
    bore = min(tube.bore for tube in line.tubes)
    face = np.nan if line.screen is None else q / line.screen.area
    return _alike(
        **{name: -item if name in lost else item for name, item in items.items()},
        inlet=inlet,
        speed=mean_speed(q, bore),
        face_speed=face,
        reynolds=reynolds_number(q, bore, viscosity),
    )


def allowable_flow(
    line: SuctionLine,
    *,
    needed: ArrayLike,
    viscosity: ArrayLike,
    density: ArrayLike,
    rise: ArrayLike,
    gravity: ArrayLike,
    ambient: ArrayLike,
) -> Floats:
    """Largest flow at which the pump's inlet still has the pressure it needs.

    Parameters
    ----------
    line : SuctionLine [m]
        Screen, mouth and tubes.
    needed : (...) [Pa]
        Absolute, at the pump's inlet: `CONTINUOUS`, `INTERMITTENT`, or its maker's figure.
    viscosity : (...) [m^2/s]
        nu, kinematic, at each temperature.
    density : (...) [kg/m^3]
        rho, at each temperature.
    rise : (...) [m]
        From the oil's surface up to the pump's inlet, against effective gravity.
    gravity : (...) [m/s^2]
        Local effective gravity.
    ambient : (...) [Pa]
        Absolute pressure in the crankcase.

    Returns
    -------
    flow : (...) [m^3/s]
        To 1e-12 of itself, on the side that has the pressure.

    Raises
    ------
    SolveError
        If somewhere the inlet lacks the pressure even with the pump at rest.
    RangeError
        As `suction_budget`; also where the answer lies within a factor of two of a range's end.

    Source
    ------
    The root of `suction_budget`, which falls with flow. Checked by tests/oil/test_suction.py.
    """
    state = {
        "viscosity": viscosity,
        "density": density,
        "rise": rise,
        "gravity": gravity,
        "ambient": ambient,
    }

    def spare(flow: ArrayLike) -> Floats:
        inlet = suction_budget(line, flow, **state).inlet
        return np.asarray(inlet - np.asarray(needed, dtype=float))

    at_rest = spare(0.0)
    _refuse_dry(at_rest)
    # Speed alone uses up what there is at this flow, so the root is below it.
    most = np.pi / 4.0 * line.tubes[-1].bore ** 2 * np.sqrt(2.0 * at_rest / np.asarray(density))
    low, high = np.zeros_like(most), most * 0.5**_DOUBLINGS
    for _ in range(_DOUBLINGS):  # from below, so that no formula is asked far past its range
        short = spare(high) > 0.0
        if not short.any():
            break
        low, high = np.where(short, high, low), np.where(short, 2.0 * high, high)
    for _ in range(_HALVINGS):
        middle = 0.5 * (low + high)
        holds = spare(middle) >= 0.0
        low, high = np.where(holds, middle, low), np.where(holds, high, middle)
    return np.asarray(low)


def _refuse_dry(at_rest: Floats) -> None:
    """SolveError where the inlet lacks the pressure before any oil flows."""
    if (at_rest < 0.0).any():
        raise SolveError(
            "no flow leaves the pump's inlet the pressure it needs: with the pump at rest it is "
            f"{-at_rest.min():.6g} Pa short. Lower the pump or raise the oil, or ask for less."
        )


def _speed_head(tube: Tube, flow: Floats, density: Floats) -> Floats:
    return np.asarray(0.5 * density * mean_speed(flow, tube.bore) ** 2)


def _friction(line: SuctionLine, flow: Floats, oil: dict[str, Any]) -> Floats:
    losses = (friction_loss(t, flow, **oil, entry=i == 0) for i, t in enumerate(line.tubes))
    return np.asarray(sum(losses, _zero()))


def _bends(line: SuctionLine, flow: Floats, oil: dict[str, Any]) -> Floats:
    bends = ((tube, bend) for tube in line.tubes for bend in tube.bends)
    return np.asarray(sum((bend_loss(t, b, flow, **oil) for t, b in bends), _zero()))


def _steps(line: SuctionLine, flow: Floats, oil: dict[str, Any]) -> Floats:
    pairs = zip(line.tubes, line.tubes[1:], strict=False)
    losses = (step_loss(bore_from=a.bore, bore_to=b.bore, flow=flow, **oil) for a, b in pairs)
    return np.asarray(sum(losses, _zero()))


def _alike(**items: ArrayLike) -> Budget:
    """A budget whose arrays all have the one shape that they broadcast to."""
    arrays = np.broadcast_arrays(*(np.asarray(item, dtype=float) for item in items.values()))
    return Budget(**dict(zip(items, (np.array(a) for a in arrays), strict=True)))


def _zero() -> Floats:
    return np.zeros(())
