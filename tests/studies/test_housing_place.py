# SPDX-License-Identifier: Apache-2.0
"""What other studies read from a housing, and numbers that were typed twice."""

import math
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from sumpwright.errors import InputError
from sumpwright.studies.feed import feed_of
from sumpwright.studies.housing_place import suction_with
from tests.studies.feed_job import FeedJob, feed_folder
from tests.studies.housing_job import SUCTION, HousingJob, housing_bodies, housing_folder

JOB = HousingJob()


def test_the_pickup_is_the_inlet_at_its_height_over_the_floor(tmp_path: Path) -> None:
    loaded, bodies = housing_bodies(tmp_path, JOB)
    assert bodies.new.rim is not None
    np.testing.assert_allclose(bodies.new.rim.centre, [0.15, 0.0, -0.09], atol=1e-12)
    assert bodies.new.rim.radius == pytest.approx(0.023)
    assert loaded.job.new.pickup is not None
    assert loaded.job.new.pickup.place == "floor"


def test_a_box_s_inlet_is_the_inside_of_its_walls(tmp_path: Path) -> None:
    retainer = "{thickness: 3 mm, thread: M3, at: [[38 mm, 28 mm], [-38 mm, -28 mm]], lug: 4 mm}"
    plan = "box: [80 mm, 60 mm]\n    radius: 8 mm"
    _, bodies = housing_bodies(tmp_path, replace(JOB, plan=plan, retainer=retainer))
    assert bodies.new.rim is not None
    # [closed-form] 72 x 52 mm with corners of 4 mm, less what 0.2 mm chords leave out
    exact = 0.072 * 0.052 - (4.0 - math.pi) * 0.004**2
    assert bodies.new.rim.area == pytest.approx(exact, rel=1e-3)
    assert bodies.new.rim.axis[2] == pytest.approx(-1.0)


def test_the_housing_takes_up_room_for_oil(tmp_path: Path) -> None:
    _, bodies = housing_bodies(tmp_path, JOB)
    (body,) = bodies.new.displacing
    assert bodies.new.displacing_names == ("pickup housing",)
    assert bodies.new.holds == pytest.approx(6e-3 - body.volume, rel=1e-9)
    # cup and flange of 54 and 46 mm are 15.7 cm^3; lugs of 4 mm and the socket come on top
    cup = math.pi * (0.027**2 * 0.022 - 0.023**2 * 0.020)
    assert cup < body.volume < 1.6 * cup


def test_a_feed_with_the_same_numbers_typed_by_hand_is_the_same(tmp_path: Path) -> None:
    area = 1e4 * math.pi * 0.023**2
    typed = FeedJob(
        tubes="[{bore: 18 mm, length: 300 mm}]",
        screen=f"{{pitch: 1.6 mm, wire: 0.4 mm, area: {area!r} cm^2}}",
        edge="    edge_radius: 2 mm\n",
        pickup="  pickup: {centre: [150 mm, 0 mm, -90 mm], diameter: 46 mm}\n",
        oil="low: 2 L, cold: 20 degC, hot: 100 degC, density_15: 868 kg/m^3",
        viscosity="{at: 40 degC, value: 96 mm^2/s}, {at: 100 degC, value: 14.4 mm^2/s}",
    )
    by_hand = feed_of(feed_folder(tmp_path / "typed", typed)).feed
    derived = feed_of(housing_folder(tmp_path / "housing", JOB)).feed
    for loss in ("screen_pa", "mouth_pa", "friction_pa"):
        assert getattr(derived.hot, loss) == pytest.approx(getattr(by_hand.hot, loss), rel=1e-12)
    assert derived.hot.screen_pa > 0.0
    assert derived.hot.mouth_pa > 0.0


def test_what_suction_says_itself_stays(tmp_path: Path) -> None:
    loaded, _ = housing_bodies(tmp_path, JOB)
    suction = loaded.job.new.suction
    assert suction is not None
    full = suction_with(suction, loaded.job.new.housing)
    assert full.edge_radius == pytest.approx(0.002)
    typed = suction.model_validate({**_typed(), "edge_radius": "1 mm"})
    assert suction_with(typed, loaded.job.new.housing).edge_radius == pytest.approx(0.001)
    assert suction_with(suction, None) is suction


def _typed() -> dict[str, object]:
    tubes = [{"bore": "18 mm", "length": "300 mm"}]
    return {"tubes": tubes, "pump_inlet": ["200 mm", "0 mm", "70 mm"]}


PICKUP = "  pickup: {{centre: [{x} mm, 0 mm, {z} mm], diameter: {d} mm{more}}}\n"


@pytest.mark.parametrize(
    ("changed", "key"),
    [
        ({"x": "151"}, "new.pickup.centre"),
        ({"z": "-91"}, "new.pickup.centre"),
        ({"d": "45"}, "new.pickup.diameter"),
        ({"more": ", facing: [1, 0, -1]"}, "new.pickup.facing"),
        ({"more": ", place: corner"}, "new.pickup.place"),
    ],
)
def test_a_typed_pickup_that_differs_is_refused(
    tmp_path: Path, changed: dict[str, str], key: str
) -> None:
    line = PICKUP.format(**{"x": "150", "z": "-90", "d": "46", "more": "", **changed})
    with pytest.raises(InputError) as caught:
        housing_bodies(tmp_path, replace(JOB, pan=line + SUCTION))
    (problem,) = caught.value.problems
    assert problem.code == "HOUS-501"
    assert problem.where.endswith(key)


def test_a_typed_pickup_that_agrees_is_taken(tmp_path: Path) -> None:
    line = PICKUP.format(x="150", z="-90", d="46", more="")
    _, bodies = housing_bodies(tmp_path, replace(JOB, pan=line + SUCTION))
    assert bodies.new.rim is not None


@pytest.mark.parametrize(
    ("old", "new", "key"),
    [
        ("bore: 18 mm", "bore: 17 mm", "new.suction.tubes.0.bore"),
        ("suction: {", "suction: {edge_radius: 3 mm, ", "new.suction.edge_radius"),
        (
            "suction: {",
            "suction: {screen: {pitch: 1.6 mm, wire: 0.4 mm, area: 16 cm^2}, ",
            "new.suction.screen.area",
        ),
        (
            "suction: {",
            "suction: {screen: {pitch: 1.5 mm, wire: 0.4 mm, area: 16.62 cm^2}, ",
            "new.suction.screen",
        ),
    ],
)
def test_a_suction_line_that_differs_is_refused(
    tmp_path: Path, old: str, new: str, key: str
) -> None:
    with pytest.raises(InputError) as caught:
        housing_bodies(tmp_path, replace(JOB, pan=SUCTION.replace(old, new)))
    (problem,) = caught.value.problems
    assert (problem.code, problem.where.split("  ")[-1]) == ("HOUS-501", key)


def test_over_floor_without_a_floor_is_refused(tmp_path: Path) -> None:
    with pytest.raises(InputError) as caught:
        housing_bodies(tmp_path, replace(JOB, centre="[290 mm, 0 mm]"))
    assert [p.code for p in caught.value.problems] == ["HOUS-508"]
