# SPDX-License-Identifier: Apache-2.0
"""The flange's plate and holes by closed forms, and what cannot be bolted."""

import math

import pytest

from sumpwright.geometry.cad_flange import (
    flange_prism,
    hole_rods,
    refuse_edge,
    refuse_flange,
    room_under,
)
from sumpwright.geometry.cad_measure import Solid, volume
from sumpwright.geometry.cad_solid import box
from sumpwright.geometry.pan_form import HoleForm, PanError, PanForm
from sumpwright.geometry.zone import Slope
from tests.geometry.zones import hole, pan, zone

FLANGE = 0.008


def of(*holes: HoleForm) -> PanForm:
    """A pan of 300 x 200 mm; its flange stands out 20 mm, its walls are 3 mm."""
    return pan(zone(), holes=holes)


def cavity(wide: float = 0.2) -> Solid:
    return box([0, 0, -0.1], [0.3, wide, 0])


def walls() -> Solid:
    return box([-0.003, -0.003, -0.104], [0.303, 0.203, 0])


def test_the_plate_is_its_outline_times_its_thickness() -> None:
    exact = (0.34 * 0.24 - (4.0 - math.pi) * 0.01**2) * FLANGE
    assert volume(flange_prism(of())) == pytest.approx(exact, rel=1e-9)


def test_drills_run_a_millimetre_out_on_both_sides() -> None:
    (drill,) = hole_rods(of(hole(-0.01, 0.1)))
    assert volume(drill) == pytest.approx(math.pi * 0.0033**2 * (FLANGE + 0.002), rel=1e-9)


def refuse(form: PanForm) -> None:
    refuse_edge(form)  # before anything is drawn
    refuse_flange(form, cavity(), walls(), flange_prism(form))


@pytest.mark.parametrize(
    ("x", "words"),
    [
        (-0.0168, "off the flange"),
        (-0.0166, ""),
        (-0.0064, ""),
        (-0.0062, "runs down into the wall"),
        (-0.0032, "breaks into the inside"),
    ],
)
def test_a_hole_keeps_clear_of_edge_wall_and_inside_by_its_radius(x: float, words: str) -> None:
    form = of(hole(x, 0.1, "7"))
    if not words:
        refuse(form)
        return
    with pytest.raises(PanError) as caught:
        refuse(form)
    (flaw,) = caught.value.flaws
    assert (flaw.code, flaw.part) == ("SHAP-508", ("holes", 0))
    assert flaw.found.endswith(words)


def test_an_inside_wider_than_the_flange_is_refused() -> None:
    form = of()
    with pytest.raises(PanError, match="runs out through the flange's edge"):
        refuse_flange(form, cavity(0.225), walls(), flange_prism(form))


@pytest.mark.parametrize(("left", "roof"), [(0.22, None), (0.219, None), (0.3, Slope(-0.03))])
def test_a_zone_open_to_the_rail_ends_within_the_flange(left: float, roof: Slope | None) -> None:
    corners = [[0.1, 0.1], [0.2, 0.1], [0.2, left], [0.1, left]]
    form = pan(zone(), zone(corners, roof=roof, name="wide"))
    if left == 0.22:  # where the flange ends
        with pytest.raises(PanError) as caught:
            refuse_edge(form)
        (flaw,) = caught.value.flaws
        assert (flaw.code, flaw.part) == ("SHAP-513", ("zones", 1))
        assert flaw.found.startswith("wide: an inside that runs out through the flange's edge, 0.0")
    else:
        refuse_edge(form)


def test_tools_reach_the_bolts_that_the_wall_leaves_clear() -> None:
    form = of(hole(-0.0095, 0.1, "1"), hole(-0.0055, 0.1, "2"))
    # walls end at 3 mm, so that a head of 5 mm round the first is 1.5 mm clear of them
    assert room_under(form, walls(), 0.015, 0.005) == (1,)
    assert room_under(form, walls(), 0.015, 0.007) == (0, 1)
    assert room_under(of(hole(-0.0095, 0.1)), walls(), 0.015, 0.005) == ()
