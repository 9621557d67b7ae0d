# SPDX-License-Identifier: Apache-2.0
"""A log's file becomes a motion, or says what is wrong with it and on which line."""

import math
from pathlib import Path

import numpy as np
import pytest

from sumpwright.errors import InputError, Problem
from sumpwright.studies.trace_log import logged_motion

G = 9.80665


def log(folder: Path, rows: list[str], header: str = "time,ax,ay") -> Path:
    path = folder / "eight.csv"
    path.write_text("\n".join([header, *rows, ""]), encoding="utf-8")
    return path


def steady(count: int = 200, behind: str = "") -> list[str]:
    return [f"{812.4 + 0.02 * i:.2f},-0.3,0.9{behind}" for i in range(count)]


def problem(path: Path) -> Problem:
    with pytest.raises(InputError) as caught:
        logged_motion(path)
    (only,) = caught.value.problems
    return only


def test_a_steady_log_is_a_steady_motion(tmp_path: Path) -> None:
    rows = steady(behind=",0,6000")
    motion, findings, assumptions = logged_motion(log(tmp_path, rows, "time,ax,ay,az,rpm"))
    np.testing.assert_allclose(motion.accel_g, np.tile([-0.3, 0.9, 0.0], (len(motion.time), 1)),
                               atol=1e-12)  # rounding  # fmt: skip
    assert motion.duration == pytest.approx(199 * 0.02, rel=1e-9)  # rounding of the log's clock
    assert motion.engine_speed_at(1.0) == pytest.approx(200.0 * math.pi, rel=1e-12)  # 6000 rpm
    assert findings == ()
    assert assumptions == ("What swings faster than 5 Hz was taken off the log.",)


def test_gravity_and_blows_are_said(tmp_path: Path) -> None:
    rows = [f"{0.02 * i:.2f},0,{3 if i > 100 else -3},1" for i in range(200)]
    motion, (gravity, blow), _ = logged_motion(log(tmp_path, rows, "time,ax,ay,az"))
    assert float(np.abs(motion.accel[:, 2]).max()) == 0.0
    assert (gravity.code, blow.code) == ("LOG-120", "LOG-121")
    assert blow.found.startswith("smoothed at 5 Hz it still rises faster than a car does, over ")
    assert blow.repair.startswith("held back there, by ")


def test_a_log_without_a_vertical_channel_says_so(tmp_path: Path) -> None:
    assert logged_motion(log(tmp_path, steady()), cutoff=2.0)[2] == (
        "What swings faster than 2 Hz was taken off the log.",
        "The log has no az: no vertical acceleration.",
    )


def test_every_fault_is_said_with_its_line(tmp_path: Path) -> None:
    rows = steady(behind=",-1,3000")
    rows[40:] = [f"{900 + 0.02 * i:.2f},-0.3,0.9,-1,3000" for i in range(160)]
    rows[60] = rows[59]
    rows[70] = rows[70].replace("3000", "-5")
    rows.insert(3, "")
    with pytest.raises(InputError) as caught:
        logged_motion(log(tmp_path, rows, "time,ax,ay,az,rpm"))
    assert [(p.code, p.where) for p in caught.value.problems] == [
        ("LOG-106", "eight.csv:63  time"),
        ("LOG-107", "eight.csv:43  time"),
        ("LOG-110", "eight.csv  az"),
        ("LOG-109", "eight.csv:73  rpm"),
    ]
    gravity = caught.value.problems[2]
    assert gravity.do == (
        "turn its sign and take 1 g off; then look at ax and ay too: forward and left are positive"
    )


def test_one_row_is_too_few(tmp_path: Path) -> None:
    assert problem(log(tmp_path, steady(1))) == Problem(
        "LOG-108", "eight.csv  time", "1 rows", "at least 2", "log for longer"
    )


def test_a_gap_may_be_allowed(tmp_path: Path) -> None:
    rows = steady(100) + [f"{815.2 + 0.02 * i:.2f},-0.3,0.9" for i in range(100)]
    path = log(tmp_path, rows)
    assert problem(path).needed == "0.5 s at most"
    assert logged_motion(path, longest_gap=1.0)[0].duration == pytest.approx(4.78, abs=1e-9)


def test_a_file_that_is_not_there(tmp_path: Path) -> None:
    there = log(tmp_path, steady())
    assert problem(tmp_path / "eigth.csv") == Problem(
        "LOG-115", str(tmp_path / "eigth.csv"), "no file of that name", "a log as a CSV file",
        f"did you mean {there}?",
    )  # fmt: skip
    assert problem(tmp_path).found == "a folder"
    assert problem(tmp_path / "none" / "other.csv").do == "check the path"


def test_a_file_that_may_not_be_read(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    path = log(tmp_path, steady())

    def refused(*_: object) -> None:
        raise PermissionError(13, "Permission denied")

    monkeypatch.setattr(Path, "open", refused)
    assert problem(path) == Problem(
        "LOG-115", str(path), "a file that cannot be read (Permission denied)", "a log",
        "allow reading it",
    )  # fmt: skip
