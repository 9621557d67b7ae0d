# SPDX-License-Identifier: Apache-2.0
"""The housing study: solids against formulas, areas on the oil's way, room in the pan."""

import json
import math
from dataclasses import replace
from pathlib import Path

import pytest

from sumpwright.errors import InputError
from sumpwright.geometry.cad_measure import volume
from sumpwright.oil.density import density
from sumpwright.oil.viscosity import kinematic_viscosity, viscosity_line
from sumpwright.oil.weave import woven_loss
from sumpwright.studies.housing import housing_of
from sumpwright.studies.housing_result import HousingResult
from tests.studies.box_job import box_job
from tests.studies.housing_job import ENGINE, RETAINER, SOCKET, HousingJob, housing_folder

JOB = HousingJob()
WIDE = replace(
    JOB,
    retainer=RETAINER.replace("{", "{diameter: 72 mm, ").replace("thickness: 3", "thickness: 4"),
)
WALL = """\
  baffles:
    - name: wall
      at: [{x} mm, 0 mm, 0 mm]
      normal: [1, 0, 0]
      thickness: 2 mm
      openings:
        - name: flap
          centre: [0 mm, -80 mm]
          width: 40 mm
          height: 30 mm
          door: {{ hinge: top, opens: ahead, stop: 90 deg }}
"""


def made(folder: Path, job: HousingJob) -> HousingResult:
    return housing_of(housing_folder(folder, job))


def codes(result: HousingResult) -> list[str]:
    return [f.code for f in result.findings]


def test_the_flange_is_a_ring_plate_with_holes(tmp_path: Path) -> None:
    plate = made(tmp_path, WIDE).solids[1]
    # [closed-form] 72 mm outside, 46 mm inside, four holes of 4.5 mm (ISO 273 medium, M4)
    exact = 0.004 * math.pi * (0.036**2 - 0.023**2 - 4 * 0.00225**2)
    assert plate.key == "retaining-flange"
    assert plate.volume_m3 == pytest.approx(exact, rel=1e-9)
    assert plate.mass_kg == pytest.approx(2700.0 * exact, rel=1e-9)
    assert plate.size_m == pytest.approx((0.072, 0.072, 0.004), abs=1e-9)


def test_the_screen_blank_is_a_disc_of_two_wires_thickness(tmp_path: Path) -> None:
    blank = made(tmp_path, JOB).solids[2]
    assert blank.volume_m3 == pytest.approx(math.pi * 0.025**2 * 0.0008, rel=1e-9)
    # two layers of 0.4 mm wire at 1.6 mm, stainless steel of 7900 kg/m^3
    wire = 2.0 * 0.25 * math.pi * 0.0004**2 / 0.0016
    assert blank.mass_kg == pytest.approx(7900.0 * math.pi * 0.025**2 * wire, rel=1e-12)


def test_the_housing_is_a_cup_with_lugs_and_a_socket(tmp_path: Path) -> None:
    """[closed-form] Without lugs outside the wall, seat or thread: cup, socket, rounded hole."""
    job = replace(JOB, screen="", retainer="")
    (solid,) = made(tmp_path, job).solids
    cup = math.pi * (0.027**2 * 0.022 - 0.023**2 * 0.020)
    # the shoulder is the roof's 2 mm, so the socket stands 8 mm over it, 27 mm across
    socket = math.pi * (0.0135**2 - 0.0105**2) * 0.008
    edge = 0.002
    corner = (1.0 - math.pi / 4.0) * edge**2
    off = (1.0 / 2.0 - (math.pi / 4.0 - 1.0 / 3.0)) / (1.0 - math.pi / 4.0) * edge
    hole = math.pi * 0.009**2 * 0.002 + 2.0 * math.pi * (0.009 + off) * corner
    assert solid.volume_m3 == pytest.approx(cup + socket - hole, rel=1e-6)
    assert volume(solid.body) == pytest.approx(solid.volume_m3)


