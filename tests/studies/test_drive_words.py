# SPDX-License-Identifier: Apache-2.0
"""What a drive takes for granted is said, and nothing that it does not."""

from pathlib import Path

from sumpwright.studies.asked import Asked
from sumpwright.studies.drive_words import drive_assumptions
from sumpwright.studies.hold_words import hold_map_assumptions
from tests.studies.baffled_job import WALL
from tests.studies.motion_job import ENGINE, MotionJob, motion_parts, motion_run

STAND = {"uphill": "nose", "slope": "0 deg", "duration": "1 s"}
LINES = ENGINE.splitlines()
OIL = "[{at: 20 degC, value: 60 mm^2/s}, {at: 100 degC, value: 8 mm^2/s}]"
LINE = "  suction: {tubes: [{bore: 19 mm, length: 350 mm}], pump_inlet: [200 mm, 0 mm, 70 mm]}\n"


def said(folder: Path, job: MotionJob, **options: str) -> str:
    parts = motion_parts(folder, job)
    done = motion_run(parts, Asked("hill", {**STAND, **options}))
    return "\n".join(drive_assumptions(parts[0].job, parts[1], done))


def test_surfaces_openings_and_springs_are_always_said(tmp_path: Path) -> None:
    text = said(tmp_path, MotionJob())
    assert "surface is a plane that swings as the first wave" in text
    assert "waves that break, run along walls or splash over a panel are not in it" in text
    assert "sharp edges, 0.61, unless the job says more" in text
    assert "roll and dive of the body on its springs are not added" in text


def test_oil_of_unknown_viscosity_and_oil_that_does_not_fit(tmp_path: Path) -> None:
    text = said(tmp_path / "plain", MotionJob(fill="6.5 L"))
    assert "The oil's viscosity is taken as 12 mm²/s, usual for hot oil (common practice)." in text
    assert "0.50 L of the fill do not fit under the top of the oil space" in text
    known = said(tmp_path / "known", MotionJob(viscosity=OIL))
    assert "12 mm²/s" not in known
    assert "do not fit" not in known


def test_an_engine_that_nothing_is_known_of_draws_nothing(tmp_path: Path) -> None:
    text = said(tmp_path, MotionJob())
    assert "No engine speed is known: the pump draws nothing" in text
    assert "Oil stays up" not in text


def test_how_long_oil_stays_up_comes_from_the_curves(tmp_path: Path) -> None:
    """0.6 L at 36 L/min is 1 s; 0.9 L at 6000 rpm would be 1.5 s there."""
    text = said(tmp_path / "one", MotionJob(more=ENGINE))
    assert "for the retained amount over the pump's flow (1.0 s)" in text
    assert "Oil comes home evenly over the rail's opening" in text
    lag = said(tmp_path / "lag", MotionJob(more=ENGINE + "  return_lag: 2 s\n"))
    assert "retained amount over" not in lag


def test_a_lag_of_common_practice_is_said_with_what_it_holds_up(tmp_path: Path) -> None:
    text = said(tmp_path, MotionJob(fill="4 L", more="\n".join(LINES[:3]) + "\n"))
    assert (
        "How much oil is up in the engine is not known: it is taken to stay there for 1.5 s "
        "(common practice), 0.90 L at the most."
    ) in text  # 36 L/min for 1.5 s


def test_without_what_the_pump_draws_oil_stays_where_it_is(tmp_path: Path) -> None:
    held = said(tmp_path / "held", MotionJob(more="\n".join([*LINES[:2], LINES[3]]) + "\n"))
    assert (
        "What the pump draws is not known: it is taken as nothing, and what is up in the engine "
        "stays there."
    ) in held
    none = said(tmp_path / "none", MotionJob(more="engine: {rpm: 6000 rpm}\n"))
    assert "What the pump draws is not known: it is taken as nothing." in none


def test_returns_that_are_placed_are_not_said_to_be_even(tmp_path: Path) -> None:
    placed = "  returns: [{name: drain, at: [150 mm, 0 mm, 10 mm], share: 100 %}]\n"
    assert "evenly over the rail" not in said(tmp_path, MotionJob(more=ENGINE + placed))


def test_the_inlet_without_a_line_and_air_beforehand(tmp_path: Path) -> None:
    text = said(tmp_path / "bare", MotionJob(more=ENGINE))
    assert "Inlet pressure is that at the pickup's mouth: no `new.suction` is given." in text
    assert "Air in the oil before it reaches the pickup is not known and not counted." in text
    assert "at the pickup's mouth" not in said(
        tmp_path / "line", MotionJob(pan=LINE, viscosity=OIL, more=ENGINE)
    )
    assert "Air in the oil" not in said(tmp_path / "none", MotionJob(pickup="", more=ENGINE))


def test_hold_maps_say_when_all_four_are_one_pan(tmp_path: Path) -> None:
    bare = motion_parts(tmp_path / "bare", MotionJob())[0].job
    walled = motion_parts(tmp_path / "walled", MotionJob(pan=f"  baffles:\n{WALL}"))[0].job
    assert any("all four maps are the same pan" in text for text in hold_map_assumptions(bare))
    assert not any("all four maps" in text for text in hold_map_assumptions(walled))
    assert "comes on at 30 m/s³" in hold_map_assumptions(bare)[0]
