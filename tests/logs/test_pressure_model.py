# SPDX-License-Identifier: Apache-2.0
"""The robust fit beside statsmodels and scipy on the same data, and what the model must hold to."""

import numpy as np
import pytest
from scipy.optimize import least_squares
from scipy.signal import lfilter

from sumpwright.logs.pressure_model import PressureRule, lagged, learnt_model
from sumpwright.logs.robust import HUBER, robust_fit


def _quadratic(speed: np.ndarray, kelvin: np.ndarray) -> np.ndarray:
    x, y = speed / 400.0, (kelvin - 363.15) / 30.0
    return np.column_stack([np.ones(len(x)), x, x * x, y, x * y, y * y])


def _data(seed: int) -> tuple[np.ndarray, ...]:
    rng = np.random.default_rng(seed)
    speed, kelvin = rng.uniform(150.0, 650.0, 800), rng.uniform(330.0, 385.0, 800)
    seen = 60e3 + 700.0 * speed - 1500.0 * (kelvin - 363.0) + rng.normal(0.0, 5e3, 800)
    seen[rng.choice(800, 60, replace=False)] *= 0.5
    return speed, kelvin, seen


@pytest.mark.parametrize("seed", [1, 2, 3])
def test_is_the_robust_regression_of_statsmodels(seed: int) -> None:
    sm = pytest.importorskip("statsmodels.api")
    speed, kelvin, seen = _data(seed)
    rows = _quadratic(speed, kelvin)
    theirs = sm.RLM(seen, rows, M=sm.robust.norms.HuberT(HUBER)).fit(maxiter=200, tol=1e-10)
    ours = robust_fit(rows, seen)
    # theirs stops at their own tolerance, ours at 1e-8 of the coefficients
    np.testing.assert_allclose(rows @ ours.coefficient, theirs.fittedvalues, rtol=1e-5)
    assert ours.scale == pytest.approx(theirs.scale, rel=1e-4)


def test_is_scipys_huber_loss_at_the_same_scale() -> None:
    speed, kelvin, seen = _data(4)
    rows = _quadratic(speed, kelvin)
    ours = robust_fit(rows, seen, scale=5e3)
    theirs = least_squares(
        lambda c: (rows @ c - seen) / 5e3,
        np.full(6, 1e4),
        loss="huber",
        f_scale=HUBER,
        x_scale="jac",
        xtol=1e-14,
        ftol=1e-14,
        gtol=1e-14,
    )
    np.testing.assert_allclose(rows @ ours.coefficient, rows @ theirs.x, rtol=1e-4)
    assert ours.loss == pytest.approx(theirs.cost, rel=1e-6)


def test_lag_is_the_step_response_of_first_order() -> None:
    # exact: 1 - exp(-t / lag) after a step
    step = np.r_[0.0, np.ones(100)]
    np.testing.assert_allclose(
        lagged(step, 0.01, 0.1)[1:], 1.0 - np.exp(-0.01 * np.arange(1, 101) / 0.1), rtol=1e-12
    )
    keep = np.exp(-0.1)
    np.testing.assert_allclose(lagged(step, 0.01, 0.1), lfilter([1 - keep], [1, -keep], step))


def _learnt(**options: object):
    rng = np.random.default_rng(7)
    time = np.arange(0.0, 120.0, 0.02)
    speed = 380.0 + 200.0 * np.sin(time / 3.0)
    kelvin = 363.0 + 10.0 * np.sin(time / 20.0)
    truth = np.minimum(700.0 * speed + 40e3, 380e3)
    seen = truth + rng.normal(0.0, 4e3, len(time))
    gentle = np.ones(len(time), dtype=bool)
    if options.get("dips"):
        seen[(time % 10.0) < 1.0] *= 0.5
    rule = PressureRule()
    doubted = bool(options.get("doubted"))
    return learnt_model(time, seen, speed, kelvin, gentle, rule=rule, doubted=doubted), speed, truth


def test_finds_the_relief_pressure_and_the_noise() -> None:
    model, speed, truth = _learnt()
    assert model.relief == pytest.approx(380e3, rel=0.01)  # the last search goes by 1 %
    assert model.noise == pytest.approx(4e3, rel=0.1)
    assert model.lag == 0.0
    expected, sigma, share = model.static(speed, np.full(len(speed), 363.0))
    assert np.abs(expected - truth).max() < 5e3  # the corner at the relief valve is sharp
    assert share.min() > 0.95
    assert (sigma >= model.noise).all()


def test_a_tenth_of_dips_hardly_pulls_a_fit_that_doubts() -> None:
    model, speed, truth = _learnt(dips=True, doubted=True)
    expected, _, _ = model.static(speed, np.full(len(speed), 363.0))
    assert np.median(np.abs(expected - truth)) < 5e3  # an eighth of the least dip's 30 %


def test_far_from_what_was_logged_the_rule_speaks_and_doubt_grows() -> None:
    model, _, _ = _learnt()
    near, far = np.array([400.0]), np.array([2500.0])
    sigma, doubt = (model.static(s, np.array([303.0]))[1][0] for s in (near, far))
    assert doubt > sigma > model.noise


def test_without_gentle_driving_the_rule_alone_speaks() -> None:
    none = np.zeros(100, dtype=bool)
    time = np.arange(100.0)
    model = learnt_model(time, time, time, time, none, rule=PressureRule())
    # 10 psi per 1000 rpm, common practice, no source; 6500 rpm: 65 psi = 448.16 kPa
    found, _, share = model.static(np.array([6500 * np.pi / 30]), np.array([363.0]))
    assert found[0] == pytest.approx(448.16e3, rel=1e-5)
    assert share[0] == 0.0
    assert model.fit is None