SLOT = (
    "outline: [{at: [135 mm, -27 mm], through: [108 mm, 0 mm]}, {at: [165 mm, -27 mm]}, "
    "{at: [165 mm, 27 mm], through: [192 mm, 0 mm]}, {at: [135 mm, 27 mm]}]"
)


def test_an_outline_of_lines_and_arcs_becomes_a_cup(tmp_path: Path) -> None:
    """[closed-form] A slot of 30 mm between its half circles, walls of 4 mm, a roof of 2 mm."""
    socket = "{tube: 21 mm, bore: 18 mm, depth: 8 mm}"
    job = replace(JOB, plan=SLOT, screen="", retainer="", socket=socket)
    result = made(tmp_path, job)
    outer, inner = (math.pi * r * r + 2.0 * r * 0.03 for r in (0.027, 0.023))
    cup = outer * 0.022 - inner * 0.020 - math.pi * 0.009**2 * 0.002
    tube = math.pi * (0.0135**2 - 0.0105**2) * 0.008
    (solid,) = result.solids
    assert solid.volume_m3 == pytest.approx(cup + tube, rel=1e-9)
    assert result.face_m2 == pytest.approx(inner, rel=1e-12)
    assert result.curtain_m2 == pytest.approx((2 * math.pi * 0.023 + 0.06) * 0.010, rel=1e-9)
    assert solid.size_m == pytest.approx((0.084, 0.054, 0.030), abs=1e-6)


def test_areas_on_the_oil_s_way_are_those_of_the_formulas(tmp_path: Path) -> None:
    result = made(tmp_path, JOB)
    assert result.tube_m2 == pytest.approx(math.pi * 0.009**2)
    assert result.face_m2 == pytest.approx(math.pi * 0.023**2)
    assert result.open_m2 == pytest.approx(math.pi * 0.023**2 * (1.2 / 1.6) ** 2)  # (1 - d/p)^2
    assert result.over_floor_m == pytest.approx(0.010)
    assert result.curtain_m2 == pytest.approx(math.pi * 0.046 * 0.010)
    assert result.inside_m2 == pytest.approx(math.pi * 0.018 * (0.022 - 0.002 - 0.003 - 0.0008))
    assert result.low_profile == pytest.approx(22 / 46)


def test_the_screen_s_loss_is_that_of_the_weave_at_the_job_s_flow(tmp_path: Path) -> None:
    hot, cold = made(tmp_path, JOB).screen
    line = viscosity_line(nu_1=96e-6, t_1=313.15, nu_2=14.4e-6, t_2=373.15)
    flow = 10e-6 * 3000 / 60  # 10 cm^3 a turn at 3000 rpm
    for point, t, q in ((hot, 373.15, flow), (cold, 293.15, flow / 2)):  # cold at 1500 rpm
        loss = woven_loss(
            q / (math.pi * 0.023**2),
            viscosity=kinematic_viscosity(line, t),
            density=density(868.0, t),
            pitch=0.0016,
            wire=0.0004,
        )
        assert point.flow_m3_s == pytest.approx(q)
        assert point.loss_pa == pytest.approx(float(loss), rel=1e-9)
    assert cold.loss_pa > hot.loss_pa


def test_the_low_mark_s_cover_is_worked_by_hand(tmp_path: Path) -> None:
    result = made(tmp_path, JOB)
    # 2 L cold, hot by the oil's own expansion, over 60 L a metre, and what the housing displaces
    hot = 2e-3 * float(density(868.0, 293.15) / density(868.0, 373.15))
    level = -0.1 + (hot + result.displaced_m3) / 0.06
    assert result.low_cover_m == pytest.approx(level - -0.09, abs=2e-5)


NO_FLOOR = "requirements: {floor_gap: off}\n"


