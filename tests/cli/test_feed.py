# SPDX-License-Identifier: Apache-2.0
"""`sumpwright feed` as a person reads it and as another program does."""

import json
import re
from dataclasses import replace
from pathlib import Path

import pytest

from sumpwright.cli.check_text import check_text
from sumpwright.cli.feed_text import feed_text
from sumpwright.cli.ledger_text import WIDTH
from sumpwright.studies.feed import feed_of
from tests.report.sample_feed import SAMPLES, sample_feed_result
from tests.report.sample_result import sample_result
from tests.studies.box_job import JOB, box_job
from tests.studies.feed_job import REAL, feed_folder


def lines_of(name: str) -> list[str]:
    return feed_text(sample_feed_result(name), ()).splitlines()


def row(lines: list[str], start: str) -> str:
    return next(line for line in lines if line.strip().startswith(start))


@pytest.mark.parametrize("name", list(SAMPLES))
def test_fits_eighty_columns_and_two_screens(name: str) -> None:
    lines = lines_of(name)
    assert max(map(len, lines)) <= WIDTH
    assert len(lines) < 100


def test_the_table_marks_what_is_under_a_limit() -> None:
    result = sample_feed_result("real")
    feed, lines = result.feed, lines_of("real")
    assert " ".join(row(lines, "rpm").split()) == "rpm 800 2000 3000 4000 5000 6000 6500"
    columns = [min(range(len(feed.rpm)), key=lambda k: abs(feed.rpm[k] - r)) for r in (800, 3000)]
    k = feed.temperature_k.index(293.15)
    cells = row(lines, "20 °C").split()[2:]
    good, short = (feed.inlet_pa[k][column] for column in columns)
    assert good > 80e3 > short > 70e3
    assert (cells[0], cells[2]) == (f"{good / 1e3:.1f}", f"{short / 1e3:.1f}*")
    assert row(lines, "−20 °C").split()[3:] == ["none!"] * 6


def test_where_the_pressure_goes_adds_up_as_printed() -> None:
    lines = lines_of("real")
    start = next(k for k, line in enumerate(lines) if line.startswith("Where it goes"))
    block = lines[start + 3 : start + 13]
    numbers = [
        [float(cell.replace("−", "-")) for cell in re.findall(r"[−+]?\d+\.\d", line)]
        for line in block
    ]
    left = next(k for k, line in enumerate(block) if "left at the inlet" in line)
    for column in range(3):
        total = sum(line[column] for line in numbers[:left])
        assert total == pytest.approx(numbers[left][column], abs=0.45)  # nine roundings of 0.05


def test_shows_us_units_to_a_person_who_wants_them() -> None:
    text = "\n".join(lines_of("us"))
    assert "[psi, absolute]" in text
    assert re.search(r"air on the oil +14\.18", text)  # 97.77 kPa; NIST SP 811: 6.894757 kPa
    assert "kPa" not in text
    assert "°C" not in text
    assert re.search(r"2000 ft +", text)  # a round number of feet, not 500 m


def test_a_pump_that_gets_nothing_is_said_first(tmp_path: Path) -> None:
    lines = lines_of("late")
    assert lines[0] == "NOT MET  box, revision A"
    assert "What fails, and by how much" in lines
    assert any(line.startswith("Mind: The inlet has less than 70.0 kPa at") for line in lines)


def test_the_command_answers_and_leaves_its_pages(run, tmp_path: Path) -> None:
    folder = feed_folder(tmp_path / "job", REAL)
    done = run("feed", folder)
    assert done.returncode == 0, done.stderr
    assert done.stdout.startswith("MET  box, revision A\n")
    assert f"Report  {folder / 'out' / 'feed.html'}\n" in done.stdout
    assert (folder / "out" / "feed.pdf").read_bytes().startswith(b"%PDF")


def test_the_command_says_the_studys_own_json_and_status(run, tmp_path: Path) -> None:
    late = replace(SAMPLES["late"])
    folder = feed_folder(tmp_path / "job", late)
    done = run("feed", folder / "job.yaml", "--json", "--no-report")
    assert done.returncode == 1
    assert json.loads(done.stdout) == json.loads(json.dumps(feed_of(folder).as_json()))
    assert not (folder / "out" / "feed.html").exists()


def test_a_job_without_a_suction_line_is_an_input_problem(run, tmp_path: Path) -> None:
    done = run("feed", box_job(tmp_path, JOB))
    assert (done.returncode, done.stdout) == (2, "")
    assert done.stderr.startswith("job.yaml:2  new.suction  [JOB-156]\n")
    assert "  needed  `new.suction`\n" in done.stderr


def test_check_says_the_inlet_in_short() -> None:
    text = check_text(sample_result(), ())
    feed = sample_result().feed
    assert feed is not None
    assert feed.cold is not None
    assert re.search(r"Pump's inlet, absolute +new +stock\n", text)
    hot, cold = (f"{p.inlet_pa / 1e3:.1f} kPa" for p in (feed.hot, feed.cold))
    assert re.search(rf"  hot, 6500 rpm +{hot} +{hot}\n  cold, 1500 rpm +{cold} +{cold}\n", text)
    assert re.search(r"  coldest at 800 rpm +−7 °C +−7 °C\n", text)
