# SPDX-License-Identifier: Apache-2.0
"""A pan's solids: closed forms, sums, and everything that cannot be made, by its code."""

import math

import pytest

from sumpwright.geometry.cad_measure import bounds, volume
from sumpwright.geometry.cad_pan import PanSolids, pan_solids
from sumpwright.geometry.level import level_body
from sumpwright.geometry.pan_form import PanError
from sumpwright.geometry.zone import Slope
from tests.geometry.zones import hole, pan, plug, sweep, zone

SUM = 1e-6  # relative: the kernel's edge tolerances
KICK = [[0.2, 0.15], [0.28, 0.15], [0.28, 0.3], [0.2, 0.3]]
"""Out under the flange's left side, from within the well."""


def codes(form: object) -> list[tuple[str, tuple[str | int, ...]]]:
    """What keeps a pan from being made."""
    with pytest.raises(PanError) as caught:
        pan_solids(form)
    return [(f.code, f.part) for f in caught.value.flaws]


@pytest.fixture(scope="module")
def plain() -> PanSolids:
    """A square well with sharp edges."""
    return pan_solids(pan(zone(), holes=(hole(-0.01, 0.1),)))


def test_the_outside_is_the_inside_with_its_walls_and_flange(plain: PanSolids) -> None:
    assert volume(plain.cavity) == pytest.approx(0.3 * 0.2 * 0.1, rel=1e-9)
    corners = (4 - math.pi) * 0.003**2 * 0.096  # upright ones, round about sharp ones inside
    low = plain.outside_mesh.bounds[0, 2]
    assert low == pytest.approx(-0.104, abs=1e-9)
    # walls under the flange, less their rounded corners and floor edges: 3 mm all along
    d = 0.003
    plan, around = 0.306 * 0.206 - (4 - math.pi) * d**2, 2 * 0.512 - (8 - 2 * math.pi) * d
    below = (
        plan * 0.096 - around * d**2 * (1 - math.pi / 4) + math.pi * d**3 * (5 / 3 - math.pi / 2)
    )
    flange = (0.34 * 0.24 - (4 - math.pi) * 0.01**2 - math.pi * 0.0033**2) * 0.008
    assert corners > 0.0
    assert volume(plain.outside) == pytest.approx(below + flange, rel=SUM)


def test_metal_is_outside_less_inside(plain: PanSolids) -> None:
    rest = volume(plain.outside) - volume(plain.cavity)
    assert volume(plain.body) == pytest.approx(rest, rel=SUM)


def test_the_level_engine_agrees_with_the_kernel() -> None:
    made = pan_solids(pan())
    level = level_body(made.cavity_mesh).volume
    assert level == pytest.approx(volume(made.cavity), rel=1e-4)  # chords of 5e-5 m


def test_a_boss_takes_from_the_inside_and_its_hole_from_the_metal() -> None:
    inner = 0.012  # how far the boss stands up in the well
    bare = pan_solids(pan(zone()))
    made = pan_solids(pan(zone(), bosses=(plug(0.1, 0.1, -0.112, (0, 0, -1), 0.012 + inner),)))
    disc, bore = math.pi * 0.012**2, math.pi * 0.00625**2
    assert volume(bare.cavity) - volume(made.cavity) == pytest.approx(disc * inner, rel=SUM)
    metal = volume(made.body) - volume(bare.body)
    added = disc * (0.008 + inner) - bore * (0.008 + 0.004 + inner)
    assert metal == pytest.approx(added, rel=1e-5)  # a small difference of large volumes
    assert bounds(made.outside)[0, 2] == pytest.approx(-0.112, abs=1e-6)


def test_crank_and_rods_are_given_room_where_they_have_none() -> None:
    shallow = zone(floor=Slope(-0.02))
    r, h = 0.06, 0.03
    made = pan_solids(pan(shallow, relief=sweep(h, r)))
    # of the disc, the segment below the floor: it reaches 30 mm below the rail
    d = h + 0.02
    segment = r**2 * math.acos(d / r) - d * math.sqrt(r**2 - d**2)
    assert made.relieved == pytest.approx(segment * 0.2, rel=SUM)
    # as thick below as the floor, 4 mm
    assert bounds(made.outside)[0, 2] == pytest.approx(-(r + 0.004 - h), abs=1e-6)
    deep = pan_solids(pan(zone(), relief=sweep(h, r)))
    assert deep.relieved == 0.0


