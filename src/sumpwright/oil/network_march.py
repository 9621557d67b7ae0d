# SPDX-License-Identifier: Apache-2.0
"""Compiled: a network through time, with steps as long as the allowed error lets them be."""

import math
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from sumpwright.geometry.kernel import compiled, compiled_lean
from sumpwright.oil.door_kernel import on_stops_of
from sumpwright.oil.network_array import Forcing, Net
from sumpwright.oil.network_solve import bench_of
from sumpwright.oil.network_step import Stages, error_of, open_step, stages_of, try_step
from sumpwright.oil.network_surface import Bench, drive_at, head_at

Floats = NDArray[np.float64]

DONE, AIR, STILL, TOO_MANY, TOO_SHORT = 0, 1, 2, 3, 4
"""How a march ended: at its end, at the first air, at rest for good, out of steps, stuck."""
SHRINK, GROW, CARE = 0.2, 4.0, 0.85
LEAST_STEP = 1e-9
"""s; a step that must be shorter finds no answer."""
FIRST_STEP = 1e-3
"""s"""
FAR = 1e3
"""m of cover that stands for an engine that draws nothing."""
STILL_RATE = 2e-4
"""m/s; surfaces that rise or fall slower are looked at for being at rest."""


class Control(NamedTuple):
    """How a march is done."""

    level: float
    """m; allowed error of a surface's height in a step"""
    longest: float
    """s; longest step"""
    most: int
    """Steps, taken or not"""
    until_air: bool
    """Stop where the pickup first takes air"""
    until_still: bool
    """Stop where nothing moves any more and the cover lasts"""


class Marched(NamedTuple):
    """What a march says of itself, beside its samples."""

    end: int
    """`DONE`, `AIR`, ..."""
    time: float
    steps: int
    rejected: int
    worst_level: float
    first_air: float
    """Infinite where there was none"""
    aerated: float
    longest_dry: float
    least_cover: float
    least_cover_at: float


_FIRST, _AERATED, _LONGEST, _DRY, _LEAST, _LEAST_AT, _COVER, _TIME = range(8)
"""What a watch on the pickup holds: times, the cover so far at its least, and that of before."""
_STEP, _TAKEN, _REJECTED, _WORST = range(4)
"""What a tally of steps holds."""


@compiled
def march(
    net: Net,
    forcing: Forcing,
    control: Control,
    y: Floats,
    samples: Floats,
    states: Floats,
    said: Floats,
) -> Marched:
    """Takes a state through the forcing's time.

    Parameters
    ----------
    net : Net [SI]
    forcing : Forcing [SI]
    control : Control [SI]
    y : (s,) [SI]
        State at the forcing's start; becomes that at the end.
    samples : (k,) [s]
        Rising times at which the state is kept; a step ends at each.
    states : (k, s) [SI]
        Are filled.
    said : (k, 4 + n) [SI]
        Are filled: cover, air fraction, pump flow, rate of return, height of each surface.

    Returns
    -------
    marched : Marched [SI]
    """
    n, d = net.pools.capacity.shape[0], net.hatches.rows.shape[0]
    bench, stages = bench_of(n), stages_of(n, d)
    watch, tally = np.zeros(8), np.zeros(4)
    watch[_FIRST], watch[_LEAST], watch[_COVER] = math.inf, math.inf, math.inf
    tally[_STEP] = FIRST_STEP
    quiet = _quiet_from(forcing)
    t, last, at, kept, stop, end = forcing.time[0], forcing.time[-1], 0, 0, 0, DONE
    while True:
        at = drive_at(forcing, at, t, bench)
        open_step(net, y, stages, bench)
        cover = bench.said[0] if net.mouth.pool >= 0 and bench.said[2] > 0.0 else math.inf
        _look(watch, cover, t)
        kept = _keep(net, bench, y, t, samples, states, said, kept)
        if t >= last:
            break
        if control.until_air and watch[_FIRST] < math.inf:
            end = AIR
            break
        if control.until_still and _still(net, stages.start, bench, t, quiet, last, cover):
            end = STILL
            break
        stop = _after(forcing.stops, stop, t)
        target = min(last, forcing.stops[stop]) if stop < forcing.stops.shape[0] else last
        if kept < samples.shape[0]:
            target = min(target, samples[kept])
        t = _take(net, forcing, control, at, t, target, y, stages, bench, tally)
        if t < 0.0:
            end = TOO_SHORT if tally[_STEP] < LEAST_STEP else TOO_MANY
            break
    return _answer(end, watch, tally, max(t, watch[_TIME]))


@compiled_lean
def _answer(end: int, watch: Floats, tally: Floats, time: float) -> Marched:
    return Marched(
        end,
        time,
        int(tally[_TAKEN]),
        int(tally[_REJECTED]),
        tally[_WORST],
        watch[_FIRST],
        watch[_AERATED],
        watch[_LONGEST],
        watch[_LEAST],
        watch[_LEAST_AT],
    )


