# SPDX-License-Identifier: Apache-2.0
"""What oil pressure should be at a speed and temperature, learnt from gentle driving, with doubt.

A smooth surface under a relief plateau, fitted so that dips among the samples hardly pull at it.
Where a log says little, the rule of the job or of common practice fills in, by their variances.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from sumpwright.logs.first_order import first_order
from sumpwright.logs.robust import Fit, robust_fit
from sumpwright.logs.surface import Surface, surface_of
from sumpwright.logs.switch import Switch, jumps
from sumpwright.logs.switch_fit import Left, found_switch

Floats = NDArray[np.float64]
Mask = NDArray[np.bool_]

RULE_SLOPE = 10.0 * 6894.757293168 / (1000.0 * np.pi / 30.0)
"""[Pa s] 10 psi per 1000 rpm [common-practice]."""
RULE_DOUBT = 0.15
"""One standard deviation of a rule, as a share of it [common-practice]."""
HARD = 0.1
"""What a sample of hard driving counts beside a gentle one [common-practice]."""
FEWEST = 40
"""Samples under which nothing is learnt."""
MOST = 4000
"""Samples a fit is made from; more add nothing that their correlation does not take away."""
TOP_SPEED = 400.0
"""[rad/s] that the noise of a rule without a log is taken at."""
KNOTS, WARM_KNOTS, TIME_KNOTS = 400.0 * np.pi / 30.0, 15.0, 120.0
"""[rad/s], [K] and [s] between the knots of the surface [common-practice]."""
BEND = 0.08
"""One standard deviation of what pressure bends by from knot to knot, as a share of its middle
[common-practice]."""
FLAT, ON_TOP = 0.25, 0.03
"""Share of the middle slope under which a surface is flat, and share of samples there, from which
on a relief valve is believed [common-practice]."""
CHUNK = 8192
"""Samples worked on at a time, to stay in the processor's cache: an hour in 0.5, not 0.9 s."""
LAGS, ROUNDS = (0.0, 0.02, 0.04, 0.06, 0.08, 0.1, 0.125, 0.15, 0.175, 0.2, 0.25, 0.3, 0.45), 3


@dataclass(frozen=True)
class PressureRule:
    """A lower bound on warm pressure where nothing better is known."""

    slope: float = RULE_SLOPE
    """[Pa s] per angular speed"""
    offset: float = 0.0
    """[Pa]"""
    relief: float | None = None
    """[Pa] where the relief valve opens, if known"""
    doubt: float = RULE_DOUBT
    """[-] one standard deviation, as a share"""

    def pressure(self, speed: Floats) -> Floats:
        """The rule at a speed [rad/s], in Pa."""
        bare = self.offset + self.slope * np.maximum(speed, 0.0)
        return np.asarray(bare if self.relief is None else np.minimum(bare, self.relief))


@dataclass(frozen=True, eq=False)
class PressureModel:
    """Pressure over speed, and over temperature or, where none was logged, time."""

    rule: PressureRule
    surface: Surface | None
    fit: Fit | None
    """None: too little driving; the rule alone speaks"""
    relief: float | None
    """[Pa]"""
    lag: float
    """[s]"""
    noise: float
    """[Pa] one standard deviation of a sample about the surface"""
    learnt_time: float
    """[s] of gentle driving it was learnt from"""
    warm: bool
    """Whether temperature is part of it; else time is"""
    switch: Switch | None = None
    """Of a pump with two stages"""

    def static(
        self,
        speed: Floats,
        temperature: Floats,
        time: Floats | None = None,
        stage: Floats | None = None,
    ) -> tuple[Floats, Floats, Floats]:
        """Expected pressure, one standard deviation, and the share the log has in it.

        Temperatures and times that are not known are taken as the scale's middle. `stage` [-] is
        the pump's, from 0 to 1, where it is known; else by each speed alone.
        """
        warmth = temperature if self.warm else np.full(len(speed), np.nan) if time is None else time
        if stage is None:
            stage = np.zeros(len(speed)) if self.switch is None else self.switch.stage(speed, 0.0)
        parts = [
            self._static(speed[k : k + CHUNK], warmth[k : k + CHUNK], stage[k : k + CHUNK])
            for k in range(0, max(len(speed), 1), CHUNK)
        ]
        expected, sigma, share = (np.concatenate(p) for p in zip(*parts, strict=True))
        return expected, sigma, share

    def _static(
        self, speed: Floats, warmth: Floats, stage: Floats
    ) -> tuple[Floats, Floats, Floats]:
        ruled = self.rule.pressure(speed)
        doubt = np.maximum(self.rule.doubt * ruled, 1.0)
        if self.fit is None or self.surface is None:
            return ruled, np.hypot(doubt, self.noise), np.zeros(len(ruled))
        rows = self.surface.rows(speed, warmth)
        if self.switch is not None:
            rows = np.hstack([rows, jumps(self.surface.warmth, stage, warmth)])
        learnt = rows @ self.fit.coefficient
        spread = np.einsum("ij,ij->i", rows @ self.fit.covariance, rows)
        share = doubt**2 / (doubt**2 + spread)
        blend = share * learnt + (1.0 - share) * ruled
        return blend, np.sqrt(self.noise**2 + share * spread), share


