# SPDX-License-Identifier: Apache-2.0
"""Numbers of a housing that cannot be made: one sentence each, at its place."""

from dataclasses import replace
from pathlib import Path

import pytest

from sumpwright.errors import InputError
from sumpwright.studies.housing import housing_of
from tests.studies.housing_job import (
    RETAINER,
    SOCKET,
    HousingJob,
    housing_bodies,
    housing_folder,
)

JOB = HousingJob()
SIDE = "{leaves: side, tube: 14 mm, bore: 12 mm, depth: 8 mm, direction: 30 deg}"
OUTLINE = (
    "outline: [{at: [110 mm, -30 mm]}, {at: [190 mm, 30 mm]}, {at: [190 mm, -30 mm]}, "
    "{at: [110 mm, 30 mm]}]"
)
ARC = (
    "outline: [{at: [110 mm, -30 mm]}, {at: [190 mm, -30 mm]}, "
    "{at: [190 mm, 30 mm], through: [190 mm, 0 mm]}, {at: [110 mm, 30 mm]}]"
)
WAIST = (
    "outline: [{at: [110 mm, -30 mm]}, {at: [190 mm, -30 mm]}, {at: [190 mm, 30 mm]}, "
    "{at: [153 mm, 30 mm]}, {at: [110 mm, 30 mm], through: [131 mm, -23 mm]}]"
)


@pytest.mark.parametrize(
    ("job", "code", "place"),
    [
        (replace(JOB, wall="27 mm"), "HOUS-502", "new.housing.diameter"),
        (replace(JOB, plan=OUTLINE), "HOUS-502", "new.housing.outline"),
        (replace(JOB, plan=ARC), "HOUS-502", "new.housing.outline"),
        (replace(JOB, plan=WAIST), "HOUS-502", "new.housing.outline"),
        (replace(JOB, height="5 mm"), "HOUS-503", "new.housing.height"),
        (replace(JOB, more="    lap: 4 mm\n"), "HOUS-504", "new.housing.lap"),
        (
            replace(JOB, retainer=RETAINER.replace("{", "{opening: 48 mm, ")),
            "HOUS-505",
            "new.housing.retainer.opening",
        ),
        (
            replace(JOB, retainer=RETAINER.replace("circle: 58 mm", "circle: 48 mm")),
            "HOUS-506",
            "new.housing.retainer.circle",
        ),
        (
            replace(JOB, retainer=RETAINER.replace("{", "{diameter: 62 mm, ")),
            "HOUS-506",
            "new.housing.retainer.circle",
        ),
        (
            replace(JOB, retainer=RETAINER.replace("{", "{engagement: 17 mm, ")),
            "HOUS-506",
            "new.housing.retainer.engagement",
        ),
        (
            replace(JOB, retainer=RETAINER.replace("circle: 58 mm", "circle: 80 mm")),
            "HOUS-506",
            "new.housing.retainer.circle",
        ),
        (
            replace(JOB, socket=SOCKET.replace("tube: 21", "tube: 18")),
            "HOUS-507",
            "new.housing.socket.tube",
        ),
        (
            replace(JOB, socket=SOCKET.replace("tube: 21", "tube: 55")),
            "HOUS-507",
            "new.housing.socket.tube",
        ),
        (
            replace(JOB, socket=SOCKET.replace("{", "{offset: [14 mm, 0 mm], ")),
            "HOUS-507",
            "new.housing.socket.bore",
        ),
        (
            replace(JOB, socket=SIDE, height="18 mm", pan=""),
            "HOUS-507",
            "new.housing.socket.leaves",
        ),
    ],
)
def test_what_cannot_be_made_is_one_sentence_at_its_place(
    tmp_path: Path, job: HousingJob, code: str, place: str
) -> None:
    with pytest.raises(InputError) as caught:
        housing_bodies(tmp_path, job)
    found = [(p.code, p.where.split("  ")[-1]) for p in caught.value.problems]
    assert (code, place) in found, caught.value
    assert all(p.code.startswith("HOUS-50") for p in caught.value.problems)


def test_numbers_alone_are_refused_before_the_pan_is_read(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def never(*_: object) -> None:
        raise AssertionError("read")

    monkeypatch.setattr("sumpwright.studies.housing.read_bodies", never)
    with pytest.raises(InputError, match="HOUS-503"):
        housing_of(housing_folder(tmp_path, replace(JOB, height="5 mm")))


def test_a_wire_as_thick_as_its_pitch_is_refused_at_its_key(tmp_path: Path) -> None:
    with pytest.raises(InputError, match=r"new.housing.screen.wire  \[JOB-149\]"):
        housing_bodies(tmp_path, replace(JOB, screen="{pitch: 0.4 mm, wire: 0.4 mm}"))


def test_a_bolt_within_the_inside_says_how_far(tmp_path: Path) -> None:
    # 10 mm out; the inside's radius is 23 mm, the thread's hole 3.3 mm wide
    job = replace(JOB, retainer=RETAINER.replace("circle: 58", "circle: 20"))
    with pytest.raises(InputError, match=r"its thread is 14\.\d mm within the inside"):
        housing_bodies(tmp_path, job)


def test_a_bolt_in_the_screen_says_by_how_much(tmp_path: Path) -> None:
    # bolts at 28.5 mm with holes of 4.5 mm, the screen's edge at 25 + 1.9: 0.65 mm
    job = replace(
        JOB, more="    lap: 3.9 mm\n", retainer=RETAINER.replace("circle: 58", "circle: 57")
    )
    with pytest.raises(InputError, match=r"bolt 1: its hole runs 0\.\d mm into the screen"):
        housing_bodies(tmp_path, job)


@pytest.mark.parametrize("key", ["inlet: -90 mm\n    over_floor: 10 mm", "wall: 3 mm"])
def test_a_housing_has_one_height_and_one_plan(tmp_path: Path, key: str) -> None:
    job = replace(JOB, inlet=key) if "inlet" in key else replace(JOB, plan="radius: 3 mm")
    with pytest.raises(InputError) as caught:
        housing_bodies(tmp_path, job)
    assert caught.value.problems[0].code == "JOB-108"


def test_a_screen_needs_something_that_holds_it(tmp_path: Path) -> None:
    with pytest.raises(InputError, match="a `retainer` for the `screen`"):
        housing_bodies(tmp_path, replace(JOB, retainer=""))
