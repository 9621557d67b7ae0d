# SPDX-License-Identifier: Apache-2.0
r"""Oil moving between compartments over time: the network.

Each compartment holds a volume :math:`V_i` under a plane surface. What parts them are passages;
each passes what the two heads over it drive (opening.py), where a head is the height, along up, of
that pool's own surface over the passage. Doors turn under those heads and effective gravity
(door.py, door_motion.py) and open their passage one way. An open door bears the part of the
difference of level that the curtain round it takes, :math:`1 - s^2` for an open share s; the
window takes the rest.

.. math:: \dot V_i = \sum_k \pm Q_k - [i = p] \, Q (1 - \alpha) + \phi_i R / \tau

The pump draws Q, of which alpha is air (mouth.py), from the pickup's pool p. The oil R up in the
engine comes home at the rate :math:`1/\tau`, so that at a steady speed the engine holds what was
measured at it: :math:`\tau = R^*/Q`. It falls straight along effective gravity: :math:`\phi_i`.

*Slosh.* A surface at rest is square to up :math:`\mathbf u`, the direction of the specific force
(against effective gravity). In motion it is square to a direction :math:`\mathbf s` of its own that
follows as a damped oscillator, along each of the two axes of the surface at rest, with the
frequency and damping of the first mode of the oil under the surface as it stands (swing.py), in
effective gravity as it is:

.. math:: \ddot{\mathbf s} + 2 \zeta \omega \dot{\mathbf s} + \omega^2 (\mathbf s - \mathbf u) = 0

For small tilts that is the plane answer of linear theory, whose first mode carries 98.6 % of the
shift of the oil's centre in a shallow box, under gravity that changes too; it overshoots after a
reversal. Where the surface comes to a lid or leaves a floor dry it is shorter and swings faster.
Past 45 degrees from up a surface that leans on is slowed ever more, for no wave stands steeper: it
breaks, and the oil falls back. Waves that run along the surface, or splash over a panel that the
plane does not reach, are not in it; nor is the inertia of the oil in an opening, so compartments
that a wide way joins swing each in its own time, two halves of a box in 0.5 s where the whole has
0.8: as far, but sooner back.

A compartment that is full to its top takes on as much head as its ways out need for what comes in,
though oil would run over above them; one that is all but empty gives ever less, and nothing when
it is. The surface of one counts as far as its plane goes: beyond the wall too, on a door that
swings there.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from sumpwright.errors import RangeError, SolveError
from sumpwright.oil.network_array import Forcing, Net
from sumpwright.oil.network_march import AIR, DONE, STILL, Control, Marched, march
from sumpwright.oil.table import not_negative, positive

Floats = NDArray[np.float64]

LEVEL = 2e-4
"""m; allowed error of a surface's height in one step, unless asked otherwise."""
LONGEST = 0.25
"""s; longest step."""
MOST_STEPS = 2_000_000


@dataclass(frozen=True, eq=False)
class Course:
    """A run: its samples, k times, and what the integrator says of it."""

    time: Floats
    """(k,) [s]"""
    volume: Floats
    """(k, n) [m^3]"""
    retained: Floats
    """(k,) [m^3]"""
    angle: Floats
    """(k, d) [rad]"""
    air_drawn: Floats
    """(k,) [m^3]"""
    normal: Floats
    """(k, n, 3) of each surface"""
    height: Floats
    """(k, n) [m] of each surface over its pool's middle, along up"""
    cover: Floats
    """(k,) [m] oil over the rim less the draw-down height; nan without a pickup"""
    air: Floats
    """(k,) share of air in what the pump draws"""
    flow: Floats
    """(k,) [m^3/s] that the pump draws"""
    marched: Marched


