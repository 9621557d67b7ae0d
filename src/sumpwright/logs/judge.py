# SPDX-License-Identifier: Apache-2.0
"""A log judged: what pressure should have been, where it was short, and which way round."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from sumpwright.errors import InputError, Problem
from sumpwright.logs.compare import chance_of_split, rate_by_corner
from sumpwright.logs.dip import IDLE, TURNING, Dip, Turn, allowance, dips_of
from sumpwright.logs.grid import gap_of, resampled
from sumpwright.logs.learn_from import gentle, pumping
from sumpwright.logs.log import Log
from sumpwright.logs.motion import Motion
from sumpwright.logs.pressure_model import PressureModel, PressureRule, lagged, learnt_model

Floats = NDArray[np.float64]
Mask = NDArray[np.bool_]

LIFT = 1.0
"""[s] out of a turn that do not end it [common-practice]."""
SWITCHING = 0.5
"""Share of what is allowed from which not knowing the pump's stage leaves a moment unjudged
[common-practice]."""
AROUND = 0.12
"""[s] within which speed may be logged early or late [common-practice]."""


@dataclass(frozen=True)
class SideCount:
    """Dips one way round."""

    turn: Turn
    time: float
    """[s] judged"""
    over: float
    """[m/s^2] largest size held for a second; nan without lateral acceleration"""
    dips: int
    each: tuple[int, ...]
    """Dips of each corner that had some; those of one corner are one piece of evidence"""
    dip_time: float
    rate: float
    low: float
    high: float
    """[1/s] with its 95 % interval"""

    @property
    def corners(self) -> int:
        """In which dips came."""
        return len(self.each)


@dataclass(frozen=True, eq=False)
class Judgement:
    """A log's pressure, judged."""

    motion: Motion
    band: Floats
    """(n,) [Pa] below this pressure counts as missing"""
    turn: NDArray[np.int8]
    """(n,) 1 left, -1 right, 0 straight"""
    judged: Mask
    """(n,) engine above idle, pressure and speed logged, the pump's stage known"""
    switching: Mask
    """(n,) where the pump may be in either stage: a small loss is not told from that"""
    events: tuple[Dip, ...]
    """Of every kind; only ``dip`` says that oil was short"""
    model: PressureModel
    sides: tuple[SideCount, ...]
    """Left, right, straight"""
    chance: float | None
    """Of so uneven a split left and right if both were alike; None where one was not driven"""

    @property
    def dips(self) -> tuple[Dip, ...]:
        """The events that say oil was short."""
        return tuple(e for e in self.events if e.kind == "dip")


def judged(log: Log, *, rule: PressureRule | None = None) -> Judgement:
    """What a log says of oil pressure.

    Parameters
    ----------
    log : Log [-]
        With pressure and rpm at least.
    rule : PressureRule [-]
        Of the job; None: 10 psi per 1000 rpm [common-practice].

    Returns
    -------
    judgement : Judgement [-]

    Raises
    ------
    InputError
        LOG-230, where pressure or rpm is not logged or hardly any of it.
    """
    _require(log)
    time, pressure = log["pressure"].time, log["pressure"].value
    speed, kelvin, ax, ay = (_on(log, role, time) for role in ("rpm", "temperature", "ax", "ay"))
    step = float(np.median(np.diff(time)))
    live = pumping(time, pressure, speed)
    calm = gentle(ax, ay, step) & live
    model = learnt_model(
        time, pressure, speed, kelvin, calm, rule=rule or PressureRule(), hard=live,
        doubted=not np.isfinite(ay).any(),
    )  # fmt: skip
    motion = _motion(log, (time, pressure, speed, kelvin, ax, ay), step, calm, model)
    runs = np.isfinite(pressure) & np.isfinite(speed) & (speed >= IDLE)
    turn = np.where(np.abs(np.nan_to_num(ay)) > TURNING, np.sign(np.nan_to_num(ay)), 0.0)
    events = dips_of(motion)
    switching = runs & (motion.expected - motion.low_stage > SWITCHING * allowance(motion))
    runs = _trusted(runs, time, events) & ~switching
    sides = tuple(_side(n, k, motion, turn, runs, events) for n, k in _WAYS)
    band = motion.expected - allowance(motion)
    return Judgement(
        motion, band, turn.astype(np.int8), runs, switching, events, model, sides,
        _chance(sides[0], sides[1]),
    )  # fmt: skip


_WAYS: tuple[tuple[Turn, int], ...] = (("left", 1), ("right", -1), ("straight", 0))


