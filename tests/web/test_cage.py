# SPDX-License-Identifier: Apache-2.0
"""The cage of a reader: what a hostile file can make of the process that reads it, one by one.

Each reader here is bound by the same lines that bind the real one, and then does what a file that
was made to harm would have it do.
"""

import asyncio
import os
import signal
import sys
import time
from pathlib import Path
from typing import Any

import pytest

from sumpwright.web import upload_child
from sumpwright.web.cage import Cage, read_in, usual_cage

pytestmark = pytest.mark.slow  # whole processes, some of which have to wait for their end

BIND = """\
import json, os, signal, subprocess, sys, time
from sumpwright.web.upload_child import bind
asked = json.loads(sys.argv[1])
bind(memory=asked["memory"], seconds=asked["seconds"])
"""
ASKED = {"as": "log", "name": "day.csv"}


def came_of(folder: Path, does: str, *, seconds: int = 20, bound: bool = True) -> dict[str, Any]:
    begin = BIND if bound else BIND.replace("bind(memory", "0 and bind(memory")
    program = (sys.executable, "-P", "-c", begin + does)
    return asyncio.run(read_in(Cage(2**29, seconds, program), folder, ASKED))


def test_a_reader_that_answers_is_understood(tmp_path: Path) -> None:
    assert came_of(tmp_path, "print(json.dumps({'cwd': os.getcwd()}))") == {"cwd": str(tmp_path)}


@pytest.mark.parametrize(
    "does",
    [
        "held = []\nwhile True: held.append(bytearray(2**24))",
        "held = 'x'\nwhile True: held += held",
        "import mmap\nheld = [mmap.mmap(-1, 2**28) for _ in range(4000)]",
        "import numpy\nheld = [numpy.ones(2**24) for _ in range(4000)]",
    ],
)
def test_one_that_takes_memory_without_end_is_ended(tmp_path: Path, does: str) -> None:
    begun = time.monotonic()
    said = came_of(tmp_path, does, seconds=60)
    assert "needs more memory than 0.5 GiB" in said["error"]
    assert said["error"].startswith("day.csv made its reader fail")
    assert time.monotonic() - begun < 50.0  # by its memory, not by the clock


def test_one_that_loops_for_ever_is_ended(tmp_path: Path) -> None:
    said = came_of(tmp_path, "while True: pass", seconds=2)
    assert said["error"].startswith("day.csv took longer than 2 s to read")


def test_one_that_sleeps_for_ever_is_ended_where_the_system_has_no_limits(tmp_path: Path) -> None:
    said = came_of(tmp_path, "time.sleep(1000)", seconds=1, bound=False)
    assert said["error"].startswith("day.csv took longer than 1 s to read")


def test_the_processor_s_time_is_held_without_the_parent(tmp_path: Path) -> None:
    # as where the server was killed: nobody looks at the clock
    import subprocess

    text = BIND + "while True: pass"
    asked = '{"memory": 536870912, "seconds": 1}'
    done = subprocess.run([sys.executable, "-c", text, asked], timeout=60, check=False)
    assert -done.returncode in (signal.SIGXCPU, signal.SIGKILL)


@pytest.mark.parametrize("number", ["SIGSEGV", "SIGABRT", "SIGBUS", "SIGKILL", "SIGILL"])
def test_one_that_crashes_is_said(tmp_path: Path, number: str) -> None:
    said = came_of(tmp_path, f"os.kill(os.getpid(), signal.{number})")
    assert said["error"].startswith("day.csv made its reader fail: it is damaged")


@pytest.mark.parametrize(
    "does",
    [
        "sys.exit(1)",
        "print('{}'); sys.exit(3)",
        "print('not json')",
        "print('[1, 2]')",
        "print('[' * 100000)",
        "print('')",
        "os.write(1, b'\\xff\\xfe')",
        "raise ValueError('odd')",
    ],
)
def test_one_that_says_nothing_of_use_is_said(tmp_path: Path, does: str) -> None:
    assert "made its reader fail" in came_of(tmp_path, does)["error"]