@pytest.mark.parametrize(
    ("job", "code", "words"),
    [
        (replace(JOB, inlet="inlet: -60 mm"), "HOUS-514", "above the oil at the low mark"),
        (replace(JOB, inlet="over_floor: 0.1 mm"), "HOUS-520", "its rim is 0.1 mm over the floor"),
        (replace(JOB, inlet="over_floor: 5.9 mm"), "HOUS-520", "its rim is 5.9 mm over the floor"),
        (
            replace(JOB, inlet="over_floor: 0.9 mm", end=NO_FLOOR),
            "HOUS-521",
            "0.90 mm from floor and walls",
        ),
        # lugs of 4 mm round bolts 29 mm out at 45 degrees, the wall at x 0
        (replace(JOB, centre="[27.4 mm, 0 mm]"), "HOUS-521", "0.40 mm from floor and walls"),
    ],
)
def test_where_it_cannot_draw_or_as_good_as_touches_is_not_met(
    tmp_path: Path, job: HousingJob, code: str, words: str
) -> None:
    result = made(tmp_path, job)
    assert result.verdict == "not met"
    (decides,) = [f for f in result.findings if f.severity == "error"]
    assert result.findings[0] is decides
    assert decides.code == code
    assert words in decides.found


@pytest.mark.parametrize(
    ("inlet", "end"), [("over_floor: 6 mm", ""), ("over_floor: 1 mm", NO_FLOOR)]
)
def test_as_far_off_the_floor_as_the_job_asks_is_met(tmp_path: Path, inlet: str, end: str) -> None:
    result = made(tmp_path, replace(JOB, inlet=inlet, end=ENGINE + end))
    assert result.verdict == "met", result.findings


@pytest.mark.parametrize(
    ("job", "place"),
    [
        (replace(JOB, retainer=RETAINER.replace("thickness: 3", "thickness: 0.1")),
         "retaining flange"),
        (replace(JOB, roof="0.9 mm"), "roof"),
        (replace(JOB, socket=SOCKET.replace("{", "{wall: 0.5 mm, ")), "socket"),
    ],
)  # fmt: skip
def test_metal_too_thin_to_make_is_a_note(tmp_path: Path, job: HousingJob, place: str) -> None:
    assert "HOUS-522" not in codes(made(tmp_path / "plain", JOB))
    result = made(tmp_path / "thin", job)
    assert [f.place for f in result.findings if f.code == "HOUS-522"] == [place]
    assert result.verdict == "met"


def test_gaps_to_floor_walls_and_a_baffle_are_exact(tmp_path: Path) -> None:
    result = made(tmp_path, replace(JOB, pan=WALL.format(x=100), end=""))
    gaps = {room.what: room.gap_m for room in result.room}
    assert gaps["floor and walls"] == pytest.approx(0.010, abs=1e-9)
    # the housing's rear is at 150 - 27 mm, the sheet's face at 101; lugs stand at 45 degrees
    assert gaps["baffle 'wall'"] is None or gaps["baffle 'wall'"] > 0.0199
    assert result.verdict == "not met"  # the door's 30 mm reach from 100 to over 123 mm
    assert gaps["swing of 'flap' of wall"] == 0.0
    assert "HOUS-513" in codes(result)


def test_far_enough_ahead_the_door_swings_free(tmp_path: Path) -> None:
    result = made(tmp_path, replace(JOB, pan=WALL.format(x=80), end=""))
    gaps = {room.what: room.gap_m for room in result.room}
    assert result.verdict == "met"
    # hinge at x 80, z -65; the roof's edge at x 123, z -68; the flap reaches 30 mm and 2 mm on;
    # the sweep is drawn round its arc, 10 um outside it at most
    exact = math.hypot(0.043, 0.003) - 0.032
    assert gaps["swing of 'flap' of wall"] == pytest.approx(exact, abs=1.2e-5)


