# SPDX-License-Identifier: Apache-2.0
"""Other published losses of screens, in velocity heads of the approach: second opinions.

They disagree by a third hot and by more than two cold, which is the honest uncertainty of a
screen that nobody measured. screen.py has the two that a suction line uses.
"""

import numpy as np
from numpy.typing import ArrayLike, NDArray

from sumpwright.oil.table import within

Floats = NDArray[np.float64]


def round_edge_coefficient(open_area: ArrayLike, reynolds: ArrayLike) -> Floats:
    """Loss of a screen of round wires or bars, by a handbook table.

    Parameters
    ----------
    open_area : (...) [-]
        Openings over whole face, 0.05 to 0.8.
    reynolds : (...) [-]
        On the gap between wires, 20 to 400.

    Returns
    -------
    coefficient : (...) [-]
        On the approach speed.

    Raises
    ------
    RangeError
        Outside those ranges; the library itself would hold the end value.

    Source
    ------
    [Blevins-1984] through [FLUIDS]. Checked by tests/oil/test_screen_coefficient.py.
    """
    from fluids.filters import round_edge_screen

    alpha = within(open_area, 0.05, 0.8, "open area of the screen", "")
    re = within(reynolds, 20.0, 400.0, "screen Reynolds number", "")
    return np.asarray(np.vectorize(round_edge_screen, otypes=[float])(alpha, re))


def square_edge_coefficient(open_area: ArrayLike) -> Floats:
    """Loss of a perforated sheet or of square bars in fast flow, by a handbook table.

    Parameters
    ----------
    open_area : (...) [-]
        Openings over whole face, 0.0015625 to 1.

    Returns
    -------
    coefficient : (...) [-]
        On the approach speed.

    Raises
    ------
    RangeError
        Outside that range.

    Source
    ------
    [Blevins-1984] through [FLUIDS]. Checked by tests/oil/test_screen_coefficient.py.
    """
    from fluids.filters import square_edge_screen

    alpha = within(open_area, 0.0015625, 1.0, "open area of the screen", "")
    return np.asarray(np.vectorize(square_edge_screen, otypes=[float])(alpha))


def wire_coefficient_idelchik(open_area: ArrayLike) -> Floats:
    r"""Loss of a wire screen in fast flow.

    .. math:: K = 1.3 (1 - b) + (1/b - 1)^2

    Parameters
    ----------
    open_area : (...) [-]
        b, openings over whole face, 0.05 to 1.

    Returns
    -------
    coefficient : (...) [-]
        On the approach speed; for wire Reynolds numbers of some hundred and more.

    Raises
    ------
    RangeError
        Outside that range.

    Source
    ------
    [Idelchik-1986], from memory. Checked by tests/oil/test_screen_coefficient.py.
    """
    b = within(open_area, 0.05, 1.0, "open area of the screen", "")
    return np.asarray(1.3 * (1.0 - b) + (1.0 / b - 1.0) ** 2)


def wire_coefficient_brundrett(open_area: ArrayLike, reynolds: ArrayLike) -> Floats:
    r"""Loss of a wire screen from creeping to fast flow.

    .. math:: K = \frac{1 - b^2}{b^2} \left[\frac{7.125}{Re} + \frac{0.88}{\log_{10}(Re + 1.25)} +
       0.055 \log_{10} Re\right]

    Parameters
    ----------
    open_area : (...) [-]
        b, openings over whole face, 0.05 to 1.
    reynolds : (...) [-]
        Of the approach speed on the wire's diameter, 1e-4 to 1e4.

    Returns
    -------
    coefficient : (...) [-]
        On the approach speed.

    Raises
    ------
    RangeError
        Outside those ranges.

    Source
    ------
    [Brundrett-1993]; the coefficients are from memory and in doubt. Checked by
    tests/oil/test_screen_coefficient.py.
    """
    b = within(open_area, 0.05, 1.0, "open area of the screen", "")
    re = within(reynolds, 1e-4, 1e4, "wire Reynolds number", "")
    bracket = 7.125 / re + 0.88 / np.log10(re + 1.25) + 0.055 * np.log10(re)
    return np.asarray((1.0 - b**2) / b**2 * bracket)