@compiled_lean
def _look(watch: Floats, cover: float, t: float) -> None:
    """Notes the cover at a time; where it crosses zero it is taken as straight in between."""
    before, then = watch[_COVER], watch[_TIME]
    if cover < watch[_LEAST]:
        watch[_LEAST], watch[_LEAST_AT] = cover, t
    dry = 0.0
    if cover < 0.0 <= before:
        dry = (t - then) * cover / (cover - min(before, FAR))
        watch[_FIRST] = min(watch[_FIRST], t - dry)
    elif cover < 0.0:
        dry = t - then
    elif before < 0.0:
        dry = (t - then) * before / (before - min(cover, FAR))
    watch[_AERATED] += dry
    watch[_DRY] += dry
    watch[_LONGEST] = max(watch[_LONGEST], watch[_DRY])
    if cover >= 0.0:
        watch[_DRY] = 0.0
    watch[_COVER], watch[_TIME] = cover, t


@compiled_lean
def _take(
    net: Net,
    forcing: Forcing,
    control: Control,
    at: int,
    t: float,
    target: float,
    y: Floats,
    stages: Stages,
    bench: Bench,
    tally: Floats,
) -> float:
    """One step toward a target, as long as its error lets it be; answers the time, or -1."""
    n, d = net.pools.capacity.shape[0], net.hatches.rows.shape[0]
    step = min(tally[_STEP], control.longest)
    while True:
        if tally[_TAKEN] + tally[_REJECTED] >= control.most or step < LEAST_STEP:
            tally[_STEP] = step
            return -1.0
        left = target - t
        now = left if left < 1.05 * step else (0.5 * left if left < 2.0 * step else step)
        found = try_step(net, forcing, at, t, now, y, stages, bench)
        share, height = error_of(net, y, stages, control.level)
        if found and share <= 1.0:
            break
        tally[_REJECTED] += 1.0
        factor = SHRINK
        if found and share < math.inf:
            factor = max(SHRINK, min(0.9, CARE * share ** (-1.0 / 3.0)))
        step = now * factor
    tally[_TAKEN] += 1.0
    tally[_WORST] = max(tally[_WORST], height)
    grown = now * min(GROW, CARE * max(share, 1e-9) ** (-1.0 / 3.0))
    tally[_STEP] = max(grown, step) if now < step else grown
    _settle(net, stages.trial, y, n, d)
    return target if now == left else t + now


@compiled_lean
def _settle(net: Net, trial: Floats, y: Floats, n: int, d: int) -> None:
    """The new state, its doors caught by seat and stop."""
    for i in range(y.shape[0]):
        y[i] = trial[i]
    for k in range(d):
        i, j = n + 1 + k, n + 1 + d + k
        y[i], y[j] = on_stops_of(net.hatches.rows[k], y[i], y[j])


@compiled_lean
def _after(stops: Floats, at: int, time: float) -> int:
    """Number of the first stop after a time."""
    while at < stops.shape[0] and stops[at] <= time:
        at += 1
    return at


@compiled_lean
def _keep(
    net: Net,
    bench: Bench,
    y: Floats,
    time: float,
    samples: Floats,
    states: Floats,
    said: Floats,
    kept: int,
) -> int:
    """Writes down the state where its time is asked for; answers how many are."""
    while kept < samples.shape[0] and samples[kept] <= time:
        for i in range(y.shape[0]):
            states[kept, i] = y[i]
        for k in range(4):
            said[kept, k] = bench.said[k]
        for i in range(net.pools.capacity.shape[0]):
            said[kept, 4 + i] = head_at(bench, i, net.pools.middle[i])
        kept += 1
    return kept


@compiled_lean
def _quiet_from(forcing: Forcing) -> float:
    """Time from which on the forcing stays as it is."""
    at = forcing.time.shape[0] - 1
    force, flow, rate = forcing.force[at], forcing.flow[at], forcing.rate[at]
    while at > 0 and flow == forcing.flow[at - 1] and rate == forcing.rate[at - 1]:
        before = forcing.force[at - 1]
        if before[0] != force[0] or before[1] != force[1] or before[2] != force[2]:
            break
        at -= 1
    return float(forcing.time[at])


@compiled_lean
def _still(
    net: Net,
    rate: Floats,
    bench: Bench,
    time: float,
    quiet: float,
    last: float,
    cover: float,
) -> bool:
    """Whether nothing will change any more that could uncover the pickup before the end."""
    if time < quiet:
        return False
    n, d = net.pools.capacity.shape[0], net.hatches.rows.shape[0]
    fastest = 0.0
    for i in range(n):
        fastest = max(fastest, abs(rate[i]) * bench.steep[i])
    for k in range(2 * d):
        if abs(rate[n + 1 + k]) > 1e-3:
            return False
    start = n + 2 + 2 * d
    for i in range(6 * n):
        if abs(rate[start + i]) > 1e-3:
            return False
    return fastest < STILL_RATE and fastest * (last - time) < 0.5 * cover
