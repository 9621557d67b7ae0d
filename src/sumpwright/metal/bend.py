# SPDX-License-Identifier: Apache-2.0
r"""How long a flat sheet must be to come out right when bent.

A sheet of thickness t bent by an angle :math:`\theta` round an inside radius r keeps the length of
one fibre, K t from its inner face. Two books say the same in different words: K counts from the
inner face in thicknesses; DIN 6935's k counts in half thicknesses, so k = 2 K. What the sheet
springs back by is not modelled: the press must overbend.
"""

import math

from sumpwright.errors import RangeError

LEAST_K, MOST_K = 0.15, 0.65
"""Neutral fibres out of this part of the thickness are a mistake in measuring;
[common-practice]."""
HANDBOOK = {"soft": 0.55, "half-hard": 0.64, "hard": 0.71}
"""Of a thickness, by how hard the sheet is; see `allowance_handbook`."""
_TIGHTEST_DIN = 0.2
"""r/t under which the correction factor is used by nobody: k falls to 0.3."""


def setback(angle: float, radius: float, thickness: float) -> float:
    """From where a bend starts to the crossing of the outer faces [m].

    Parameters
    ----------
    angle : float [rad]
        By which the sheet is bent, under 180 deg.
    radius : float [m]
        Inside.
    thickness : float [m]
        Of the sheet.

    Returns
    -------
    setback : float [m]

    Source
    ------
    [closed-form]: the tangents of a circle of radius r + t.
    """
    if not 0.0 < angle < math.pi:
        raise RangeError(f"a bend with two legs turns by 0 to 180 deg, not {_degrees(angle)}")
    return (radius + thickness) * math.tan(0.5 * angle)


def allowance(angle: float, radius: float, thickness: float, k: float) -> float:
    r"""Length of flat sheet that a bend uses: :math:`\theta (r + K t)` [m].

    Parameters
    ----------
    angle : float [rad]
        By which the sheet is bent; more than half a turn is a roll.
    radius : float [m]
        Inside.
    thickness : float [m]
        Of the sheet.
    k : float [-]
        Where the neutral fibre is, from the inner face, in thicknesses.

    Returns
    -------
    allowance : float [m]

    Source
    ------
    [closed-form]: the neutral fibre's arc. Checked by tests/metal/test_bend.py.
    """
    return angle * (radius + k * thickness)


def deduction(angle: float, radius: float, thickness: float, k: float) -> float:
    """What the flat is shorter than both outside legs together [m].

    Parameters
    ----------
    angle : float [rad]
        By which the sheet is bent, under 180 deg.
    radius : float [m]
        Inside.
    thickness : float [m]
        Of the sheet.
    k : float [-]
        Where the neutral fibre is, from the inner face, in thicknesses.

    Returns
    -------
    deduction : float [m]

    Source
    ------
    [closed-form]: two setbacks less the allowance.
    """
    return 2.0 * setback(angle, radius, thickness) - allowance(angle, radius, thickness, k)


def correction_din(ratio: float) -> float:
    r"""DIN 6935's correction factor :math:`k = 0.65 + 0.5 \log_{10}(r/s)`, 1 from r/s = 5 on.

    Parameters
    ----------
    ratio : float [-]
        Inside radius r over thickness s.

    Returns
    -------
    k : float [-]
        Twice what is called K elsewhere.

    Raises
    ------
    RangeError
        Under r/s = 0.2, where nobody bends by it.

    Source
    ------
    [DIN-6935]. For steel; aluminium wants a test strip.
    """
    if ratio < _TIGHTEST_DIN - 1e-9:
        raise RangeError(
            f"DIN 6935's factor needs r/s of at least {_TIGHTEST_DIN}, got {ratio:.3g}"
        )
    return 1.0 if ratio > 5.0 else 0.65 + 0.5 * math.log10(ratio)


def compensation_din(opening: float, radius: float, thickness: float) -> float:
    r"""DIN 6935's compensation v: the blank is a + b + v long [m].

    :math:`v = \pi \frac{180-\beta}{180} (r + \frac{s}{2} k) - 2 (r + s)` up to an opening angle of
    90 deg, with :math:`2 (r + s) \tan\frac{180-\beta}{2}` instead up to 165 deg, and 0 above.

    Parameters
    ----------
    opening : float [rad]
        Angle beta between the legs: 180 deg is flat.
    radius : float [m]
        Inside, r.
    thickness : float [m]
        Of the sheet, s.

    Returns
    -------
    v : float [m]
        Legs a and b count to the outermost tangent up to 90 deg, to the crossing of the outer faces
        above.

    Source
    ------
    [DIN-6935]. Checked by tests/metal/test_bend.py in all three ranges.
    """
    beta = math.degrees(opening)
    if not 0.0 <= beta <= 180.0:
        raise RangeError(f"an opening angle is 0 to 180 deg, not {beta:.4g} deg")
    if beta > 165.0 + 1e-9:
        return 0.0
    turned = math.pi - opening
    arc = turned * (radius + 0.5 * thickness * correction_din(radius / thickness))
    outer = radius + thickness
    return arc - 2.0 * outer * (1.0 if beta <= 90.0 + 1e-9 else math.tan(0.5 * turned))


def allowance_handbook(radius: float, thickness: float, hardness: str) -> float:
    """What a square bend uses by the machinist's rule: (0.55, 0.64 or 0.71) t + 1.57 r [m].

    Parameters
    ----------
    radius : float [m]
        Inside.
    thickness : float [m]
        Of the sheet.
    hardness : str [-]
        ``soft``: soft copper and brass; ``half-hard``: those half-hard, soft steel, aluminium;
        ``hard``: bronze, cold-rolled steel.

    Returns
    -------
    allowance : float [m]

    Source
    ------
    [Machinerys-Handbook], from memory.
    """
    return HANDBOOK[hardness] * thickness + 1.57 * radius


def strip_k(angle: float, radius: float, thickness: float, flat: float, legs: float) -> float:
    """K of a strip that was measured flat and bent.

    Parameters
    ----------
    angle : float [rad]
        By which it was bent.
    radius : float [m]
        Inside, as measured.
    thickness : float [m]
        Of the strip.
    flat : float [m]
        Its length before.
    legs : float [m]
        Both outside legs together, to the crossing of the outer faces.

    Returns
    -------
    k : float [-]

    Raises
    ------
    RangeError
        Where the neutral fibre would lie where none can.

    Source
    ------
    [closed-form]: `deduction` solved for K.
    """
    used = flat - (legs - 2.0 * setback(angle, radius, thickness))
    k = (used / angle - radius) / thickness
    if not LEAST_K <= k <= MOST_K:
        raise RangeError(f"the strip gives K = {k:.3f}; sheet bends at {LEAST_K:g} to {MOST_K:g}")
    return k


def legs_for(k: float, angle: float, radius: float, thickness: float, flat: float) -> float:
    """Both outside legs together that a strip of a given K comes out at [m].

    Parameters
    ----------
    k : float [-]
        Where the neutral fibre is.
    angle : float [rad]
        By which it is bent.
    radius : float [m]
        Inside.
    thickness : float [m]
        Of the strip.
    flat : float [m]
        Its length before.

    Returns
    -------
    legs : float [m]
    """
    return flat + deduction(angle, radius, thickness, k)


def _degrees(angle: float) -> str:
    return f"{math.degrees(angle):.4g} deg"
