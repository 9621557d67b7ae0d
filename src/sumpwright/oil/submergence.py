# SPDX-License-Identifier: Apache-2.0
"""Submergence that pump-station practice asks for, as a measure of vortex risk at a pickup.

A risk index, never pass or fail. The sources are about water, inlets of 0.3 m and more, and an
even approach; a pan has a small, hooded, screened mouth near its floor in oil that damps swirl,
and runs at 20 to 60 mm of cover. The hard limit is in drawdown.py.
"""

import numpy as np
from numpy.typing import ArrayLike, NDArray

from sumpwright.oil.table import not_negative, positive

GORDON_EVEN, GORDON_UNEVEN = 0.545, 0.725  # s/m^0.5; approach flow; from memory
DAMPED_BELOW = 5e4  # viscosity parameter under which swirl is damped; from memory


def inlet_froude(flow: ArrayLike, diameter: ArrayLike, gravity: ArrayLike) -> NDArray[np.float64]:
    r"""Froude number of the flow through an inlet.

    .. math:: Fr = V / \sqrt{g D}, \quad V = 4 Q / (\pi D^2)

    Parameters
    ----------
    flow : (...) [m^3/s]
        Q.
    diameter : (...) [m]
        D, of the mouth.
    gravity : (...) [m/s^2]
        g, local effective gravity.

    Returns
    -------
    froude : (...) [-]

    Raises
    ------
    RangeError
        If the flow is negative, or diameter or gravity not positive.

    Source
    ------
    [ANSI-HI-9.8]. Checked by tests/oil/test_submergence.py.
    """
    d = positive(diameter, "inlet diameter", "m")
    speed = 4.0 * not_negative(flow, "flow", "m^3/s") / (np.pi * d**2)
    return np.asarray(speed / np.sqrt(positive(gravity, "effective gravity", "m/s^2") * d))


def submergence_hi_9_8(
    flow: ArrayLike, diameter: ArrayLike, gravity: ArrayLike
) -> NDArray[np.float64]:
    r"""Submergence that pump-intake design asks for. Here a risk index only, never pass or fail.

    .. math:: S = D (1 + 2.3 Fr)

    Parameters
    ----------
    flow : (...) [m^3/s]
        Q.
    diameter : (...) [m]
        D, of the mouth.
    gravity : (...) [m/s^2]
        g, local effective gravity.

    Returns
    -------
    submergence : (...) [m]
        S, above the mouth.

    Raises
    ------
    RangeError
        If the flow is negative, or diameter or gravity not positive.

    Source
    ------
    [ANSI-HI-9.8], far outside its range of water and wide inlets. Checked by
    tests/oil/test_submergence.py.
    """
    d = np.asarray(diameter, dtype=float)
    return np.asarray(d * (1.0 + 2.3 * inlet_froude(flow, d, gravity)))


def submergence_ratio(
    *, cover: ArrayLike, diameter: ArrayLike, flow: ArrayLike, gravity: ArrayLike
) -> NDArray[np.float64]:
    """Oil over the mouth, as a share of what pump-intake design asks for: the risk index.

    Parameters
    ----------
    cover : (...) [m]
        Depth of oil over the mouth along effective gravity; negative where it is uncovered.
    diameter : (...) [m]
        D, of the mouth.
    flow : (...) [m^3/s]
        Q.
    gravity : (...) [m/s^2]
        g, local effective gravity.

    Returns
    -------
    ratio : (...) [-]
        Lower is riskier. Real pans run well under 1, so it says nothing by itself: compare pans.

    Raises
    ------
    RangeError
        If the flow is negative, or diameter or gravity not positive.

    Source
    ------
    [ANSI-HI-9.8], far outside its range. Checked by tests/oil/test_submergence.py.
    """
    return np.asarray(np.asarray(cover, float) / submergence_hi_9_8(flow, diameter, gravity))


