# SPDX-License-Identifier: Apache-2.0
"""`sumpwright hold` as a person reads it and as another program does."""

import json
import re
import signal
import subprocess
import sys
import time
from dataclasses import replace
from pathlib import Path

import pytest

from sumpwright.cli.door import STOPPED_TEXT
from sumpwright.cli.hold import UNSAVED
from sumpwright.cli.hold_text import hold_text
from sumpwright.cli.ledger_text import WIDTH
from sumpwright.studies.hold_map import hold_map
from sumpwright.studies.motion_result import HoldLimit, HoldMapResult
from tests.report.hold_map_sample import hold_map_sample
from tests.studies.baffled_job import DOOR, WALL
from tests.studies.motion_job import ENGINE, MotionJob, motion_folder

JOB = MotionJob(more=ENGINE + "requirements: {hold_time: 2 s}\n")


def sample(*limits: tuple[float, float, float, float]) -> HoldMapResult:
    """The sample with doors working at as many engine speeds as there are limits."""
    rows = (HoldLimit(2000.0 + 1000.0 * k, "working", *one) for k, one in enumerate(limits))
    return replace(hold_map_sample(), limits=tuple(rows))


def test_shows_what_is_held_each_way_for_every_state_and_speed() -> None:
    lines = hold_text(sample((1.0, 0.9, 0.5, 0.0), (0.8, 0.8, 0.4, 1.5)), ()).splitlines()
    assert lines[0] == "Sample low pan, revision B"
    assert lines[1] == "  24 directions, 0.10 to 1.50 g, each followed for 15 s, oil 100 °C"
    start = lines.index("  doors working")
    assert lines[start - 1].split() == [
        "Holds", "8", "s", "up", "to", "[g]", "left", "turn", "right", "turn", "braking",
        "accelerating",
    ]  # fmt: skip
    assert lines[start + 1].split() == ["2000", "rpm", "1.00", "0.90", "0.50", "under", "0.10"]
    assert lines[start + 2].split() == [
        "3000", "rpm", "0.80", "0.80", "0.40", "1.50", "or", "more",
    ]  # fmt: skip
    assert max(map(len, lines)) <= WIDTH


@pytest.mark.parametrize(
    ("limits", "said"),
    [
        ([(0.8, 0.8, 0, 0), (0.7, 0.7, 0, 0)], "Doors working: the same to both sides."),
        (
            [(0.9, 0.8, 0, 0), (1.1, 0.8, 0, 0)],
            "Doors working: right turns are the weaker, by 0.30 g at 3000 rpm.",
        ),
        (
            [(0.6, 0.8, 0, 0), (0.9, 0.8, 0, 0)],
            "Doors working: right turns are the weaker, by 0.10 g at 3000 rpm; left turns are the "
            "weaker, by 0.20 g at 2000 rpm.",
        ),
        (  # 0 is under all that was looked at, from 0.10 g on
            [(0.0, 0.4, 0, 0), (0.5, 0.5, 0, 0)],
            "Doors working: left turns are the weaker, by 0.30 g or more at 2000 rpm.",
        ),
    ],
)
def test_calls_out_which_side_is_the_weaker(
    limits: list[tuple[float, float, float, float]], said: str
) -> None:
    text = hold_text(sample(*limits), ())
    assert said in re.sub(r"\s+", " ", text)


def test_says_its_errors_assumptions_and_pages() -> None:
    text = hold_text(sample((1.0, 0.9, 0.5, 0.0)), (Path("out/hold-map.html"),))
    plain = re.sub(r"\s+", " ", text)
    assert "oil lost or won at most 3.1e-07 of the fill" in plain
    assert "levels by table within 0.110 mm of exact ones; 5210000 steps, 440 taken back." in plain
    assert "Assumed: Surfaces are planes; waves that break are not in the model." in plain
    assert "\nReport  out/hold-map.html\n" in text
    assert text.endswith("practice go first.")


@pytest.mark.slow
def test_the_command_says_the_study_s_own_json_and_leaves_its_pages(run, tmp_path: Path) -> None:
    folder = motion_folder(tmp_path / "job", JOB)
    done = run("hold", folder / "job.yaml", "--json")
    assert done.returncode == 0, done.stderr
    said = json.loads(done.stdout)
    assert said == json.loads(json.dumps(hold_map(folder).as_json()))
    assert (folder / "out" / "hold-map.pdf").read_bytes().startswith(b"%PDF")
    assert json.loads((folder / "out" / "hold-map.json").read_text("utf-8")) == said


@pytest.mark.slow
def test_the_command_reads_as_the_text_and_writes_nothing_where_it_is_asked_not_to(
    run, tmp_path: Path
) -> None:
    folder = motion_folder(tmp_path / "job", JOB)
    done = run("hold", folder, "--no-report")
    assert (done.returncode, done.stdout) == (0, hold_text(hold_map(folder), ()) + "\n")
    assert not list((folder / "out").glob("hold-map*"))


def test_a_job_that_cannot_be_looked_at_is_an_input_problem(run, tmp_path: Path) -> None:
    done = run("hold", motion_folder(tmp_path, MotionJob(pickup="")))
    assert (done.returncode, done.stdout) == (2, "")
    assert done.stderr.count("[JOB-162]") == 2
    assert done.stderr.endswith("2 problems; nothing was done.\n")


@pytest.mark.slow
def test_the_answer_stands_where_its_report_cannot_be_saved(run, tmp_path: Path) -> None:
    folder = motion_folder(tmp_path / "job", JOB)
    assert run("hold", folder, "--no-report").returncode == 0
    (folder / "out" / "hold-map.html").mkdir()
    done = run("hold", folder)
    assert done.returncode == 2
    assert done.stdout == hold_text(hold_map(folder), ()) + "\n"
    assert done.stderr.endswith(f"1 problem; {UNSAVED}\n")


@pytest.mark.slow
def test_ctrl_c_leaves_nothing_half_written(tmp_path: Path) -> None:
    """Stopped while it fills the maps: whole fields stay in the cache, and no page is begun."""
    folder = motion_folder(
        tmp_path / "job", MotionJob(pan=f"  baffles:\n{WALL}{DOOR}", more=ENGINE)
    )
    code = "from sumpwright.cli.main import run; run()"
    with subprocess.Popen(
        [sys.executable, "-c", code, "hold", str(folder)],
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
    ) as slow:
        cache = folder / "out" / "cache"
        until = time.monotonic() + 120.0  # kernels may have to be compiled
        whole = 0
        while slow.poll() is None and time.monotonic() < until:
            whole = len(list(cache.glob("*.npz"))) if cache.exists() else 0
            if whole >= 10:  # bodies, levels and swings, and the first fields
                break
            time.sleep(0.01)
        slow.send_signal(signal.SIGINT)
        out, said = slow.communicate(timeout=60)
    assert whole >= 10
    assert slow.returncode == 130, said
    assert out == ""
    assert said.endswith(f"\n{STOPPED_TEXT}\n")
    assert {path.name for path in (folder / "out").iterdir()} == {"cache"}
    assert all(path.suffix == ".npz" for path in cache.iterdir())
