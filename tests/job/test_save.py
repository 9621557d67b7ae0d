# SPDX-License-Identifier: Apache-2.0
"""Saving one value: checked first, nothing half-written, nothing lost."""

import random
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

from sumpwright.errors import InputError
from sumpwright.job.load import load_job
from sumpwright.job.save import set_value


def refused(folder: Path, key: str, value: str) -> InputError:
    before = (folder / "job.yaml").read_bytes()
    with pytest.raises(InputError) as caught:
        set_value(folder, key, value)
    assert (folder / "job.yaml").read_bytes() == before
    return caught.value


def test_saves_a_value_and_says_what_it_was(make_job, small) -> None:
    folder = make_job(small)
    change = set_value(folder, "oil.fill", "4.9 qt")
    assert (change.key, change.before, change.after, change.line) == (
        "oil.fill",
        "4.6 L",
        "4.9 qt",
        6,
    )
    assert load_job(folder).job.oil.fill == pytest.approx(4.9 * 9.46352946e-4, rel=1e-12)
    assert (folder / "job.yaml").read_text("utf-8") == small.replace("4.6 L", "4.9 qt")


@pytest.mark.parametrize(
    ("key", "value", "said"),
    [
        ("oil.fill", "4,9 L", "[JOB-101]"),
        ("oil.fill", "500 L", "[JOB-102]"),
        ("oil.fil", "4 L", "did you mean `fill`?"),
        ("oli.fill", "4 L", "did you mean `oil`?"),
        ("oil.low", "5 L", "[JOB-131]"),
        ("new.cavity.file", "geometry/gone.stl", "[JOB-121]"),
        ("oil", "4 L", "name a key inside it: fill"),
    ],
)
def test_refuses_a_value_that_would_be_a_problem(make_job, small, key, value, said) -> None:
    assert said in str(refused(make_job(small), key, value))


@pytest.mark.parametrize(
    ("key", "value", "was", "line"),
    [
        ("new.baffles.0.gap", "0.8 mm", "gap: 0.5 mm  # measured", "gap: 0.8 mm  # measured"),
        ("new.baffles.left wall.openings.left door.door.mass", "25 g", "mass: 20 g", "mass: 25 g"),
        ("new.baffles.0.outline.2.1", "31 mm", "30 mm]", "31 mm]"),
        ("new.suction.tubes.0.bore", "0.8 in", "bore: 19 mm", "bore: 0.8 in"),
        ("driveline.gears.3", "0.9", "1.3, 1.0]", "1.3, 0.9]"),
        ("manoeuvres.eight.gear", "3", "gear: 2", "gear: 3"),
    ],
)
def test_changes_one_value_deep_in_a_list(make_job, moving, key, value, was, line) -> None:
    folder = make_job(moving)
    set_value(folder, key, value)
    assert (folder / "job.yaml").read_text("utf-8") == moving.replace(was, line, 1)


def test_adds_a_key_to_an_entry_of_a_list(make_job, moving) -> None:
    folder = make_job(moving)
    set_value(folder, "new.baffles.tall.gap", "1 mm")
    set_value(folder, "new.baffles.left wall.openings.0.discharge", "0.7")
    set_value(folder, "new.baffles.left wall.openings.1.door.stop", "60 deg")
    wall, tall, _ = load_job(folder).job.new.baffles
    assert (tall.gap, wall.openings[0].discharge) == (0.001, 0.7)
    assert wall.openings[1].door.stop == pytest.approx(1.0471975511965976, rel=1e-15)


def test_refuses_a_value_that_contradicts_another_in_a_list(make_job, moving) -> None:
    folder = make_job(moving)
    assert refused(folder, "manoeuvres.eight.gear", "5").problems[0].code == "JOB-147"
    assert refused(folder, "engine.returns.0.share", "50 %").problems[0].code == "JOB-143"
    assert refused(folder, "new.baffles.3.gap", "1 mm").problems[0].code == "SAVE-309"


def test_mends_one_of_two_problems_and_says_the_other_is_left(make_job, small) -> None:
    folder = make_job(small.replace("4.6 L", "4.6") + "units: imperial\n")
    change = set_value(folder, "oil.fill", "4.6 L")
    assert [p.code for p in change.left] == ["JOB-107"]
    assert set_value(folder, "units", "us").left == ()
    assert load_job(folder).job.units == "us"


def test_says_a_write_protected_job(make_job, small, bound) -> None:
    folder = make_job(small)
    (folder / "job.yaml").chmod(0o444)
    line = f"import sumpwright.job.save as s; s.set_value(Path({str(folder)!r}), 'oil.fill', '4 L')"
    assert "[SAVE-301]" in bound(line)
    (folder / "job.yaml").chmod(0o644)
    folder.chmod(0o555)
    assert "[SAVE-302]" in bound(line)
    folder.chmod(0o755)
    assert (folder / "job.yaml").read_text("utf-8") == small


LOOP = (
    "import sys; from pathlib import Path; from sumpwright.job.save import set_value\n"
    "print('ready', flush=True)\n"
    "for i in range(10**9):\n    set_value(Path(sys.argv[1]), 'oil.fill', f'{1 + i % 9} L')\n"
)


@pytest.mark.slow
def test_a_killed_edit_leaves_a_whole_job_with_its_comments(make_job, small) -> None:
    notes = "".join(f"# measured by hand, line {i}\n" for i in range(300))
    folder = make_job(small + notes)
    saved = set()
    for _ in range(20):
        with subprocess.Popen(
            [sys.executable, "-c", LOOP, folder], stdout=subprocess.PIPE, text=True
        ) as saver:
            assert saver.stdout is not None
            saver.stdout.readline()
            time.sleep(random.uniform(0.0, 0.25))
            saver.send_signal(signal.SIGKILL)
        text = (folder / "job.yaml").read_text("utf-8")
        fill = load_job(folder).typed("oil", "fill")
        assert text == small.replace("4.6 L", fill) + notes
        saved.add(fill)
    assert len(saved) > 1, "no save was finished: the test proved nothing"