def start_state(net: Net, volumes: ArrayLike, retained: float, force: ArrayLike) -> Floats:
    """The state at rest: every surface square to the force, every door on its seat.

    Parameters
    ----------
    net : Net [SI]
    volumes : (n,) [m^3]
        Of each pool.
    retained : float [m^3]
        Up in the engine.
    force : (3,) [m/s^2]
        Specific force.

    Returns
    -------
    state : (s,) [SI]

    Raises
    ------
    RangeError
        If a volume is negative or more than its pool holds.
    """
    n, d = len(net.pools.capacity), len(net.hatches.rows)
    held = not_negative(volumes, "volume at the start", "m^3")
    if held.shape != (n,):
        raise RangeError(f"{n} compartments need a volume each, got {held.shape}")
    over = held > net.pools.capacity * (1.0 + 1e-9)
    if over.any():
        k = int(np.argmax(over))
        raise RangeError(
            f"compartment {k + 1} holds {net.pools.capacity[k] * 1e3:.4g} L, "
            f"not {held[k] * 1e3:.4g} L"
        )
    y = np.zeros(n + 2 + 2 * d + 6 * n)
    y[:n], y[n] = held, float(not_negative(retained, "retained oil", "m^3"))
    up = np.asarray(force, dtype=float)
    y[n + 2 + 2 * d : n + 2 + 2 * d + 3 * n] = np.tile(up / np.linalg.norm(up), n)
    return y


def run(
    net: Net,
    forcing: Forcing,
    start: Floats,
    samples: ArrayLike,
    *,
    level: float = LEVEL,
    longest: float = LONGEST,
    until_air: bool = False,
    until_still: bool = False,
) -> tuple[Course, Floats]:
    """The network over the forcing's time, and its state at the end.

    Parameters
    ----------
    net : Net [SI]
    forcing : Forcing [SI]
    start : (s,) [SI]
        State at the forcing's first time; is left alone.
    samples : (k,) [s]
        Rising times within the forcing's.
    level : float [m]
        Allowed error of a surface's height in one step.
    longest : float [s]
        Longest step.
    until_air : bool [-]
        Stop where the pickup first takes air.
    until_still : bool [-]
        Stop where nothing can happen any more.

    Returns
    -------
    course, state : Course [SI], (s,) [SI]
        Only the samples up to where it stopped.

    Raises
    ------
    RangeError
        If the allowed error is not positive.
    SolveError
        If the steps become too short or too many.

    Source
    ------
    [Rang-Angermann-2005] for the steps. Checked by tests/oil/test_network.py.
    """
    times = np.asarray(samples, dtype=float)
    allowed = float(positive(level, "allowed error of a level", "m"))
    control = Control(allowed, longest, MOST_STEPS, until_air, until_still)
    y = np.array(start, dtype=float)
    n = len(net.pools.capacity)
    states, said = np.zeros((len(times), len(y))), np.zeros((len(times), 4 + n))
    marched = march(net, forcing, control, y, times, states, said)
    if marched.end not in (DONE, AIR, STILL):
        raise SolveError(
            f"the oil's motion could not be followed past {marched.time:.4g} s after "
            f"{marched.steps + marched.rejected} steps: check door masses, gaps and openings there"
        )
    kept = int(np.searchsorted(times, marched.time, side="right"))
    return _course(net, times[:kept], states[:kept], said[:kept], marched), y


def _course(net: Net, times: Floats, states: Floats, said: Floats, marched: Marched) -> Course:
    n, d = len(net.pools.capacity), len(net.hatches.rows)
    first = n + 2 + 2 * d
    normal = states[:, first : first + 3 * n].reshape(-1, n, 3)
    return Course(
        time=times,
        volume=states[:, :n],
        retained=states[:, n],
        angle=states[:, n + 1 : n + 1 + d],
        air_drawn=states[:, n + 1 + 2 * d],
        normal=normal / np.linalg.norm(normal, axis=2, keepdims=True),
        height=said[:, 4:],
        cover=said[:, 0] if net.mouth.pool >= 0 else np.full(len(times), np.nan),
        air=said[:, 1],
        flow=said[:, 2],
        marched=marched,
    )
