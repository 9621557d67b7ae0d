# SPDX-License-Identifier: Apache-2.0
"""What a job takes for granted is said, and only what it does."""

from pathlib import Path

from tests.studies.test_clearance import checked

ROLL = "movement: [{name: torque, roll: 5 deg}]\n"
CRANK = "engine: {crank_sweep: {height: 60 mm, radius: 40 mm, front: 100 mm, rear: 0 mm}}\n"


def said(folder: Path, more: str = "") -> str:
    return " ".join(checked(folder, more).assumptions)


def test_an_engine_that_never_moves_is_said(tmp_path: Path) -> None:
    assert "No engine movement is given" in said(tmp_path / "a")
    assert "No engine movement is given" not in said(tmp_path / "b", ROLL)


def test_a_roll_about_an_unknown_crank_line_is_said(tmp_path: Path) -> None:
    assert "rolled about the middle of the pan rail" in said(tmp_path / "a", ROLL)
    assert "rolled about the middle" not in said(tmp_path / "b", ROLL + CRANK)


def test_what_ground_clearance_leaves_out_is_said(tmp_path: Path) -> None:
    assert "load, tyres and the car's own roll and dive are not taken off" in said(tmp_path)
