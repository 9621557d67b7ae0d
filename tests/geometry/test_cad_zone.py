# SPDX-License-Identifier: Apache-2.0
"""Zones as solids against closed forms.

Sources: prismatoid formula, Pappus's theorem, Steiner's formula and the centroid of a fillet's
spandrel [r (10 - 3 pi) / (12 - 3 pi) from its sides], from memory.
"""

import math

import numpy as np
import pytest

from sumpwright.errors import SolveError
from sumpwright.geometry import cad_zone
from sumpwright.geometry.cad_measure import Solid, bounds, mesh_of, volume
from sumpwright.geometry.cad_zone import measured_zone, sharp_solid
from sumpwright.geometry.level import level_body
from sumpwright.geometry.profile import Profile, circle_profile
from sumpwright.geometry.zone import Slope, ZoneForm
from tests.geometry.zones import zone

EXACT = 1e-9  # relative: planes, cylinders, spheres and tori
L, B, H = 0.3, 0.2, 0.1


def zone_solid(form: ZoneForm) -> Solid:
    return measured_zone(form)[0]


def tub(corner: float, floor: float) -> float:
    """A box with rounded corners and floor: its plan shrinks by d(z) over the floor's rounding."""
    plan, around = L * B - (4 - math.pi) * corner**2, 2 * (L + B) - (8 - 2 * math.pi) * corner
    lost = around * floor**2 * (1 - math.pi / 4)  # of the plan's length times the spandrel
    return plan * H - lost + math.pi * floor**3 * (5 / 3 - math.pi / 2)  # Steiner's last term


@pytest.mark.parametrize(("corner", "floor"), [(0.012, 0.012), (0.02, 0.006), (0.006, 0.0)])
def test_a_rounded_tub_holds_what_the_formula_says(corner: float, floor: float) -> None:
    made = zone_solid(zone(radius=corner, floor_radius=floor))
    assert volume(made) == pytest.approx(tub(corner, floor), rel=EXACT)


def test_a_round_tub_loses_its_fillet_by_pappus() -> None:
    big, r = 0.08, 0.012
    round_ = ZoneForm(
        "sump", circle_profile([0, 0], big), 0.0, np.zeros(2), np.zeros(2), Slope(-H), None, r
    )
    spandrel, off = r**2 * (1 - math.pi / 4), r * (10 - 3 * math.pi) / (12 - 3 * math.pi)
    expected = math.pi * big**2 * H - spandrel * 2 * math.pi * (big - off)
    assert volume(zone_solid(round_)) == pytest.approx(expected, rel=EXACT)


def test_leaning_sides_make_a_prismatoid() -> None:
    lean = math.radians(12.0)
    made = volume(zone_solid(zone(lean=lean)))
    areas = [(L - 2 * d) * (B - 2 * d) for d in (0.0, 0.5 * H * math.tan(lean), H * math.tan(lean))]
    assert made == pytest.approx(H / 6 * (areas[0] + 4 * areas[1] + areas[2]), rel=EXACT)


def test_a_leaning_round_side_makes_a_cone() -> None:
    lean, big = math.radians(10.0), 0.08
    round_ = ZoneForm(
        "sump",
        circle_profile([0, 0], big),
        0.0,
        np.full(2, lean),
        np.zeros(2),
        Slope(-H),
        None,
        0.0,
    )
    small = big - H * math.tan(lean)
    expected = math.pi * H / 3 * (big**2 + big * small + small**2)
    assert volume(zone_solid(round_)) == pytest.approx(expected, rel=EXACT)


def test_a_sloping_floor_and_roof_leave_the_mean_height() -> None:
    made = zone_solid(zone(floor=Slope(-0.12, 0.1, -0.05), roof=Slope(-0.01, -0.02, 0.1)))
    floor, roof = -0.12 + 0.1 * 0.15 - 0.05 * 0.1, -0.01 - 0.02 * 0.15 + 0.1 * 0.1
    assert volume(made) == pytest.approx(L * B * (roof - floor), rel=EXACT)


def test_planes_and_prism_make_the_same_of_straight_sides() -> None:
    well = zone(lean=0.1, floor=Slope(-0.1, 0.05, 0.02))
    other = cad_zone._of_prism(well)
    assert volume(sharp_solid(well)) == pytest.approx(volume(other), rel=1e-7)  # kernel's booleans


def test_a_corner_that_points_inward_gains_what_its_rounding_fills() -> None:
    corners = [[0, 0], [0.3, 0], [0.3, 0.1], [0.1, 0.1], [0.1, 0.2], [0, 0.2]]
    made = volume(zone_solid(zone(corners, radius=0.02)))
    plan = 0.3 * 0.1 + 0.1 * 0.1 - (5 - 1) * (1 - math.pi / 4) * 0.02**2
    assert made == pytest.approx(plan * H, rel=EXACT)


def test_an_arc_in_the_outline_is_followed_and_rounded() -> None:
    bowed = Profile(np.array([[0, 0], [L, 0], [L, B], [0, B]]), np.array([0, 0.3, 0, 0]))
    well = ZoneForm("bowed", bowed, 0.0, np.full(4, 0.05), np.full(4, 0.01), Slope(-H), None, 0.006)
    made = zone_solid(well)
    np.testing.assert_allclose(bounds(made)[1, 0], L + 0.3 * B / 2, atol=1e-6)
    level = level_body(mesh_of(made, tolerance=1e-6, angle=0.05)).volume
    assert level == pytest.approx(volume(made), rel=1e-4)  # chords of 1e-6 m


def test_says_which_radius_can_be_made(monkeypatch: pytest.MonkeyPatch) -> None:
    real = cad_zone.rounded

    def only_small(sharp: object, form: ZoneForm, share: float) -> object:
        return real(sharp, form, share) if share < 0.8 else None

    monkeypatch.setattr(cad_zone, "rounded", only_small)
    with pytest.raises(
        SolveError,
        match=r"by 8 mm along the floor and 12 mm at the corners; it"
        r" can by 6 mm and 9 mm",
    ):
        zone_solid(zone(radius=0.012, floor_radius=0.008))


def test_refuses_a_radius_that_the_kernel_cannot_make() -> None:
    # corners 60 mm apart cannot both be 40 mm round
    slot = zone([[0, 0], [0.3, 0], [0.3, 0.06], [0, 0.06]], radius=0.04, floor_radius=0.005)
    with pytest.raises(SolveError, match="the CAD kernel cannot round it by 5 mm along the floor"):
        zone_solid(slot)
