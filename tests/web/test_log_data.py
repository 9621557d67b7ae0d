# SPDX-License-Identifier: Apache-2.0
"""Logs for the page: every row comes over, in SI, and no file but a log of the job does."""

import json
import os
import shutil
import struct
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from sumpwright.errors import InputError
from sumpwright.logs.log import Channel, Log
from sumpwright.web.inside import OutsideError
from sumpwright.web.log_data import columns_json, log_bytes, log_path
from sumpwright.web.log_pack import packed

DEMO = Path(__file__).parents[2] / "examples/demo-a"
DAY = """Time [s],Oil P [bar],RPM,Oil T [degC]
0.0,1.0,1000,80
0.1,1.5,1010,
0.2,2.0,1020,81
"""


@pytest.fixture
def job(tmp_path: Path) -> Path:
    folder = tmp_path / "job"
    shutil.copytree(DEMO, folder, ignore=shutil.ignore_patterns("tests", "out", "records"))
    (folder / "tests").mkdir()
    (folder / "tests" / "day.csv").write_text(DAY, encoding="utf-8")
    return folder


def unpacked(data: bytes) -> tuple[dict[str, Any], dict[str, tuple[Any, Any]]]:
    """Header and channels, read as the page reads them."""
    assert data[:4] == b"SPL1"
    size = struct.unpack("<I", data[4:8])[0]
    head = json.loads(data[8 : 8 + size])
    start, found = 8 + size, {}
    assert start % 8 == 0
    for c in head["channels"]:
        assert c["at"] % 8 == c["time_at"] % 8 == 0
        time = np.frombuffer(data, "<f8", c["count"], start + c["time_at"])
        found[c["role"]] = time, np.frombuffer(data, "<f4", c["count"], start + c["at"])
    return head, found


def test_every_row_comes_over_in_si(job: Path) -> None:
    head, found = unpacked(log_bytes(job, "tests/day.csv"))
    time, pressure = found["pressure"]
    assert time == pytest.approx([0.0, 0.1, 0.2])
    assert pressure == pytest.approx([1e5, 1.5e5, 2e5])
    assert found["rpm"][1][0] == pytest.approx(1000.0 * 2.0 * np.pi / 60.0, rel=1e-6)
    assert head["channels"][0]["column"] == "Oil P"


def test_a_blank_cell_is_no_row_of_its_channel(job: Path) -> None:
    time, warm = unpacked(log_bytes(job, "tests/day.csv"))[1]["temperature"]
    assert time == pytest.approx([0.0, 0.2])
    assert warm == pytest.approx([353.15, 354.15])


def test_channels_on_one_clock_share_their_times() -> None:
    time = np.arange(1000.0)
    channels = {r: Channel(r, r, "-", "", time, time) for r in ("gear", "lap", "throttle")}
    head, _ = unpacked(packed(Log("x", channels)))
    assert {c["time_at"] for c in head["channels"]} == {0}


def test_a_gap_is_told_by_one_value_that_is_no_number() -> None:
    time = np.array([0.0, 0.1, 0.2, 30.0, 30.1])
    gear = Channel("gear", "Gear", "-", "", time, np.ones(5))
    at, value = unpacked(packed(Log("x", {"gear": gear})))[1]["gear"]
    assert list(at) == pytest.approx([0.0, 0.1, 0.2, 15.1, 30.0, 30.1])
    assert list(np.isnan(value)) == [False, False, False, True, False, False]


def test_an_hour_at_100_hz_comes_over_whole() -> None:
    time = np.arange(360_000) * 0.01
    dip = np.where(np.arange(360_000) == 123_456, 0.0, 4e5)
    head, found = unpacked(
        packed(Log("x", {"pressure": Channel("pressure", "P", "bar", "", time, dip)}))
    )
    assert head["channels"][0]["count"] == 360_000
    assert np.flatnonzero(found["pressure"][1] == 0.0).tolist() == [123_456]


def test_a_name_out_of_the_log_stays_text_in_the_header(job: Path) -> None:
    text = DAY.replace("RPM", "RPM <script>alert(1)</script>")
    (job / "tests" / "day.csv").write_text(text, encoding="utf-8")
    head, _ = unpacked(log_bytes(job, "tests/day.csv"))
    assert "RPM <script>alert(1)</script>" in [c["column"] for c in head["channels"]]


