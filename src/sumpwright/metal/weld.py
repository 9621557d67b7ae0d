# SPDX-License-Identifier: Apache-2.0
"""A butt weld all round: what is laid, and how much it pulls. Figures to plan by, no more."""

import math
from dataclasses import dataclass

from sumpwright.errors import RangeError

REINFORCED = 1.15
"""Metal laid over metal of the groove: the cap stands proud. Common practice, no source."""
PULLS = {"steel": (1.0, 1.0), "stainless steel": (1.0, 1.5), "aluminium": (1.5, 2.0)}
"""Shrinkage over that of steel, least and most. Aluminium from memory; stainless: it conducts
less heat and grows more than steel, no source."""


@dataclass(frozen=True)
class Groove:
    """A V groove with a root face, SI."""

    depth: float
    """m, from outside"""
    angle: float
    """rad, side to side"""
    gap: float
    """m, between the root faces"""

    @property
    def leg(self) -> float:
        """Of each side along the wall [m]."""
        return self.depth * math.tan(0.5 * self.angle)

    @property
    def section(self) -> float:
        """Area of the groove across [m^2]."""
        return self.depth * (self.leg + self.gap)


def deposit(groove: Groove, length: float) -> float:
    """Volume of metal that a weld takes [m^3].

    Parameters
    ----------
    groove : Groove [m]
        All along.
    length : float [m]
        Of the weld.

    Returns
    -------
    volume : float [m^3]
        The groove and the cap over it.
    """
    return REINFORCED * groove.section * length


def round_length(diameter: float) -> float:
    r"""Length of a weld all round a boss, or round the edge of a hole [m].

    .. math:: L = \pi d

    Parameters
    ----------
    diameter : float [m]
        d, of boss or hole.

    Returns
    -------
    length : float [m]

    Source
    ------
    [closed-form]
    """
    return math.pi * diameter


def fillet_leg(one: float, other: float) -> float:
    """Leg of a fillet weld: as long as the thinner part is thick [m].

    Parameters
    ----------
    one : float [m]
        Thickness of a part.
    other : float [m]
        Of the other.

    Returns
    -------
    leg : float [m]

    Source
    ------
    [common-practice]: more burns thin metal through and adds no strength.
    """
    return min(one, other)


def transverse_shrinkage(section: float, thickness: float, gap: float) -> float:
    r"""How much a butt weld draws its plates together, steel [m].

    .. math:: \Delta = 0.2 A_w / t + 0.05 d

    Parameters
    ----------
    section : float [m^2]
        A_w, of the weld.
    thickness : float [m]
        t, of the plate.
    gap : float [m]
        d, between the root faces.

    Returns
    -------
    shrinkage : float [m]

    Raises
    ------
    RangeError
        Where the plate has no thickness.

    Source
    ------
    [Blodgett-1966], from memory.
    """
    if not thickness > 0.0:
        raise RangeError(f"a plate needs a thickness, got {thickness:.3g} m")
    return 0.2 * section / thickness + 0.05 * gap


def longitudinal_shrinkage(length: float, section: float, resisting: float) -> float:
    r"""How much a weld shortens what it runs along, steel [m].

    .. math:: \Delta = 0.025 L A_w / A_p

    Parameters
    ----------
    length : float [m]
        L, of the weld.
    section : float [m^2]
        A_w, of all welds that run along.
    resisting : float [m^2]
        A_p, of the metal across that holds against them.

    Returns
    -------
    shrinkage : float [m]

    Raises
    ------
    RangeError
        Where nothing holds against them.

    Source
    ------
    [Blodgett-1966], from memory.
    """
    if not resisting > 0.0:
        raise RangeError(f"a weld needs metal to hold against it, got {resisting:.3g} m^2")
    return 0.025 * length * section / resisting


def pull(family: str) -> tuple[float, float]:
    """Shrinkage of a metal over that of steel, least and most.

    Parameters
    ----------
    family : str [-]
        ``steel``, ``stainless steel`` or ``aluminium``.

    Returns
    -------
    least, most : float [-]

    Raises
    ------
    RangeError
        For a metal that pans are not welded of.
    """
    if family not in PULLS:
        raise RangeError(f"no shrinkage is known of {family}; of {', '.join(PULLS)} it is")
    return PULLS[family]