@pytest.mark.parametrize(
    ("job", "code"),
    [
        (replace(JOB, inlet="inlet: -99 mm", centre="[26 mm, 0 mm]"), "HOUS-511"),
        (replace(JOB, pan=WALL.format(x=130), end=""), "HOUS-512"),
    ],
)
def test_what_it_strikes_is_named(tmp_path: Path, job: HousingJob, code: str) -> None:
    result = made(tmp_path, job)
    assert code in codes(result)
    assert result.verdict == "not met"


@pytest.mark.parametrize(
    ("job", "code"),
    [
        (replace(JOB, retainer=RETAINER.replace("{", "{engagement: 5 mm, ")), "HOUS-515"),
        (replace(JOB, screen="{hole: 1 mm, open_area: 20 %, thickness: 0.5 mm}"), "HOUS-516"),
        (replace(JOB, inlet="over_floor: 1.5 mm", end=ENGINE + NO_FLOOR), "HOUS-517"),
        (replace(JOB, height="48 mm"), "HOUS-518"),
        (replace(JOB, more="    made: printed\n"), "HOUS-519"),
    ],
)
def test_practice_that_is_not_kept_is_a_note(tmp_path: Path, job: HousingJob, code: str) -> None:
    plain = made(tmp_path / "plain", JOB)
    assert code not in codes(plain)
    result = made(tmp_path / "odd", job)
    assert code in codes(result)
    assert result.verdict == "met"


def test_an_inlet_under_the_floor_is_refused(tmp_path: Path) -> None:
    with pytest.raises(InputError) as caught:
        made(tmp_path, replace(JOB, inlet="inlet: -110 mm"))
    (problem,) = caught.value.problems
    assert (problem.code, problem.where.split("  ")[-1]) == ("JOB-153", "new.housing")


def test_screws_reach_their_thread(tmp_path: Path) -> None:
    bolts = made(tmp_path, JOB).bolting
    assert bolts is not None
    # 3 mm of flange and 6 mm of M4 thread: the next screw sold is 10 mm
    assert (bolts.thread, bolts.count) == ("M4", 4)
    assert bolts.length_m == pytest.approx(0.010)
    assert bolts.engagement_m == pytest.approx(0.007)


def test_the_parts_list_knows_the_shelf_and_the_prices(tmp_path: Path) -> None:
    shop = (
        "shop:\n  machine: {name: mill, travel: [500 mm, 400 mm, 400 mm], price_hour: 60}\n"
        "  stock:\n"
        "    - {name: bar end, size: [80 mm, 80 mm, 40 mm], price: 9,"
        " material: aluminium 6082-T6}\n"
        "    - {name: big, size: [200 mm, 90 mm, 50 mm], price: 40,"
        " material: aluminium 6082-T6}\n"
        "  prices: {removal: 30 cm^3/min}\n"
    )
    result = made(tmp_path, replace(JOB, end=shop))
    housing, flange, screen, screws = result.parts()
    assert (housing.stock, flange.stock) == ("bar end", "bar end")
    assert housing.stock_mass == pytest.approx(2700.0 * 0.08 * 0.08 * 0.04)
    sides = [s + 0.002 for s in result.solids[0].size_m]
    removed = math.prod(sides) - result.solids[0].volume_m3
    assert housing.cost == pytest.approx(9.0 + removed / 30e-6)  # a minute for 30 cm^3 costs 1
    assert (screen.how, screws.how, screws.count) == ("woven", "bought", 4)
    assert screws.name == "ISO 4762 M4 x 10"


def test_as_json_holds_numbers_only(tmp_path: Path) -> None:
    said = json.loads(json.dumps(made(tmp_path, JOB).as_json(), allow_nan=False))
    assert [s["key"] for s in said["solids"]] == [
        "pickup-housing",
        "retaining-flange",
        "screen-blank",
    ]
    assert "body" not in said["solids"][0]


def test_a_job_without_a_housing_is_told_so(tmp_path: Path) -> None:
    with pytest.raises(InputError) as caught:
        housing_of(box_job(tmp_path))
    assert [p.code for p in caught.value.problems] == ["HOUS-509"]