def test_names_and_units_that_the_job_keeps_are_used(job: Path) -> None:
    (job / "tests" / "odd.csv").write_text("Time [s],AN7,RPM\n0,14.5,900\n1,29,900\n", "utf-8")
    with (job / "job.yaml").open("a", encoding="utf-8") as out:
        out.write("\nlogs:\n  columns: {pressure: AN7}\n  units: {pressure: psi}\n")
    _, found = unpacked(log_bytes(job, "tests/odd.csv"))
    # NIST SP 811 appendix B.8: 1 psi is 6.894 757 kPa
    assert found["pressure"][1] == pytest.approx([14.5 * 6894.757, 29.0 * 6894.757], rel=1e-6)
    roles = {r["role"]: r for r in columns_json(job, "tests/odd.csv")["roles"]}
    assert roles["pressure"]["column"] == "AN7"
    assert (roles["pressure"]["how"], roles["pressure"]["unit"]) == ("kept in the job", "psi")


def test_a_column_that_counts_the_other_way_is_turned_round(job: Path) -> None:
    (job / "tests" / "way.csv").write_text("Time [s],Lat Acc [g],RPM\n0,1,900\n1,-1,900\n", "utf-8")
    with (job / "job.yaml").open("a", encoding="utf-8") as out:
        out.write("\nlogs:\n  columns: {ay: -Lat Acc}\n")
    _, found = unpacked(log_bytes(job, "tests/way.csv"))
    assert found["ay"][1] == pytest.approx([-9.80665, 9.80665], rel=1e-6)  # 1 g, NIST SP 811 B.8
    roles = {r["role"]: r for r in columns_json(job, "tests/way.csv")["roles"]}
    assert (roles["ay"]["column"], roles["ay"]["turned"]) == ("Lat Acc", True)
    assert [r for r, line in roles.items() if line["turns"]] == ["ax", "ay", "yaw_rate"]


def test_a_name_that_the_job_keeps_but_the_file_lacks_is_said_beside_the_guess(job: Path) -> None:
    with (job / "job.yaml").open("a", encoding="utf-8") as out:
        out.write("\nlogs:\n  columns: {pressure: AN7}\n")
    roles = {r["role"]: r for r in columns_json(job, "tests/day.csv")["roles"]}
    assert (roles["pressure"]["column"], roles["pressure"]["how"]) == ("Oil P", "by its name")
    assert (roles["pressure"]["kept_column"], roles["rpm"]["kept_column"]) == ("AN7", None)


def test_columns_are_said_with_their_first_cells_before_anything_is_judged(job: Path) -> None:
    found = columns_json(job, "tests/day.csv")
    assert found["columns"][1] == {"name": "Oil P", "unit": "bar", "sample": ("1.0", "1.5", "2.0")}
    roles = {r["role"]: r for r in found["roles"]}
    assert roles["time"]["column"] == "Time"
    assert roles["ay"]["column"] is None
    assert roles["ay"]["units"][0] == "g"
    assert [r for r, line in roles.items() if line["needed"]] == ["time", "pressure", "rpm"]


def test_units_are_listed_as_the_trade_writes_them(job: Path) -> None:
    """kPa, degC, Hz: SI brochure, 9th edition (2019), 5.2; read whatever its capitals are."""
    roles = {r["role"]: r["units"] for r in columns_json(job, "tests/day.csv")["roles"]}
    assert {"Pa", "kPa", "MPa", "bar", "psi"} <= set(roles["pressure"])
    assert {"degC", "degF", "K"} <= set(roles["temperature"])
    path = job / "tests" / "day.csv"
    path.write_text(DAY.replace("bar", "kPa"), encoding="utf-8")
    assert unpacked(log_bytes(job, "tests/day.csv"))[1]["pressure"][1] == pytest.approx(
        [1e3, 1.5e3, 2e3]
    )


@pytest.mark.parametrize("name", ["job.yaml", "out/x.csv", "testsday.csv", "tests"])
def test_refuses_a_file_of_the_job_that_is_no_log(job: Path, name: str) -> None:
    with pytest.raises(OutsideError, match="logs lie in tests/"):
        log_path(job, name)


@pytest.mark.parametrize("name", ["tests/../job.yaml", "/etc/passwd", "tests/\0", "tests/nul.csv"])
def test_refuses_a_name_that_leads_out_of_tests(job: Path, name: str) -> None:
    with pytest.raises(OutsideError, match="is not a file of this job"):
        log_path(job, name)


def test_refuses_a_link_from_tests_to_another_file_of_the_job(job: Path) -> None:
    (job / "tests" / "own.csv").symlink_to(job / "job.yaml")
    with pytest.raises(OutsideError, match="logs lie in tests/"):
        log_path(job, "tests/own.csv")


def test_a_log_that_is_not_there_is_said_with_what_to_do(job: Path) -> None:
    with pytest.raises(InputError, match="drop it on the page"):
        log_path(job, "tests/none.csv")


def test_a_pipe_in_place_of_a_log_is_not_waited_for(job: Path) -> None:
    os.mkfifo(job / "tests" / "pipe.csv")
    with pytest.raises(InputError, match="no file of that name"):
        log_path(job, "tests/pipe.csv")
