# SPDX-License-Identifier: Apache-2.0
"""Kinematic viscosity of an oil over temperature from two measured points. Source: ASTM D341."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from sumpwright.errors import RangeError
from sumpwright.oil.table import within

MM2_S = 1e-6  # one mm^2/s in m^2/s; the standard's logarithms are of mm^2/s
COLDEST, HOTTEST = 203.15, 643.15  # K; -70 to 370 degC, the range of the standard's charts
THINNEST, THICKEST = 0.21 * MM2_S, 2e7 * MM2_S  # the lower limit is from memory


@dataclass(frozen=True)
class ViscosityLine:
    """log10 log10 Z = a - b log10 T, with T in K and Z of the viscosity in mm^2/s."""

    a: float
    b: float


def viscosity_line(*, nu_1: float, t_1: float, nu_2: float, t_2: float) -> ViscosityLine:
    r"""Straight line of the standard's chart through two measured viscosities.

    .. math:: \log\log Z = A - B \log T

    Parameters
    ----------
    nu_1 : float [m^2/s]
        Kinematic viscosity at ``t_1``.
    t_1 : float [K]
        Temperature of the first measurement, commonly 40 degC.
    nu_2 : float [m^2/s]
        Kinematic viscosity at ``t_2``.
    t_2 : float [K]
        Temperature of the second measurement, commonly 100 degC.

    Returns
    -------
    line : ViscosityLine [-]
        A and B.

    Raises
    ------
    RangeError
        If a temperature is outside -70 to 370 degC, a viscosity outside 0.21 to 2e7 mm^2/s, or
        the viscosity does not fall from the colder point to the hotter one.

    Source
    ------
    [ASTM-D341]. Checked by tests/oil/test_viscosity.py.
    """
    t = within([t_1, t_2], COLDEST, HOTTEST, "temperature", "K")
    nu = within([nu_1, nu_2], THINNEST, THICKEST, "viscosity", "mm^2/s", 1.0 / MM2_S)
    if not (nu[0] - nu[1]) * (t[1] - t[0]) > 0.0:
        raise RangeError(
            f"viscosity must fall as oil gets hotter, got {nu_1 / MM2_S:.4g} mm^2/s at {t_1:.2f} K "
            f"and {nu_2 / MM2_S:.4g} mm^2/s at {t_2:.2f} K"
        )
    w, x = np.log10(np.log10(_z(nu / MM2_S))), np.log10(t)
    b = float((w[0] - w[1]) / (x[1] - x[0]))
    return ViscosityLine(a=float(w[0] + b * x[0]), b=b)


def kinematic_viscosity(line: ViscosityLine, temperature: ArrayLike) -> NDArray[np.float64]:
    """Viscosity of the oil at a temperature, read off its line.

    Between the two measured points the line is good to about 2 %. Far below 0 degC a multigrade
    oil is no longer Newtonian and the line misleads: on a handbook oil fitted at 37 and 97 degC
    it is 39 % too thick at 0 degC.

    Parameters
    ----------
    line : ViscosityLine [-]
        From `viscosity_line`.
    temperature : (...) [K]
        Of the oil.

    Returns
    -------
    nu : (...) [m^2/s]

    Raises
    ------
    RangeError
        If the temperature is outside -70 to 370 degC, or the line leaves 0.21 to 2e7 mm^2/s there.

    Source
    ------
    [ASTM-D341]. Checked by tests/oil/test_viscosity.py.
    """
    t = within(temperature, COLDEST, HOTTEST, "temperature", "K")
    with np.errstate(over="ignore"):  # a steep line in deep cold; refused just below
        z = 10.0 ** (10.0 ** (line.a - line.b * np.log10(t)))
    within(MM2_S * (z - 0.7), 0.0, THICKEST, "viscosity", "mm^2/s", 1.0 / MM2_S)
    nu = MM2_S * _nu(z)
    return within(nu, THINNEST, THICKEST, "viscosity", "mm^2/s", 1.0 / MM2_S)


def _z(nu: NDArray[np.float64]) -> NDArray[np.float64]:
    """Z of a viscosity in mm^2/s. Used everywhere, not only below 2 mm^2/s: above that the extra
    term is under 0.04 %, and one formula leaves no step where two would meet."""
    return np.asarray(nu + 0.7 + np.exp(-1.47 - 1.84 * nu - 0.51 * nu**2))


def _nu(z: NDArray[np.float64]) -> NDArray[np.float64]:
    """The standard's own inverse of `_z`; returns to within 0.03 %."""
    w = z - 0.7
    return np.asarray(w - np.exp(-0.7487 - 3.295 * w + 0.6119 * w**2 - 0.3193 * w**3))
