# SPDX-License-Identifier: Apache-2.0
"""How far apart bolts may stand for the flange between them to press evenly."""

import math

from sumpwright.errors import RangeError

GASKETS = {"soft rubber or silicone": 0.5, "hard rubber or soft sheet": 1.0}
"""Gasket factor m: elastomers without fabric, below 75 Shore A and from there on [ASME-VIII-1]"""


def pitch_most(bolt: float, thickness: float, gasket_factor: float) -> float:
    r"""Most that two bolts of a gasketed flange should stand apart [m].

    .. math:: B = 2 d + 6 t / (m + 0.5)

    Parameters
    ----------
    bolt : float [m]
        d, nominal diameter.
    thickness : float [m]
        t, of the flange.
    gasket_factor : float [-]
        m, of the gasket: see `GASKETS`.

    Returns
    -------
    pitch : float [m]

    Raises
    ------
    RangeError
        If a length is not positive or the factor is negative.

    Source
    ------
    [TEMA-RGP], from memory; made for pressure vessels, so a guide only for an oil pan.
    """
    if min(bolt, thickness) <= 0.0 or gasket_factor < 0.0:
        raise RangeError("bolt and flange need a size over zero, the gasket a factor from zero on")
    return 2.0 * bolt + 6.0 * thickness / (gasket_factor + 0.5)


def pitch_correction(pitch: float, bolt: float, thickness: float) -> float:
    r"""By what the moment on the flange grows where bolts stand wider than 2 d + t; at least 1.

    .. math:: \sqrt{B / (2 d + t)}

    Parameters
    ----------
    pitch : float [m]
        B, from bolt to bolt.
    bolt : float [m]
        d, nominal diameter.
    thickness : float [m]
        t, of the flange.

    Returns
    -------
    factor : float [-]

    Raises
    ------
    RangeError
        If a length is not positive.

    Source
    ------
    [TEMA-RGP], from memory.
    """
    if min(pitch, bolt, thickness) <= 0.0:
        raise RangeError("pitch, bolt and flange need a size over zero")
    return max(1.0, math.sqrt(pitch / (2.0 * bolt + thickness)))