def _trusted(runs: Mask, time: Floats, events: tuple[Dip, ...]) -> Mask:
    """Without the times in which it was the sensor that failed: they say nothing of the oil."""
    kept = runs.copy()
    for e in events:
        if e.kind == "sensor":
            kept[np.searchsorted(time, e.start) : np.searchsorted(time, e.end, side="right")] = (
                False
            )
    return kept


def _require(log: Log) -> None:
    lacking = [r for r in ("pressure", "rpm") if r not in log or len(log[r].time) < 2]
    words = {"pressure": "oil pressure", "rpm": "engine speed"}
    if lacking:
        raise InputError(
            Problem(
                "LOG-230",
                log.name,
                f"no {words[role]}, or a single value of it",
                f"a channel of {words[role]}",
                "log it, or say which column it is",
            )
            for role in lacking
        )


def _on(log: Log, role: str, at: Floats) -> Floats:
    if role not in log or not len(log[role].time):
        return np.full(len(at), np.nan)
    time = log[role].time
    gap = gap_of(at) if log.typed else max(gap_of(time), 5.0 if role == "temperature" else 0.0)
    return resampled(time, log[role].value, at, gap=gap)


def _motion(
    log: Log, seen: tuple[Floats, ...], step: float, calm: Mask, model: PressureModel
) -> Motion:
    from scipy.ndimage import minimum_filter1d

    time, pressure, speed, kelvin, ax, ay = seen
    slow = lagged(speed, step, model.lag)
    warmth, switch = _bridged(time, kelvin), model.switch
    stage = None if switch is None else switch.stage(slow, step)
    expected, sigma, learnt = model.static(slow, warmth, time, stage)
    low = expected
    if switch is not None:  # a stage that may be the lower one explains as much
        low = model.static(slow, warmth, time, switch.least(slow, step))[0]
    around = max(AROUND + 0.5 * model.lag, log["rpm"].time[1] - log["rpm"].time[0])
    wide = 2 * max(1, round(around / step)) + 1
    least = minimum_filter1d(low, 1 if log.typed else wide)
    bend = np.abs(np.diff(pressure, 2))
    quiet = bend[calm[1:-1]] if calm[1:-1].any() else bend
    sound = speed[np.isfinite(speed)]
    return Motion(
        time, pressure, speed, kelvin, ax, ay, expected, np.asarray(least), low, learnt, sigma,
        model.noise, step, float(np.percentile(sound, 95.0)) if len(sound) else 0.0,
        float(np.median(quiet)) if len(quiet) else 0.0, model.relief, log.typed,
    )  # fmt: skip


def _bridged(time: Floats, kelvin: Floats) -> Floats:
    """Temperature on through gaps and beyond its ends: it moves slowly, and it was logged."""
    known = np.isfinite(kelvin)
    if known.all() or not known.any():
        return kelvin
    return np.asarray(np.interp(time, time[known], kelvin[known]))


def _side(
    name: Turn, sign: int, m: Motion, turn: Floats, runs: Mask, events: tuple[Dip, ...]
) -> SideCount:
    time = float(np.sum(runs & (turn == sign)) * m.step)
    dips = [e for e in events if e.kind == "dip" and e.turn == name]
    each = _corners(m, turn, sign, dips)
    low, high = rate_by_corner(each, time) if time > 0.0 else (0.0, np.inf)
    rate = len(dips) / time if time > 0.0 else 0.0
    lasted = sum(e.end - e.start for e in dips)
    return SideCount(name, time, _held_over(m, sign), len(dips), each, lasted, rate, low, high)


def _corners(m: Motion, turn: Floats, sign: int, dips: list[Dip]) -> tuple[int, ...]:
    """Dips of each turn of that side that has some; a short lift of the wheel does not end one."""
    here = np.flatnonzero(turn == sign)
    if not len(here):
        return (len(dips),) if dips else ()
    begins = m.time[here][np.r_[True, np.diff(m.time[here]) > LIFT]]
    places = np.searchsorted(begins, [0.5 * (d.start + d.end) for d in dips])
    return tuple(np.unique(places, return_counts=True)[1].tolist())


def _held_over(m: Motion, sign: int) -> float:
    """Largest lateral size held for a second; the straight's is its own largest."""
    from scipy.ndimage import minimum_filter1d

    if not np.isfinite(m.ay).any():
        return float("nan")
    ay = np.nan_to_num(m.ay)
    if sign == 0:
        return float(np.max(np.abs(ay[np.abs(ay) <= TURNING]), initial=0.0))
    held = minimum_filter1d(sign * ay, max(1, round(1.0 / m.step)))
    return float(max(held.max(), 0.0))


def _chance(left: SideCount, right: SideCount) -> float | None:
    if not (left.time > 0.0 and right.time > 0.0):
        return None
    return chance_of_split(left.corners, right.corners, left_time=left.time, right_time=right.time)
