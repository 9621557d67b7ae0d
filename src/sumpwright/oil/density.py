# SPDX-License-Identifier: Apache-2.0
"""Density of lubricating oil over temperature, and how much a fill grows when it gets hot.

Two formulas, 0.75 % apart at 100 degC for a common engine oil; that gap is the honest
uncertainty of a density that nobody measured hot.
"""

import numpy as np
from numpy.typing import ArrayLike, NDArray

from sumpwright.oil.table import within

BASE = 288.15  # K; 15 degC
LIGHTEST, HEAVIEST = 800.9, 1163.5  # kg/m^3, lubricating oils
COLDEST, HOTTEST = 223.15, 423.15  # K; -50 to 150 degC, the source's range, from memory
LUBE_CONSTANT = 0.34878 * 1.8  # kg/m^3/K; the source has K1 per degF
LINEAR_COEFFICIENT = 6.5e-4  # 1/K; common practice, no source, oils spread over 6.0e-4 to 7.3e-4


def density(rho_15: ArrayLike, temperature: ArrayLike) -> NDArray[np.float64]:
    r"""Density of a lubricating oil at a temperature.

    .. math:: \rho = \rho_{15} \exp[-\alpha \Delta T (1 + 0.8 \alpha \Delta T)], \quad
              \alpha = 0.6278 / \rho_{15}

    The source's own base is 60 degF. Densities are quoted at 15 degC, so its constant is used
    with that base, as its older 15 degC table did. Against the route over 60 degF this is within
    0.002 % from -50 to 150 degC, a hundredth of what the oil's own spread allows.

    Parameters
    ----------
    rho_15 : (...) [kg/m^3]
        Density at 15 degC, from the oil's data sheet.
    temperature : (...) [K]
        Of the oil.

    Returns
    -------
    rho : (...) [kg/m^3]

    Raises
    ------
    RangeError
        If ``rho_15`` is outside 800.9 to 1163.5 kg/m^3 or the temperature outside -50 to 150 degC.

    Source
    ------
    [API-MPMS-11.1] lubricating oils, K0 = 0, K1 = 0.34878. Checked by tests/oil/test_density.py.
    """
    rho = within(rho_15, LIGHTEST, HEAVIEST, "density at 15 degC", "kg/m^3")
    warmer = within(temperature, COLDEST, HOTTEST, "temperature", "K") - BASE
    strain = LUBE_CONSTANT / rho * warmer
    return np.asarray(rho * np.exp(-strain * (1.0 + 0.8 * strain)))


def density_linear(
    rho_15: ArrayLike, temperature: ArrayLike, coefficient: float = LINEAR_COEFFICIENT
) -> NDArray[np.float64]:
    """Density of an oil whose expansion coefficient is known, by a straight line.

    Parameters
    ----------
    rho_15 : (...) [kg/m^3]
        Density at 15 degC.
    temperature : (...) [K]
        Of the oil.
    coefficient : float [1/K]
        Cubic expansion per kelvin, 5e-4 to 9e-4.

    Returns
    -------
    rho : (...) [kg/m^3]

    Raises
    ------
    RangeError
        Outside the ranges of `density`, or a coefficient no oil has.

    Source
    ------
    [common-practice], no source. Checked by tests/oil/test_density.py.
    """
    rho = within(rho_15, LIGHTEST, HEAVIEST, "density at 15 degC", "kg/m^3")
    warmer = within(temperature, COLDEST, HOTTEST, "temperature", "K") - BASE
    within(coefficient, 5e-4, 9e-4, "expansion coefficient", "1/K")
    return np.asarray(rho * (1.0 - coefficient * warmer))


def expansion(rho_15: ArrayLike, *, t_from: ArrayLike, t_to: ArrayLike) -> NDArray[np.float64]:
    """Volume at one temperature over volume of the same oil at another.

    Parameters
    ----------
    rho_15 : (...) [kg/m^3]
        Density at 15 degC.
    t_from : (...) [K]
        Temperature at which the volume is known, such as a cold fill.
    t_to : (...) [K]
        Temperature at which it is asked.

    Returns
    -------
    ratio : (...) [-]
        Above 1 where the oil gets hotter.

    Raises
    ------
    RangeError
        Outside the ranges of `density`.

    Source
    ------
    [API-MPMS-11.1] lubricating oils. Checked by tests/oil/test_density.py.
    """
    return np.asarray(density(rho_15, t_from) / density(rho_15, t_to))
