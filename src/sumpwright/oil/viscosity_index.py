# SPDX-License-Identifier: Apache-2.0
"""Viscosity index of an oil, and the viscosity at 40 degC that an index means."""

from functools import cache

import numpy as np
from numpy.typing import ArrayLike, NDArray

from sumpwright.oil.table import positive, rows, within
from sumpwright.oil.viscosity import MM2_S

THINNEST, THICKEST = 2.0 * MM2_S, 500.0 * MM2_S  # no index below 2; above 500 nobody has checked


def viscosity_index(nu_40: ArrayLike, *, nu_100: ArrayLike) -> NDArray[np.float64]:
    r"""Viscosity index of an oil measured at 40 and 100 degC.

    .. math:: VI = 100 (L - U)/(L - H) \le 100, \quad VI = (10^N - 1)/0.00715 + 100,
              \quad N = \log(H / U) / \log Y

    Parameters
    ----------
    nu_40 : (...) [m^2/s]
        U, kinematic viscosity at 40 degC.
    nu_100 : (...) [m^2/s]
        Y, kinematic viscosity at 100 degC.

    Returns
    -------
    index : (...) [-]
        Unrounded; the standard reports the nearest whole number.

    Raises
    ------
    RangeError
        If ``nu_100`` is below 2 mm^2/s, where no index is defined.

    Source
    ------
    [ASTM-D2270] procedures A and B. Checked by tests/oil/test_viscosity_index.py.
    """
    y = within(nu_100, THINNEST, THICKEST, "viscosity at 100 degC", "mm^2/s", 1 / MM2_S) / MM2_S
    u = positive(nu_40, "viscosity at 40 degC", "m^2/s") / MM2_S
    low, high = _reference(y)
    by_a = 100.0 * (low - u) / (low - high)
    by_b = (10.0 ** (np.log(high / u) / np.log(y)) - 1.0) / 0.00715 + 100.0
    return np.asarray(np.where(by_a <= 100.0, by_a, by_b))


def viscosity_at_40(nu_100: ArrayLike, index: ArrayLike) -> NDArray[np.float64]:
    """Viscosity at 40 degC of an oil of a given index: `viscosity_index` turned round.

    Parameters
    ----------
    nu_100 : (...) [m^2/s]
        Y, kinematic viscosity at 100 degC.
    index : (...) [-]
        Viscosity index, 0 to 400.

    Returns
    -------
    nu_40 : (...) [m^2/s]

    Raises
    ------
    RangeError
        If ``nu_100`` is below 2 mm^2/s or the index outside 0 to 400.

    Source
    ------
    [ASTM-D2270] procedures A and B, solved for U. Checked by tests/oil/test_viscosity_index.py.
    """
    y = within(nu_100, THINNEST, THICKEST, "viscosity at 100 degC", "mm^2/s", 1 / MM2_S) / MM2_S
    vi = within(index, 0.0, 400.0, "viscosity index", "(no unit)")
    low, high = _reference(y)
    by_a = low - vi / 100.0 * (low - high)
    by_b = high / y ** np.log10(1.0 + 0.00715 * np.maximum(vi - 100.0, 0.0))
    return np.asarray(MM2_S * np.where(vi <= 100.0, by_a, by_b))


@cache
def _pieces() -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """Start of each piece (n,) in mm^2/s and its coefficients a to f (n, 6)."""
    table = rows("astm_d2270")
    starts = np.array([float(row["y_from"]) for row in table])
    return starts, np.array([[float(row[key]) for key in "abcdef"] for row in table])


def _reference(y: NDArray[np.float64]) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """L and H, the viscosities at 40 degC of the reference oils of index 0 and 100, in mm^2/s."""
    starts, coefficients = _pieces()
    a, b, c, d, e, f = np.moveaxis(coefficients[np.searchsorted(starts, y, "right") - 1], -1, 0)
    return a * y**2 + b * y + c, d * y**2 + e * y + f
