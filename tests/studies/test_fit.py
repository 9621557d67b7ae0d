# SPDX-License-Identifier: Apache-2.0
"""fit: against closed forms and scipy's least squares on the same data."""

import numpy as np
from scipy.optimize import least_squares

from sumpwright.studies.fit import LEAST_NOISE, SURE, Known, fit

TIME = np.linspace(0.0, 4.0, 400)
KNOWN = (Known("size", 0.5), Known("speed", 0.5))


def _decay(factors):
    size, speed = factors[:, :1], factors[:, 1:]
    return size * np.exp(-speed * TIME)


def _measured():
    rng = np.random.default_rng(3)
    return _decay(np.array([[1.3, 0.7]]))[0] + rng.normal(0.0, 0.05, len(TIME))


def test_finds_the_factors_that_scipy_finds_with_the_same_knowledge() -> None:
    measured = _measured()
    found = fit(_decay, measured, KNOWN)
    error = measured - _decay(found.factor[None])[0]

    def residual(logs):
        rest = (measured - _decay(np.exp(logs)[None])[0]) / (np.std(error) * np.sqrt(_repeats()))
        return np.concatenate([rest, logs / 0.5])

    peer = least_squares(residual, [0.0, 0.0])
    # wide slopes and five rounds stop short of the exact minimum by far less than the interval
    np.testing.assert_allclose(found.factor, np.exp(peer.x), rtol=5e-3)
    assert ((found.low < [1.3, 0.7]) & (found.high > [1.3, 0.7])).all()
    assert found.learnt == ("yes", "yes")


def _repeats() -> float:
    from sumpwright.studies.fit import _alike

    return _alike(_measured() - _decay(np.ones((1, 2)))[0])


def test_leaves_what_the_data_say_nothing_of_as_it_was_known() -> None:
    def blind(factors):
        return np.repeat(factors[:, :1], len(TIME), axis=1)

    found = fit(blind, np.full(len(TIME), 1.2), KNOWN)
    assert found.learnt[1] != "yes"
    # the interval of a factor that nothing was learnt of is its own: exp(1.96 sd)
    np.testing.assert_allclose(found.high[1], np.exp(SURE * 0.5), rtol=1e-9)
    assert LEAST_NOISE > 0.0


def test_error_that_is_alike_from_sample_to_sample_counts_once() -> None:
    from sumpwright.studies.fit import _alike

    rng = np.random.default_rng(5)
    white = rng.normal(size=20_000)
    red = np.zeros_like(white)
    for k in range(1, len(red)):
        red[k] = 0.8 * red[k - 1] + white[k]
    # first-order: (1 + r) / (1 - r) = 9; sums are cut where correlations fall under 0.05
    np.testing.assert_allclose(_alike(red), 9.0, rtol=0.15)
    np.testing.assert_allclose(_alike(white), 1.0, atol=0.1)