def test_one_that_never_stops_talking_is_ended(tmp_path: Path) -> None:
    begun = time.monotonic()
    said = came_of(tmp_path, "while True: print('x' * 65536)", seconds=60)
    assert "made its reader fail" in said["error"]
    assert time.monotonic() - begun < 30.0


@pytest.mark.skipif(os.name != "posix", reason="a group of processes is ended as one on POSIX")
def test_what_it_started_is_ended_with_it(tmp_path: Path) -> None:
    does = (
        "child = subprocess.Popen([sys.executable, '-c', 'import time; time.sleep(1000)'])\n"
        "open('pid', 'w').write(str(child.pid)); time.sleep(1000)"
    )
    came_of(tmp_path, does, seconds=3)
    started = int((tmp_path / "pid").read_text())
    for _ in range(100):
        if not _runs(started):
            return
        time.sleep(0.05)
    pytest.fail("it still runs")


def _runs(pid: int) -> bool:
    try:
        os.kill(pid, 0)
    except ProcessLookupError:
        return False
    state = Path(f"/proc/{pid}/stat")
    return not state.exists() or state.read_text().rsplit(")", 1)[1].split()[0] != "Z"


def test_one_that_fills_the_disk_is_ended(tmp_path: Path) -> None:
    # the limit of one file is 4 GiB; writing it would wear the disk, so only the limit is looked at
    pytest.importorskip("resource")
    does = (
        "import resource\n"
        "print(json.dumps({'file': resource.getrlimit(resource.RLIMIT_FSIZE)[1],"
        " 'core': resource.getrlimit(resource.RLIMIT_CORE)[1]}))"
    )
    assert came_of(tmp_path, does) == {"file": 4 * 2**30, "core": 0}


def test_the_reader_imports_nothing_from_the_folder_of_the_file(tmp_path: Path) -> None:
    for name in ("json.py", "lxml.py", "sumpwright.py", "polars.py"):
        (tmp_path / name).write_text("open('ran', 'w')\n", encoding="utf-8")
    (tmp_path / "day.csv").write_text("Time [s],RPM\n0,900\n1,900\n2,900\n", encoding="utf-8")
    said = asyncio.run(read_in(Cage(2**31, 60), tmp_path, ASKED))
    assert said["read"]["layout"] == "CSV, commas, names in line 1"
    assert not (tmp_path / "ran").exists()


def test_what_a_library_prints_is_no_answer(tmp_path: Path) -> None:
    (tmp_path / "day.csv").write_text("Time [s],RPM\n0,900\n1,900\n2,900\n", encoding="utf-8")
    noise = (
        "from sumpwright.web import upload_child as child\n"
        "inner = child.read\n"
        "def noisy(asked):\n"
        "    os.write(1, b'library speaking'); print('and again', flush=True)\n"
        "    return inner(asked)\n"
        "child.read = noisy\n"
        "child.main(sys.argv[1])"
    )
    said = came_of(tmp_path, noise)
    assert "read" in said, said


def test_the_reader_says_when_its_memory_is_at_an_end(monkeypatch: pytest.MonkeyPatch) -> None:
    def full(_asked: dict[str, Any]) -> dict[str, Any]:
        raise MemoryError

    monkeypatch.setattr(upload_child, "_log", full)
    assert upload_child.read(ASKED) == {
        "error": "day.csv needs more memory than a file may have here"
    }


def test_a_cage_is_no_larger_than_half_the_machine_or_eight_gib() -> None:
    assert 2 * 2**30 <= usual_cage().memory <= 8 * 2**30


def test_the_largest_job_of_the_demo_is_read_in_a_small_cage() -> None:
    folder = Path(__file__).parents[2] / "examples" / "demo-a" / "geometry"
    asked = {"as": "geometry", "name": "new-outside.step"}
    said = asyncio.run(read_in(Cage(2**30, 120), folder, asked))
    assert said["measure"]["watertight"] is True
