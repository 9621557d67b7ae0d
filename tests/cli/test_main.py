# SPDX-License-Identifier: Apache-2.0
"""The screen that teaches the tool, what starting it costs, and how errors leave it."""

import json
import os
import pty
import signal
import subprocess
import sys
import threading
import time
from pathlib import Path

import pytest

from sumpwright import __version__
from sumpwright.cli.door import STOPPED_TEXT
from sumpwright.cli.main import HELP

HEAVY = ("numpy", "numba", "scipy", "pint", "pydantic", "ruamel", "rich", "matplotlib", "trimesh",
         "OCP", "igl", "fcl", "manifold3d", "typst", "lxml")  # fmt: skip


def test_starting_the_tool_imports_nothing_heavy() -> None:
    code = f"import sys, sumpwright.cli.main; print([m for m in {HEAVY} if m in sys.modules])"
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout == "[]\n"


def test_help_teaches_the_whole_tool_on_one_screen(run) -> None:
    done = run("--help")
    assert (done.returncode, done.stdout) == (0, HELP)
    lines = HELP.splitlines()
    assert len(lines) <= 24
    assert max(map(len, lines)) <= 80
    for word in (
        "job.yaml",
        "geometry/",
        "out/",
        "docs/job-file.md",
        "Exit status: 0 met, 1",
        "130",
    ):
        assert word in HELP


def test_says_its_version(run) -> None:
    assert run("--version").stdout == f"sumpwright {__version__}\n"


@pytest.mark.parametrize("command", ["check", "measure", "new", "set", "revise"])
def test_every_command_explains_itself(run, command: str) -> None:
    done = run(command, "--help")
    assert done.returncode == 0
    assert f"Usage: sumpwright {command}" in done.stdout


def test_a_misspelt_command_is_an_input_problem_with_the_near_name(run) -> None:
    done = run("chekc", "job")
    assert done.returncode == 2
    assert "check" in done.stderr


def test_an_input_problem_is_text_on_stderr_and_status_2(run, tmp_path: Path) -> None:
    done = run("check", tmp_path / "gone")
    assert (done.returncode, done.stdout) == (2, "")
    assert done.stderr.startswith(f"{tmp_path / 'gone'}  [JOB-110]\n")
    assert done.stderr.endswith("1 problem; nothing was done.\n")


def test_an_input_problem_is_json_on_stdout_where_json_was_asked_for(run, tmp_path: Path) -> None:
    done = run("check", tmp_path / "gone", "--json")
    assert (done.returncode, done.stderr) == (2, "")
    (problem,) = json.loads(done.stdout)["problems"]
    assert problem["code"] == "JOB-110"
    assert set(problem) == {"code", "where", "found", "needed", "do"}


def test_a_formula_out_of_range_is_one_sentence(monkeypatch, capsys) -> None:
    from typer import Exit

    from sumpwright.cli.door import door
    from sumpwright.errors import RangeError, SolveError

    for error in (RangeError("slope 91 deg is over 90 deg"), SolveError("no level in 50 steps")):

        def command(as_json: bool = False, error: Exception = error) -> None:
            raise error

        with pytest.raises(Exit) as caught:
            door(command)(as_json=False)
        assert caught.value.exit_code == 2
        assert capsys.readouterr().err == f"Error: {error}\n"
        with pytest.raises(Exit):
            door(command)(as_json=True)
        assert json.loads(capsys.readouterr().out) == {"problems": [], "error": str(error)}


def test_a_bug_is_not_dressed_up() -> None:
    from sumpwright.cli.door import door

    def command() -> None:
        raise ZeroDivisionError

    with pytest.raises(ZeroDivisionError):
        door(command)()


SLOW = (
    "import sys, time, types\n"
    "slow = types.ModuleType('sumpwright.studies.check')\n"
    "def wait(job, progress):\n"
    "    print('started', flush=True); time.sleep(60)\n"
    "slow.check_with_bodies = wait\n"
    "sys.modules['sumpwright.studies.check'] = slow\n"
    "from sumpwright.cli.main import run; run()\n"
)


def test_ctrl_c_says_that_nothing_is_left_half_written(job: Path) -> None:
    with subprocess.Popen(
        [sys.executable, "-c", SLOW, "check", job],
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
    ) as slow:
        assert slow.stdout is not None
        assert slow.stdout.readline() == "started\n"
        time.sleep(0.05)
        slow.send_signal(signal.SIGINT)
        _, said = slow.communicate(timeout=20)
    assert slow.returncode == 130
    assert said == f"\n{STOPPED_TEXT}\n"


def test_a_reader_that_has_seen_enough_is_no_error(tmp_path: Path) -> None:
    code = "import time; time.sleep(0.3); from sumpwright.cli.main import run; run()"
    script = f'"{sys.executable}" -c "{code}" --help 2>err | (exec 0<&-; true); cat err'
    done = subprocess.run(
        ["bash", "-c", script], cwd=tmp_path, capture_output=True, text=True, check=True
    )
    assert done.stdout + done.stderr == ""


def test_new_asks_on_a_terminal_and_enter_takes_the_default(tmp_path: Path) -> None:
    folder = tmp_path / "asked"
    main, side = pty.openpty()
    code = "from sumpwright.cli.main import run; run()"
    with subprocess.Popen(
        [sys.executable, "-c", code, "new", folder], stdin=side, stdout=side, stderr=side
    ) as asking:
        os.close(side)
        late = threading.Timer(120.0, asking.kill)  # a question more would wait for ever
        late.start()
        os.write(main, b"\nus\nplenty\n5 qt\n\n")  # a name, units, a slip, a fill, a template
        said = b""
        while True:
            try:
                said += os.read(main, 4096)
            except OSError:  # the terminal closes with the process
                break
        late.cancel()
    assert asking.returncode == 0, said
    assert b"needed 0.1 L to 50 L; write number, point, unit" in said
    text = (folder / "job.yaml").read_text("utf-8")
    assert 'job: "asked"' in text
    assert "units: us " in text
    assert "  fill: 5 qt\n" in text
    assert "\n#  pickup:\n" in text


@pytest.mark.parametrize(("asked", "threads"), [(None, "1"), ("2", "2")])
def test_small_systems_are_solved_by_one_thread_unless_somebody_asks(
    asked: str | None, threads: str
) -> None:
    look = "import os, sumpwright.cli.main as m; m.app = lambda **_: None; m.run(); "
    look += "import sys; print('numpy' in sys.modules, os.environ['OPENBLAS_NUM_THREADS'])"
    rest = {k: v for k, v in os.environ.items() if k != "OPENBLAS_NUM_THREADS"}
    env = rest if asked is None else {**rest, "OPENBLAS_NUM_THREADS": asked}
    done = subprocess.run([sys.executable, "-c", look], env=env, capture_output=True, text=True)
    assert done.stdout.split() == ["False", threads]  # said before the library is loaded
