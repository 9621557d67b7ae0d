# SPDX-License-Identifier: Apache-2.0
"""The box that stands in for a compartment, against shapes whose waves are known exactly.

Sources: [Lamb-1932] article 193 (parabolic channel), 258 (V-shaped channel, after Kirchhoff), both
from memory and each short to derive; [Lame-1866] equilateral triangle, 4 pi / (3 a); half of a
square, whose waves are sums of the square's; J1'(1.84118) = 0 for the circle.
"""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from numpy.typing import NDArray

from sumpwright.errors import RangeError
from sumpwright.oil.slosh_mode import box_frequency, box_mass_ratio
from sumpwright.oil.slosh_plane import (
    first_mode_of_plane,
    moment_along,
    principal_moments,
    surface_of_outlines,
)

G = 9.81
Floats = NDArray[np.float64]


def rectangle(
    length: float, breadth: float, angle: float = 0.0, at: tuple[float, float] = (0.0, 0.0)
) -> Floats:
    x, y = length / 2.0, breadth / 2.0
    turn = np.array([[math.cos(angle), math.sin(angle)], [-math.sin(angle), math.cos(angle)]])
    return np.array([[-x, -y], [x, -y], [x, y], [-x, y]]) @ turn + at


def box_length(loop: Floats, direction: tuple[float, float]) -> float:
    surface = surface_of_outlines([loop])
    moment = moment_along(surface.second_moments, direction)
    mode = first_mode_of_plane(
        area=surface.area, second_moment=moment, volume=surface.area * 0.05, gravity=G
    )
    return float(mode.length)


@given(
    st.floats(0.05, 1.0),
    st.floats(0.05, 0.95),
    st.floats(-math.pi, math.pi),
    st.floats(-2.0, 2.0),
    st.floats(0.005, 0.3),
)
def test_a_rectangle_turned_anywhere_is_itself(
    length: float, share: float, angle: float, away: float, depth: float
) -> None:
    breadth = length * share
    surface = surface_of_outlines([rectangle(length, breadth, angle, (away, -2.0 * away))])
    moments, axes = principal_moments(surface.second_moments)
    assert surface.area == pytest.approx(length * breadth, rel=1e-9)
    np.testing.assert_allclose(surface.centroid, [away, -2.0 * away], atol=1e-12)
    along = np.array([math.cos(angle), math.sin(angle)])
    assert abs(axes[0] @ along) == pytest.approx(1.0, abs=1e-9)
    assert abs(axes[1] @ along) == pytest.approx(0.0, abs=1e-5)
    mode = first_mode_of_plane(
        area=surface.area, second_moment=moments, volume=surface.area * depth, gravity=G
    )
    np.testing.assert_allclose(mode.length, [length, breadth], rtol=1e-9)
    np.testing.assert_allclose(mode.breadth, [breadth, length], rtol=1e-9)
    known = box_frequency(length=[length, breadth], depth=depth, gravity=G)
    np.testing.assert_allclose(mode.frequency, known, rtol=1e-9)
    np.testing.assert_allclose(
        mode.mass_ratio, box_mass_ratio(length=[length, breadth], depth=depth), rtol=1e-9
    )
    np.testing.assert_allclose(mode.pendulum, G / known**2, rtol=1e-8)


def test_aslant_the_length_lies_between_the_two() -> None:
    loop = rectangle(0.4, 0.2, 0.3)
    slant = (math.cos(0.3 + math.pi / 4), math.sin(0.3 + math.pi / 4))
    assert box_length(loop, slant) == pytest.approx(math.sqrt((0.4**2 + 0.2**2) / 2.0), rel=1e-12)


def test_a_hole_takes_its_part_away() -> None:
    surface = surface_of_outlines([rectangle(0.4, 0.2), rectangle(0.1, 0.1, 0.0, (0.1, 0.0))[::-1]])
    assert surface.area == pytest.approx(0.07, rel=1e-12)
    assert surface.centroid[0] == pytest.approx(-0.01 * 0.1 / 0.07, rel=1e-12)
    about_zero = 0.2 * 0.4**3 / 12.0 - (0.1 * 0.1**3 / 12.0 + 0.01 * 0.1**2)
    known = about_zero - 0.07 * (0.001 / 0.07) ** 2
    assert surface.second_moments[0, 0] == pytest.approx(known, rel=1e-12)


def test_a_round_surface_is_close() -> None:
    angle = np.linspace(0.0, 2.0 * math.pi, 4000, endpoint=False)
    length = box_length(np.column_stack([np.cos(angle), np.sin(angle)]), (1.0, 0.0))
    assert math.pi / length / 1.84118 - 1.0 == pytest.approx(-0.015, abs=5e-4)  # as documented


def test_triangles_with_known_waves() -> None:
    # Half of a square of side 1: wave numbers pi along the longest side, sqrt(2) pi across it
    half = np.array([[0.0, 0.0], [1.0, 0.0], [1.0, 1.0]])
    assert box_length(half, (1.0, 1.0)) == pytest.approx(1.0, rel=1e-12)  # exact
    across = math.pi / box_length(half, (1.0, -1.0)) / (math.sqrt(2.0) * math.pi)
    assert across - 1.0 == pytest.approx(0.22, abs=0.005)  # as documented
    # Equilateral of side 1: 4 pi / 3, the same along every direction
    even = np.array([[0.0, 0.0], [1.0, 0.0], [0.5, math.sqrt(3.0) / 2.0]])
    for way in ((1.0, 0.0), (0.0, 1.0), (1.0, 0.7)):
        ours = math.pi / box_length(even, way) / (4.0 * math.pi / 3.0)
        assert ours - 1.0 == pytest.approx(0.06, abs=0.005)  # as documented


def test_channels_with_known_waves() -> None:
    def frequency(half_width: float, section: float) -> float:
        return float(
            first_mode_of_plane(
                area=2.0 * half_width,
                second_moment=(2.0 * half_width) ** 3 / 12.0,
                volume=section,
                gravity=G,
            ).frequency
        )

    # V of 90 degrees, depth h: phi = x y meets walls and surface, omega^2 = g / h
    h = 0.05
    ratio = frequency(h, h * h) / math.sqrt(G / h)
    assert ratio - 1.0 == pytest.approx(0.015, abs=5e-4)  # as documented
    # Parabolic floor, long waves: omega^2 = 2 g h0 / l^2
    half_width, deepest = 100.0, 0.05
    ratio = frequency(half_width, 4.0 / 3.0 * half_width * deepest) / math.sqrt(
        2.0 * G * deepest / half_width**2
    )
    assert ratio - 1.0 == pytest.approx(-0.093, abs=5e-4)  # as documented


def test_refuses_outlines_that_hold_nothing() -> None:
    with pytest.raises(RangeError, match="at least 3 corners, has 2"):
        surface_of_outlines([[[0.0, 0.0], [1.0, 0.0]]])
    with pytest.raises(RangeError, match="at least 3 corners, has 0"):
        surface_of_outlines([])
    with pytest.raises(RangeError, match="must hold area, anticlockwise"):
        surface_of_outlines([rectangle(1.0, 1.0)[::-1]])
    with pytest.raises(RangeError, match="length of the direction"):
        moment_along(np.eye(2), (0.0, 0.0))
    with pytest.raises(RangeError, match="second moment must be above 0"):
        first_mode_of_plane(area=1.0, second_moment=0.0, volume=1.0, gravity=G)