def submergence_gordon(
    flow: ArrayLike, diameter: ArrayLike, coefficient: float = GORDON_UNEVEN
) -> NDArray[np.float64]:
    r"""Submergence of hydro-power intakes. For comparison only; coefficients from memory.

    .. math:: S = C V \sqrt{D}

    Parameters
    ----------
    flow : (...) [m^3/s]
        Q.
    diameter : (...) [m]
        D, of the mouth.
    coefficient : float [s/m^0.5]
        C, `GORDON_EVEN` or `GORDON_UNEVEN` approach. It has ordinary gravity built in.

    Returns
    -------
    submergence : (...) [m]

    Raises
    ------
    RangeError
        If the flow is negative or the diameter not positive.

    Source
    ------
    [Gordon-1970], from memory. Checked by tests/oil/test_submergence.py.
    """
    d = positive(diameter, "inlet diameter", "m")
    speed = 4.0 * not_negative(flow, "flow", "m^3/s") / (np.pi * d**2)
    return np.asarray(positive(coefficient, "coefficient", "s/m^0.5") * speed * np.sqrt(d))


def submergence_reddy_pickford(
    flow: ArrayLike, diameter: ArrayLike, gravity: ArrayLike
) -> NDArray[np.float64]:
    """Submergence S = D (1 + Fr). For comparison only; from memory.

    Parameters
    ----------
    flow : (...) [m^3/s]
        Q.
    diameter : (...) [m]
        D, of the mouth.
    gravity : (...) [m/s^2]
        g, local effective gravity.

    Returns
    -------
    submergence : (...) [m]

    Raises
    ------
    RangeError
        If the flow is negative, or diameter or gravity not positive.

    Source
    ------
    [Reddy-Pickford-1972], from memory. Checked by tests/oil/test_submergence.py.
    """
    d = np.asarray(diameter, dtype=float)
    return np.asarray(d * (1.0 + inlet_froude(flow, d, gravity)))


def submergence_knauss(
    flow: ArrayLike, diameter: ArrayLike, gravity: ArrayLike
) -> NDArray[np.float64]:
    """Submergence S = D (0.5 + 2 Fr) of small intakes. For comparison only; from memory.

    Parameters
    ----------
    flow : (...) [m^3/s]
        Q.
    diameter : (...) [m]
        D, of the mouth.
    gravity : (...) [m/s^2]
        g, local effective gravity.

    Returns
    -------
    submergence : (...) [m]

    Raises
    ------
    RangeError
        If the flow is negative, or diameter or gravity not positive.

    Source
    ------
    [Knauss-1987], from memory. Checked by tests/oil/test_submergence.py.
    """
    d = np.asarray(diameter, dtype=float)
    return np.asarray(d * (0.5 + 2.0 * inlet_froude(flow, d, gravity)))


def viscosity_parameter(
    diameter: ArrayLike, viscosity: ArrayLike, gravity: ArrayLike
) -> NDArray[np.float64]:
    r"""Measure of how little viscosity damps a vortex; under 5e4 it does, and water rules are safe.

    .. math:: \nu^* = \sqrt{g} D^{3/2} / \nu

    Parameters
    ----------
    diameter : (...) [m]
        D, of the mouth.
    viscosity : (...) [m^2/s]
        nu, kinematic.
    gravity : (...) [m/s^2]
        g, local effective gravity.

    Returns
    -------
    parameter : (...) [-]
        Pans lie near 4e3 hot and under 100 cold: compare with `DAMPED_BELOW`.

    Raises
    ------
    RangeError
        If an argument is not positive.

    Source
    ------
    [Jain-1978], from memory. Checked by tests/oil/test_submergence.py.
    """
    g = positive(gravity, "effective gravity", "m/s^2")
    d = positive(diameter, "inlet diameter", "m")
    return np.asarray(np.sqrt(g) * d**1.5 / positive(viscosity, "viscosity", "m^2/s"))