def learnt_model(
    time: Floats,
    pressure: Floats,
    speed: Floats,
    temperature: Floats,
    gentle: Mask,
    *,
    rule: PressureRule,
    hard: Mask | None = None,
    doubted: bool = False,
) -> PressureModel:
    """The model of one log.

    Parameters
    ----------
    time : (n,) [s]
    pressure : (n,) [Pa]
    speed : (n,) [rad/s]
    temperature : (n,) [K]
        nan where not known.
    gentle : (n,) [-]
        Samples to learn from.
    rule : PressureRule [-]
    hard : (n,) [-]
        Samples that count `HARD` of a gentle one, and where dips may be among them.
    doubted : bool [-]
        True where dips may be among the gentle ones too.

    Returns
    -------
    model : PressureModel [-]
    """
    step = float(np.median(np.diff(time))) if len(time) > 1 else 0.0
    known = np.isfinite(pressure) & np.isfinite(speed)
    learnt_time = float((gentle & known).sum()) * step
    hard = np.zeros(len(time), dtype=bool) if hard is None else hard & ~gentle
    places = np.flatnonzero((gentle | hard) & known)
    if len(places) < FEWEST:
        noise = 0.01 * RULE_SLOPE * TOP_SPEED
        return PressureModel(rule, None, None, rule.relief, 0.0, noise, 0.0, False)
    warm = bool(np.isfinite(temperature[places]).mean() > 0.5)
    some = places[:: max(1, len(places) // MOST)]
    learn = _Learn(
        step, pressure, speed, temperature if warm else time, places, some,
        np.where(hard[some], HARD, 1.0), hard[some] | doubted if doubted or hard.any() else None,
    )  # fmt: skip
    surface = surface_of(
        speed[some], learn.warmth[some],
        apart=KNOTS, warm_apart=WARM_KNOTS if warm else TIME_KNOTS,
    )  # fmt: skip
    lag, fit = _lag_and_fit(learn, surface, None, 0.0)
    switch = found_switch(_left(learn, surface, fit, lag))
    if switch is not None:
        lag, fit = _lag_and_fit(learn, surface, switch, lag)
    relief = rule.relief or _relief(learn, surface, fit, lag)
    return PressureModel(rule, surface, fit, relief, lag, fit.scale, learnt_time, warm, switch)


@dataclass(frozen=True, eq=False)
class _Learn:
    """What is learnt from: (n,) series, and places in them."""

    step: float
    pressure: Floats
    speed: Floats
    warmth: Floats
    places: NDArray[np.int64]
    some: NDArray[np.int64]
    """Of the places, those the fit is made from"""
    worth: Floats
    doubted: Mask | None


def lagged(value: Floats, step: float, lag: float) -> Floats:
    """A first-order lag of samples a step apart; gaps hold the value before them.

    Parameters
    ----------
    value : (n,) [-]
    step : float [s]
    lag : float [s]
        Time constant.

    Returns
    -------
    slow : (n,) [-]
        Step response 1 - exp(-t / lag), exact at the samples.
    """
    held = _held(value)
    if lag <= 0.0 or step <= 0.0 or not len(held):
        return held
    keep = float(np.exp(-step / lag))
    return first_order(held, keep, float(held[0]))


def _held(value: Floats) -> Floats:
    sound = np.isfinite(value)
    if sound.all() or not sound.any():
        return value
    last = np.maximum.accumulate(np.where(sound, np.arange(len(value)), -1))
    return value[np.where(last < 0, int(np.argmax(sound)), last)]


def _rows(
    d: _Learn, surface: Surface, switch: Switch | None, lag: float, at: NDArray[np.int64]
) -> Floats:
    speed = lagged(d.speed, d.step, lag)
    rows = surface.rows(speed[at], d.warmth[at])
    if switch is None:
        return rows
    return np.hstack([rows, jumps(surface.warmth, switch.stage(speed, d.step)[at], d.warmth[at])])


def _stiff(d: _Learn, surface: Surface, switch: Switch | None) -> Floats:
    usual = float(np.median(np.abs(d.pressure[d.some])))
    stiff = surface.bending() / (BEND * usual) ** 2
    if switch is None:
        return stiff
    whole = np.zeros((len(stiff) + 2, len(stiff) + 2))
    whole[:-2, :-2] = stiff
    whole[[-2, -1], [-2, -1]] = 1.0 / usual**2
    return whole


def _surface_fit(d: _Learn, surface: Surface, switch: Switch | None, lag: float) -> Fit:
    rows, seen = _rows(d, surface, switch, lag, d.some), d.pressure[d.some]
    stiff = _stiff(d, surface, switch)
    return robust_fit(rows, seen, worth=d.worth, doubted=d.doubted, stiff=stiff)


def _lag_and_fit(
    d: _Learn, surface: Surface, switch: Switch | None, lag: float
) -> tuple[float, Fit]:
    fit = _surface_fit(d, surface, switch, lag)
    for _ in range(ROUNDS):
        before, lag = lag, _lag(d, surface, switch, fit)
        if lag == before:
            break
        fit = _surface_fit(d, surface, switch, lag)
    return lag, fit


def _left(d: _Learn, surface: Surface, fit: Fit, lag: float) -> Left:
    rows = _rows(d, surface, None, lag, d.some)
    return Left(
        rows, d.pressure[d.some], rows @ fit.coefficient, d.worth,
        _stiff(d, surface, None) * fit.wide, lagged(d.speed, d.step, lag), d.some, d.step,
    )  # fmt: skip


def _relief(d: _Learn, surface: Surface, fit: Fit, lag: float) -> float | None:
    """Pressure where more speed makes no more of it, if it was driven there."""
    speed, warmth = lagged(d.speed, d.step, lag)[d.some], d.warmth[d.some]
    reach = 0.25 * KNOTS
    some = fit.coefficient[: len(surface.speed) * len(surface.warmth)]  # a jump is no slope
    low, high = (surface.rows(speed + s * reach, warmth) @ some for s in (-1.0, 1.0))
    middle = 0.5 * (low + high)
    usual = float(np.median(middle / np.maximum(speed, 1.0)))
    flat = (high - low < FLAT * usual * 2.0 * reach) & (middle > 0.8 * middle.max())
    if flat.mean() < ON_TOP:
        return None
    return float(np.median(d.pressure[d.some][flat]))


def _lag(d: _Learn, surface: Surface, switch: Switch | None, fit: Fit) -> float:
    """The lag, of a few, that leaves the smallest middle size of what is unexplained."""
    moving = np.abs(np.gradient(_held(d.speed), d.step)) if d.step > 0.0 else np.zeros(len(d.speed))
    at = d.places[moving[d.places] >= np.percentile(moving[d.places], 70.0)]  # only change tells
    at = at[:: max(1, len(at) // MOST)]
    lost = []
    for lag in LAGS:
        rows = _rows(d, surface, switch, lag, at)
        left = np.abs(d.pressure[at] - rows @ fit.coefficient)
        lost.append(float(np.mean(np.minimum(left, 4.0 * fit.scale))))
    return LAGS[int(np.argmin(lost))]
