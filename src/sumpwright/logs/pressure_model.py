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

Floats = NDArray[np.float64]
Mask = NDArray[np.bool_]

RULE_SLOPE = 10.0 * 6894.757293168 / (1000.0 * np.pi / 30.0)
"""[Pa s] 10 psi per 1000 rpm [common-practice]."""
RULE_DOUBT = 0.15
"""One standard deviation of a rule, as a share of it [common-practice]."""
SPEED, WARM, SPAN = 400.0, 363.15, 30.0
"""Scales of speed [rad/s], and of temperature about its middle [K]; for conditioning only."""
FEWEST = 40
"""Samples under which nothing is learnt."""
MOST = 4000
"""Samples a fit is made from; more add nothing that their correlation does not take away."""
PLATEAU_GAIN = 0.97
"""A plateau is believed where it takes the loss below this share of the loss without one."""
CHUNK = 8192
"""Samples worked on at a time, to stay in the processor's cache: an hour in 0.5, not 0.9 s."""
LAGS = (0.0, 0.03, 0.06, 0.1, 0.15, 0.2, 0.3, 0.45)


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
    """Pressure over speed and temperature."""

    rule: PressureRule
    fit: Fit | None
    """None: too little gentle driving; the rule alone speaks"""
    relief: float | None
    """[Pa]"""
    lag: float
    """[s]"""
    noise: float
    """[Pa] one standard deviation of a sample about the surface"""
    learnt_time: float
    """[s] of driving it was learnt from"""
    warm: bool
    """Whether temperature is part of it"""

    def static(self, speed: Floats, temperature: Floats) -> tuple[Floats, Floats, Floats]:
        """Expected pressure, one standard deviation, and the share the log has in it.

        Temperatures that are not a number are taken as the scale's middle.
        """
        parts = [
            self._static(speed[k : k + CHUNK], temperature[k : k + CHUNK])
            for k in range(0, max(len(speed), 1), CHUNK)
        ]
        expected, sigma, share = (np.concatenate(p) for p in zip(*parts, strict=True))
        return expected, sigma, share

    def _static(self, speed: Floats, temperature: Floats) -> tuple[Floats, Floats, Floats]:
        ruled = self.rule.pressure(speed)
        doubt = np.maximum(self.rule.doubt * ruled, 1.0)
        if self.fit is None:
            return ruled, np.hypot(doubt, self.noise), np.zeros(len(ruled))
        rows = basis(speed, temperature, warm=self.warm)
        learnt = rows @ self.fit.coefficient
        spread = np.einsum("ij,ij->i", rows @ self.fit.covariance, rows)
        share = doubt**2 / (doubt**2 + spread)
        if self.relief is not None:
            learnt = np.minimum(learnt, self.relief)
        blend = share * learnt + (1.0 - share) * ruled
        return blend, np.sqrt(self.noise**2 + share * spread), share


def basis(speed: Floats, temperature: Floats, *, warm: bool) -> Floats:
    """Columns of the smooth surface: quadratic in speed and temperature.

    Parameters
    ----------
    speed : (n,) [rad/s]
    temperature : (n,) [K]
    warm : bool [-]
        Whether to have the columns of temperature.

    Returns
    -------
    rows : (n, 3 or 6) [-]
    """
    x = speed / SPEED
    rows = np.ones((len(x), 6 if warm else 3))
    rows[:, 1], rows[:, 2] = x, x * x
    if warm:
        y = np.where(np.isfinite(temperature), (temperature - WARM) / SPAN, 0.0)
        rows[:, 3], rows[:, 4], rows[:, 5] = y, x * y, y * y
    return rows


def learnt_model(
    time: Floats,
    pressure: Floats,
    speed: Floats,
    temperature: Floats,
    gentle: Mask,
    *,
    rule: PressureRule,
    upper: bool = False,
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
    upper : bool [-]
        True where dips may be among them: what is low then weighs less than what is high.

    Returns
    -------
    model : PressureModel [-]
    """
    step = float(np.median(np.diff(time))) if len(time) > 1 else 0.0
    places = np.flatnonzero(gentle & np.isfinite(pressure) & np.isfinite(speed))
    learnt_time = len(places) * step
    if len(places) < FEWEST:
        return PressureModel(rule, None, rule.relief, 0.0, 0.01 * RULE_SLOPE * SPEED, 0.0, False)
    warm = bool(np.isfinite(temperature[places]).mean() > 0.5 and np.ptp(_sound(temperature)) > 3.0)
    some = places[:: max(1, len(places) // MOST)]
    lag, relief, best = 0.0, rule.relief, None
    for _ in range(2):
        slow = lagged(speed, step, lag)
        rows = basis(slow[some], temperature[some], warm=warm)
        best, relief = _with_plateau(rows, pressure[some], rule.relief, upper)
        lag = _lag(best, relief, step, (pressure, speed, temperature), places, warm)
    assert best is not None
    return PressureModel(rule, best, relief, lag, best.scale, learnt_time, warm)


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


def _sound(value: Floats) -> Floats:
    return value[np.isfinite(value)]


def _with_plateau(
    rows: Floats, seen: Floats, given: float | None, upper: bool
) -> tuple[Fit, float | None]:
    """The fit and its relief pressure: the given one, or one that plainly helps, or none."""
    if given is not None:
        return robust_fit(rows, seen, top=given, upper=upper), given
    bare = robust_fit(rows, seen, upper=upper)
    best, relief = bare, None
    for top in np.percentile(seen, np.linspace(50.0, 99.0, 15)):
        fit = robust_fit(rows, seen, top=float(top), upper=upper, scale=bare.scale)
        if fit.loss < PLATEAU_GAIN * bare.loss and fit.loss < best.loss and fit.capped > 0.03:
            best, relief = fit, float(top)
    if relief is None:
        return bare, None
    for top in relief * np.array([0.97, 0.98, 0.99, 1.0, 1.01, 1.02, 1.03]):
        fit = robust_fit(rows, seen, top=float(top), upper=upper, scale=bare.scale)
        if fit.loss <= best.loss:
            best, relief = fit, float(top)
    return robust_fit(rows, seen, top=relief, upper=upper), relief


def _lag(
    fit: Fit,
    relief: float | None,
    step: float,
    seen: tuple[Floats, Floats, Floats],
    places: NDArray[np.int64],
    warm: bool,
) -> float:
    """The lag, of a few, that leaves the smallest middle size of what is unexplained."""
    pressure, speed, temperature = seen
    moving = np.abs(np.gradient(_held(speed), step))[places] if step > 0.0 else np.zeros(1)
    at = places[moving >= np.percentile(moving, 70.0)]  # only change tells of lag
    at = at[:: max(1, len(at) // MOST)]
    lost = []
    for lag in LAGS:
        rows = basis(lagged(speed, step, lag)[at], temperature[at], warm=warm)
        expected = rows @ fit.coefficient
        if relief is not None:
            expected = np.minimum(expected, relief)
        lost.append(float(np.mean(np.minimum(np.abs(pressure[at] - expected), 4.0 * fit.scale))))
    return LAGS[int(np.argmin(lost))]
