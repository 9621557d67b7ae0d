# SPDX-License-Identifier: Apache-2.0
r"""The slowest swing of oil in a compartment of any shape, by the box that stands in for it.

The box has the compartment's volume, its free surface's area, and that surface's second moment
about the axis across the motion, so :math:`L = \sqrt{12 I / A}`, :math:`B = A/L`, :math:`h = V/A`.
It has the same stiffness against tilting as the compartment, for that is the surface's second
moment; only the moving mass is approximate. How far that carries, on shapes with exact answers
(wave number :math:`\pi/L`; the frequency is off by as much in shallow oil, half in deep):

======================================= =======
surface or basin                          error
======================================= =======
rectangle, along a side                       0
right-angled isosceles triangle, along
its longest side                              0
circle                                   -1.5 %
equilateral triangle                       +6 %
right-angled isosceles triangle, along
its axis of symmetry                      +22 %
V-shaped channel, 90 degrees             +1.5 % of frequency
channel with a parabolic floor           -9.3 % of frequency
======================================= =======

Cut a compartment that is pinched or L-shaped in two instead. An acceleration aslant to a surface's
principal axes drives both of their modes, each with its own part of it.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from sumpwright.errors import RangeError
from sumpwright.oil.slosh_mode import box_frequency, box_mass_ratio, pendulum_length
from sumpwright.oil.table import positive

Floats = NDArray[np.float64]


@dataclass(frozen=True)
class Surface:
    """A free surface, flat, in axes of its own plane."""

    area: float
    """[m^2]"""
    centroid: Floats
    """(2,) [m]"""
    second_moments: Floats
    """(2, 2) integrals of x x, x y and y y about the centroid [m^4]."""


@dataclass(frozen=True)
class PlaneMode:
    """The slowest wave of a compartment and the box it was taken from, each (...)."""

    frequency: Floats
    """Angular [rad/s]."""
    length: Floats
    """Of the box along the motion [m]."""
    breadth: Floats
    """Of the box across it [m]."""
    depth: Floats
    """Mean, volume over surface [m]."""
    mass_ratio: Floats
    """Share of the oil that swings [-]."""
    pendulum: Floats
    """Length of the pendulum that swings as fast [m]."""


def surface_of_outlines(loops: Sequence[ArrayLike]) -> Surface:
    """Area, centroid and second moments of a flat surface from its outlines.

    Parameters
    ----------
    loops : sequence of (n, 2) [m]
        Corners in order: anticlockwise round oil, clockwise round a hole in it.

    Returns
    -------
    surface : Surface [m^2, m, m^4]

    Raises
    ------
    RangeError
        If an outline has fewer than 3 corners, or they hold no area.

    Source
    ------
    [closed-form]. Checked by tests/oil/test_slosh_plane.py.
    """
    rings = [np.asarray(loop, dtype=float) for loop in loops]
    short = [len(ring) for ring in rings if len(ring) < 3]
    if short or not rings:
        raise RangeError(f"an outline needs at least 3 corners, has {short[0] if short else 0}")
    middle = rings[0].mean(axis=0)  # moments far from the origin would cancel
    parts = [_moments(ring - middle) for ring in rings]
    area, first, second = (sum((p[i] for p in parts), 0.0 * parts[0][i]) for i in range(3))
    if not area > 0.0:
        raise RangeError(f"outlines must hold area, anticlockwise, got {float(area):.6g} m^2")
    centre = first / area
    return Surface(float(area), middle + centre, second - area * np.outer(centre, centre))


def principal_moments(second_moments: ArrayLike) -> tuple[Floats, Floats]:
    """Largest and smallest second moment of a surface, and the axes they are measured along.

    Parameters
    ----------
    second_moments : (..., 2, 2) [m^4]
        About the centroid.

    Returns
    -------
    moments : (..., 2) [m^4]
        Largest first, so the longest wave first.
    axes : (..., 2, 2) [-]
        Unit vectors, one a row, along which the surface reaches that far.

    Source
    ------
    [closed-form]. Checked by tests/oil/test_slosh_plane.py.
    """
    values, vectors = np.linalg.eigh(np.asarray(second_moments, dtype=float))
    return values[..., ::-1], np.swapaxes(vectors, -1, -2)[..., ::-1, :]


def moment_along(second_moments: ArrayLike, direction: ArrayLike) -> Floats:
    """Second moment of a surface along a direction in its plane.

    Parameters
    ----------
    second_moments : (..., 2, 2) [m^4]
        About the centroid.
    direction : (..., 2) [-]
        Any length but zero.

    Returns
    -------
    moment : (...) [m^4]

    Raises
    ------
    RangeError
        If the direction has no length.

    Source
    ------
    [closed-form]. Checked by tests/oil/test_slosh_plane.py.
    """
    way = np.asarray(direction, dtype=float)
    size = positive(np.linalg.norm(way, axis=-1), "length of the direction", "")
    whole = np.einsum("...i,...ij,...j->...", way, np.asarray(second_moments, float), way)
    return np.asarray(whole / size**2)


def first_mode_of_plane(
    *, area: ArrayLike, second_moment: ArrayLike, volume: ArrayLike, gravity: ArrayLike
) -> PlaneMode:
    r"""Slowest swing of the oil in a compartment, from its free surface and its volume.

    .. math:: L = \sqrt{12 I / A}, \quad h = V / A

    Parameters
    ----------
    area : (...) [m^2]
        A, of the free surface.
    second_moment : (...) [m^4]
        I, of the surface about its centroid along the motion: a principal one, or along the
        acceleration.
    volume : (...) [m^3]
        V, of the oil.
    gravity : (...) [m/s^2]
        Local effective gravity.

    Returns
    -------
    mode : PlaneMode [rad/s, m, -]

    Raises
    ------
    RangeError
        If a value is not positive.

    Source
    ------
    The box is ours, no source; its mode [Abramson-1966], [Graham-Rodriguez-1952]. Checked by
    tests/oil/test_slosh_plane.py against shapes with exact answers.
    """
    a = positive(area, "surface area", "m^2")
    length = np.sqrt(12.0 * positive(second_moment, "second moment", "m^4") / a)
    depth = positive(volume, "volume", "m^3") / a
    frequency = box_frequency(length=length, depth=depth, gravity=gravity)
    return PlaneMode(
        frequency=frequency,
        length=length,
        breadth=a / length,
        depth=depth,
        mass_ratio=box_mass_ratio(length=length, depth=depth),
        pendulum=pendulum_length(frequency, gravity),
    )


def _moments(ring: Floats) -> tuple[Floats, Floats, Floats]:
    """Signed area, first and second moments of one outline about the origin."""
    following = np.roll(ring, -1, axis=0)
    cross = ring[:, 0] * following[:, 1] - ring[:, 1] * following[:, 0]
    both = ring + following
    second = np.einsum("n,ni,nj->ij", cross, both, both)
    second += np.einsum("n,ni,nj->ij", cross, ring, ring)
    second += np.einsum("n,ni,nj->ij", cross, following, following)
    return np.asarray(0.5 * cross.sum()), cross @ both / 6.0, second / 24.0
