# SPDX-License-Identifier: Apache-2.0
"""Where the oil is when a drive begins: settled at one level, or as the person says."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from sumpwright.errors import InputError, Problem
from sumpwright.job.load import LoadedJob
from sumpwright.oil.density import expansion
from sumpwright.oil.network import run, start_state
from sumpwright.oil.network_array import Forcing
from sumpwright.oil.network_forcing import forcing_of
from sumpwright.oil.settle import settled_volumes
from sumpwright.studies.bodies import Bodies
from sumpwright.studies.network import Ready
from sumpwright.studies.oil_state import density_15, oil_state
from sumpwright.units import shown

Floats = NDArray[np.float64]

SETTLING = 20.0
"""s of standing still with the engine running, before a drive begins."""
Typed = tuple[tuple[str, float], ...]


@dataclass(frozen=True, eq=False)
class Start:
    """The oil as a drive begins."""

    state: Floats
    """As oil/network_array.py says"""
    oil: float
    """All of it, pan and engine [m^3]"""
    left_out: float = 0.0
    """Oil that does not fit under the top of the oil space, and is taken away [m^3]"""
    typed: bool = False
    """Put where the person says, not left to settle"""


def started(
    loaded: LoadedJob,
    bodies: Bodies,
    ready: Ready,
    forcing: Forcing,
    held: float,
    temperature: float,
    typed: Typed | None,
) -> Start:
    """The start of a drive whose engine holds up `held` [m^3] when it begins.

    Settled: one level, then some seconds at what the forcing begins with.
    """
    if typed is not None:
        return _as_typed(loaded, ready, forcing, held, typed)
    whole = fill_at(loaded, bodies, temperature)
    return settled(ready, forcing, whole, min(held, whole))


def settled(ready: Ready, forcing: Forcing, whole: float, held: float) -> Start:
    """`whole` [m^3] of oil, of which `held` is up in the engine, settled at the forcing's start."""
    force = forcing.force[0]
    up = force / np.linalg.norm(force)
    room = sum(b.volume for b, k in zip(ready.bodies, ready.reached, strict=True) if k)
    there = min(whole - held, room)
    volumes = settled_volumes(ready.bodies, up, there, ready.reached)
    return _stood(ready, forcing, volumes, held, whole - held - there)


def started_again(ready: Ready, forcing: Forcing, start: Start, fill: float, held: float) -> Start:
    """A start with `fill` times the oil, quickly: spread as before, then left to settle.

    Not where the person said where it is.
    """
    n, room = len(ready.bodies), ready.net.pools.capacity
    before = np.clip(start.state[:n], 0.0, room)
    there = max(fill * start.oil - held, 0.0)
    whole = float(before.sum())
    volumes = np.minimum(before * (there / whole), room) if whole > 0.0 else before
    over = there - float(volumes.sum())
    if start.typed:
        state = start_state(ready.net, volumes, held, forcing.force[0])
        return Start(state, float(volumes.sum()) + held, over, typed=True)
    return _stood(ready, forcing, volumes, held, over)


def _stood(ready: Ready, forcing: Forcing, volumes: Floats, held: float, over: float) -> Start:
    """After some seconds at what the forcing begins with."""
    force, flow, rate = (np.repeat(a[:1], 2, axis=0) for a in forcing[1:4])
    still = forcing_of([0.0, SETTLING], force, flow, rate)
    state = start_state(ready.net, np.maximum(volumes, 0.0), held, force[0])
    _, state = run(ready.net, still, state, [], until_still=True)
    n, d = len(volumes), len(ready.net.hatches.rows)
    state[n + 1 + 2 * d] = 0.0  # air drawn while settling
    return Start(state, float(volumes.sum()) + held, over)


def fill_at(loaded: LoadedJob, bodies: Bodies, temperature: float) -> float:
    """Oil of the new pan at a temperature, drained back [m^3]."""
    job = loaded.job
    oil = oil_state(job, bodies, job.new, bodies.new)
    assert oil is not None, "load_job refuses a job without a fill"
    return oil.full * float(expansion(density_15(job), t_from=job.oil.cold, t_to=temperature))


def _as_typed(
    loaded: LoadedJob, ready: Ready, forcing: Forcing, held: float, typed: Typed
) -> Start:
    names = ready.parted.parts.names
    problems = [_unknown(name, names) for name, _ in typed if name not in names]
    given = dict(typed)
    for name, room in zip(names, ready.net.pools.capacity, strict=True):
        if given.get(name, 0.0) > room * (1.0 + 1e-9):
            problems.append(_too_much(name, given[name], float(room), loaded.job.units))
    if problems:
        raise InputError(problems)
    volumes = [given.get(name, 0.0) for name in names]
    state = start_state(ready.net, volumes, held, forcing.force[0])
    return Start(state, sum(volumes) + held, typed=True)


def _unknown(name: str, names: tuple[str, ...]) -> Problem:
    return Problem(
        code="DRIVE-503",
        where="--start",
        found=f"a compartment {name}",
        needed=f"one of {', '.join(names)}",
        do="see which is which with `sumpwright compartments JOB`",
    )


def _too_much(name: str, oil: float, room: float, units: str) -> Problem:
    return Problem(
        code="DRIVE-504",
        where="--start",
        found=f"{shown(oil, 'volume', units)} in compartment {name}",
        needed=f"no more than {shown(room, 'volume', units)}, which fills it",
        do="lower it",
    )
