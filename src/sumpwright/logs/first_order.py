# SPDX-License-Identifier: Apache-2.0
"""A first-order lag of even samples, without a signal library whose import costs a second."""

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]


def first_order(value: Floats, keep: float, before: float) -> Floats:
    r"""The series :math:`y_k = \kappa y_{k-1} + (1 - \kappa) x_k`.

    Parameters
    ----------
    value : (n,) [any]
        x, finite.
    keep : float [-]
        The share kept from sample to sample, from 0 to 1.
    before : float [any]
        y before the first sample.

    Returns
    -------
    late : (n,) [any]

    Source
    ------
    [closed-form]. Checked by tests/logs/test_first_order.py against scipy's lfilter.
    """
    import polars as pl

    series = pl.Series(np.concatenate([[before], value]))
    return np.asarray(series.ewm_mean(alpha=1.0 - keep, adjust=False).to_numpy()[1:])