def test_the_crank_s_room_is_no_thinner_than_the_wall() -> None:
    thick = sweep(0.03, 0.06).grown(0.005, 0.004)
    assert thick.radius == pytest.approx(0.065)
    assert (thick.start[0], thick.end[0]) == pytest.approx((0.045, 0.255))


def test_refuses_a_zone_apart() -> None:
    far = zone([[0.4, 0], [0.5, 0], [0.5, 0.1], [0.4, 0.1]], roof=Slope(-0.03), name="far")
    with pytest.raises(PanError) as caught:
        pan_solids(pan(zone(), far))
    (flaw,) = caught.value.flaws
    assert (flaw.code, flaw.part) == ("SHAP-506", ("zones", 1))
    assert flaw.found.startswith("far, from x 400.0 to 500.0 mm and y 0.0 to 100.0 mm, meets none")


def test_a_kick_out_under_the_flange_is_no_hole_in_it() -> None:
    kick = zone(KICK, floor=Slope(-0.1), roof=Slope(-0.03))
    made = pan_solids(pan(zone(), kick, holes=(hole(0.24, 0.21),)))
    assert bounds(made.cavity)[1, 1] == pytest.approx(0.3, abs=1e-6)


def test_refuses_an_inside_that_runs_off_the_flange() -> None:
    wide = zone([[0.1, 0.1], [0.2, 0.1], [0.2, 0.3], [0.1, 0.3]], name="wide")
    with pytest.raises(PanError) as caught:
        pan_solids(pan(zone(), wide))
    (flaw,) = caught.value.flaws
    assert (flaw.code, flaw.part) == ("SHAP-513", ("zones", 1))
    # the flange ends at y 220 mm
    assert flaw.found.startswith("wide: an inside that runs out through the flange's edge, 80.0 mm")


def test_refuses_a_relief_through_the_flange() -> None:
    found = codes(pan(zone(floor=Slope(-0.02)), relief=sweep(0.0, 0.13)))
    assert found == [("SHAP-513", ("relief",))]


@pytest.mark.parametrize(
    ("x", "y", "words"),
    [
        (0.33, 0.1, "off the flange"),
        (0.319, 0.1, "off the flange"),
        (0.3, 0.1, "breaks into the inside"),
        (0.305, 0.1, "runs down into the wall"),
    ],
)
def test_refuses_a_bolt_hole_where_it_cannot_be(x: float, y: float, words: str) -> None:
    form = pan(zone(), holes=(hole(-0.01, 0.1), hole(x, y, "7")))
    with pytest.raises(PanError) as caught:
        pan_solids(form)
    (flaw,) = caught.value.flaws
    assert (flaw.code, flaw.part) == ("SHAP-508", ("holes", 1))
    assert flaw.found.startswith("hole 7 at x")
    assert flaw.found.endswith(words)


@pytest.mark.parametrize(
    ("boss", "code"),
    [
        (plug(0.1, 0.1, -0.2, (0, 0, -1), 0.02), "SHAP-509"),  # off the pan
        (plug(0.1, 0.1, -0.05, (0, 0, -1), 0.02), "SHAP-509"),  # its face in the inside
        (plug(0.15, 0.31, -0.004, (0, 1, 0), 0.01), "SHAP-509"),  # its hole ends in the open
        (plug(0.1, 0.21, -0.05, (0, 1, 0), 0.25), "SHAP-510"),  # out of the other side
        (plug(0.02, 0.21, -0.094, (0, 1, 0), 0.05), "ok"),
    ],
)
def test_refuses_a_boss_where_it_cannot_be(boss: object, code: str) -> None:
    form = pan(zone(), bosses=(boss,))
    if code == "ok":
        assert volume(pan_solids(form).body) > 0.0
    else:
        assert codes(form) == [(code, ("bosses", 0))]


def test_refuses_a_boss_that_parts_the_inside() -> None:
    slot = zone([[0, 0], [0.3, 0], [0.3, 0.02], [0, 0.02]], floor=Slope(-0.015))
    thick = plug(0.15, 0.01, -0.03, (0, 0, -1), 0.03)
    assert codes(pan(slot, bosses=(thick,))) == [("SHAP-510", ("bosses", 0))]


def test_names_the_zone_that_cannot_be_rounded() -> None:
    slot = zone([[0, 0], [0.3, 0], [0.3, 0.06], [0, 0.06]], radius=0.04, floor_radius=0.005)
    assert ("SHAP-504", ("zones", 0)) in codes(pan(slot))
