# SPDX-License-Identifier: Apache-2.0
"""Hold maps of box pans: statics by hand all round, sides by symmetry, and what is kept."""

import json
import math
from dataclasses import replace
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from sumpwright.errors import InputError
from sumpwright.studies import hold_field
from sumpwright.studies.entering import Entered, Entry
from sumpwright.studies.hold_field import DEGREES, MAGNITUDES, POINTS
from sumpwright.studies.hold_map import hold_map
from sumpwright.studies.motion_result import DOORS, HoldMapResult
from tests.studies.baffled_job import DOOR, WALL
from tests.studies.motion_job import ENGINE, PICKUP, THICK, MotionJob, motion_folder
from tests.studies.test_target import TRICKLE

WALLED = f"  baffles:\n{WALL}{DOOR}"
SHALLOW = PICKUP.replace("-80 mm", "-66 mm")
HALF = "requirements: {hold_time: 4 s}\n"


def field(result: HoldMapResult, doors: str, rpm: int) -> list[tuple[float | None, ...]]:
    return list(next(m for m in result.maps if m.doors == doors).time_s[rpm])


def test_thick_oil_holds_for_good_as_far_as_statics_say_in_every_direction(tmp_path: Path) -> None:
    """Mouth 16 mm under the middle of a half-full box: 20 a = 16 at 0.8 g; draw-down 0.7 mm."""
    job = MotionJob(pickup=SHALLOW, viscosity=THICK, more=TRICKLE)
    result = hold_map(motion_folder(tmp_path, job))
    for way in field(result, "working", 3):
        held = [time is None for time in way]
        assert held == [g < 0.75 for g in MAGNITUDES]
    for limit in result.limits:
        assert (limit.left_g, limit.right_g) == (0.7, 0.7)
        assert (limit.brake_g, limit.accelerate_g) == (0.7, 0.7)
    assert result.directions_deg == tuple(15.0 * k for k in range(24))
    assert len(result.magnitudes_g) == 12
    assert result.rpm == pytest.approx((2400.0, 3600.0, 4800.0, 6000.0))
    assert (result.hold_time_s, result.horizon_s) == (8.0, 16.0)


def test_a_pickup_to_the_left_is_weaker_in_left_turns(tmp_path: Path) -> None:
    """40 mm off the middle: a left turn uncovers it where 60 a = 30, a right turn never."""
    pickup = PICKUP.replace("150 mm, 0 mm", "150 mm, 40 mm")
    result = hold_map(motion_folder(tmp_path, MotionJob(pickup, viscosity=THICK, more=TRICKLE)))
    for one in result.asymmetries:
        assert (one.left_g, one.right_g) == (0.4, 1.4)
    assert [(one.doors, one.rpm) for one in result.asymmetries] == [
        (doors, rpm) for doors in DOORS for rpm in result.rpm
    ]


def test_a_pan_mirrored_in_itself_has_maps_mirrored_in_themselves(tmp_path: Path) -> None:
    result = hold_map(motion_folder(tmp_path, MotionJob(pan=WALLED.replace("[30 mm", "[0 mm"),
                                                        more=ENGINE + HALF)))  # fmt: skip
    for doors in DOORS:
        times = np.array(field(result, doors, 1), dtype=float)  # None becomes nan
        mirror = times[-np.arange(len(DEGREES))]
        seen = np.isfinite(times) & np.isfinite(mirror)
        # a time at which the cover just touches the limit may come out on either side
        assert (np.isfinite(times) == np.isfinite(mirror)).mean() > 0.98
        np.testing.assert_allclose(times[seen], mirror[seen], rtol=0.05)  # steps differ
        assert np.median(np.abs(times[seen] - mirror[seen])) < 1e-3  # s


def test_without_doors_and_baffles_all_four_maps_are_one_and_are_made_once(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    entered = counted(monkeypatch)
    folder = motion_folder(tmp_path / "bare", MotionJob(more=ENGINE + HALF))
    bare = hold_map(folder)
    assert len(entered) == 4 * POINTS  # four speeds, one pan
    assert len({m.time_s for m in bare.maps}) == 1
    # and they are what a pan with baffles says of itself without them
    walled = hold_map(motion_folder(tmp_path / "walled", MotionJob(pan=WALLED, more=ENGINE + HALF)))
    assert walled.maps[3].time_s == bare.maps[0].time_s
    assert len({m.time_s for m in walled.maps}) > 2


def counted(monkeypatch: pytest.MonkeyPatch, stop_at: int = -1) -> list[tuple[float, ...]]:
    """Every entry that is driven from now on; Ctrl-C comes at one of them."""
    made: list[tuple[float, ...]] = []
    into = Entry.into

    def looked(self: Entry, *asked: float) -> Entered:
        made.append(asked)
        if len(made) == stop_at:
            raise KeyboardInterrupt
        return into(self, *asked)

    monkeypatch.setattr(Entry, "into", looked)
    return made


def test_a_second_look_takes_what_the_first_has_kept(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    folder = motion_folder(tmp_path, MotionJob(more=ENGINE + HALF))
    first = hold_map(folder)
    entered = counted(monkeypatch)
    assert hold_map(folder) == first
    assert entered == []


def test_a_look_that_was_stopped_goes_on_where_it_was(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    folder = motion_folder(tmp_path, MotionJob(more=ENGINE + HALF))
    monkeypatch.setenv("SUMPWRIGHT_THREADS", "2")
    with monkeypatch.context() as stopping:
        counted(stopping, stop_at=2 * POINTS + 100)
        with pytest.raises(KeyboardInterrupt):
            hold_map(folder)
    entered = counted(monkeypatch)
    hold_map(folder)
    assert len(entered) == 2 * POINTS  # two speeds were whole


def test_says_how_far_it_is(tmp_path: Path) -> None:
    said: list[tuple[str, float]] = []
    hold_map(
        motion_folder(tmp_path, MotionJob(more=ENGINE + HALF)), lambda *told: said.append(told)
    )
    shares = [share for text, share in said if text == "filling the hold maps"]
    assert len(shares) > 20
    assert (np.diff(shares) > 0.0).all()
    assert shares[-1] < 1.0 + 1e-9


def test_other_oil_is_another_field(tmp_path: Path) -> None:
    """A field's key is made of the network and what drives it: nothing stale is ever taken."""
    job = MotionJob(more=ENGINE + HALF)
    first = hold_map(motion_folder(tmp_path, job))
    more = hold_map(motion_folder(tmp_path, replace(job, fill="3.5 L")))
    assert more.maps != first.maps
    longer = hold_map(motion_folder(tmp_path, replace(job, more=ENGINE)))
    assert longer.horizon_s == 16.0
    assert hold_map(motion_folder(tmp_path, job)) == first


def test_the_result_is_plain_json(tmp_path: Path) -> None:
    result = hold_map(motion_folder(tmp_path, MotionJob(more=ENGINE + HALF)))
    said = json.loads(json.dumps(result.as_json(), allow_nan=False))
    assert said["maps"][2]["doors"] == "stuck shut"
    assert np.array(said["maps"][0]["time_s"], dtype=object).shape == (4, 24, 12)
    assert set(said["limits"][0]) == {
        "rpm", "doors", "left_g", "right_g", "brake_g", "accelerate_g",
    }  # fmt: skip
    assert said["error"]["mass"] < 1e-12  # the promise is 1e-9
    assert said["error"]["worst_step_m"] <= said["error"]["tolerance_m"]
    assert any("no baffles: all four maps" in text for text in said["assumptions"])


def test_a_job_without_pickup_and_engine_speed_is_told_both(tmp_path: Path) -> None:
    with pytest.raises(InputError) as caught:
        hold_map(motion_folder(tmp_path, MotionJob(pickup="")))
    pickup, engine = caught.value.problems
    assert (pickup.code, engine.code) == ("JOB-162", "JOB-162")
    assert (pickup.where, pickup.found) == ("job.yaml:2  new", "no pickup")
    assert pickup.needed == "`new.pickup`"
    assert (engine.found, engine.needed) == (
        "no engine speed",
        "`engine.rpm`, or a curve of `flow` or `retained`",
    )
    assert engine.do == (
        "add it: a hold map is about how long the pickup stays covered while the engine runs"
    )


def test_a_damaged_entry_of_the_cache_is_made_afresh(tmp_path: Path) -> None:
    folder = motion_folder(tmp_path, MotionJob(more=ENGINE + HALF))
    first = hold_map(folder)
    for path in (folder / "out" / "cache").iterdir():
        path.write_bytes(b"PK\x03\x04 torn")
    assert hold_map(folder) == first


def test_points_are_all_different_and_all_asked(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    entered = counted(monkeypatch)
    hold_map(motion_folder(tmp_path, MotionJob(more=ENGINE + HALF)))
    asked: set[Any] = {(round(math.degrees(way)), round(a / 9.80665, 9)) for way, a, _ in entered}
    assert asked == {(int(d), float(g)) for d in hold_field.DEGREES for g in hold_field.MAGNITUDES}
    assert {horizon for *_, horizon in entered} == {8.0}  # twice the 4 s asked for
