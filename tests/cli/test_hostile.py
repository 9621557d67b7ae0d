# SPDX-License-Identifier: Apache-2.0
"""A person's bad day: no room, no permission, no terminal, a stop at the wrong moment."""

import json
import os
import pty
import shutil
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

from sumpwright.cli.check import UNSAVED
from sumpwright.cli.door import STOPPED_TEXT
from sumpwright.cli.progress import COMPILING
from tests.studies.box_job import box_job, box_mesh, write_stl

RUN = "from sumpwright.cli.main import run; run()"
# root stands above file permissions until it gives its capabilities up
BOUND = (
    "import ctypes\n"
    "ctypes.CDLL(None).capset((ctypes.c_uint32 * 2)(0x20080522, 0), (ctypes.c_uint32 * 6)())\n"
)


def started(*args: object, before: str = "", **more: object) -> "subprocess.CompletedProcess[str]":
    return subprocess.run(
        [sys.executable, "-c", before + RUN, *map(str, args)],
        capture_output=True, encoding="utf-8", stdin=subprocess.DEVNULL, check=False, **more,  # type: ignore[call-overload]
    )  # fmt: skip


def no_traceback(done: "subprocess.CompletedProcess[str]") -> str:
    said = done.stdout + done.stderr
    assert "Traceback" not in said, said
    return done.stderr


# -- a folder that may not be written, or not be read ----------------------------------------------


@pytest.mark.slow
def test_the_verdict_stands_where_its_report_cannot_be_saved(tmp_path: Path) -> None:
    folder = box_job(tmp_path / "job")
    folder.chmod(0o555)
    try:
        done = started("check", folder, before=BOUND)
        quiet = started("check", folder, "--no-report", before=BOUND)
        as_json = started("check", folder, "--json", before=BOUND)
    finally:
        folder.chmod(0o755)
    assert f"{folder / 'out'}  [SAVE-302]\n" in no_traceback(done)
    assert done.stderr.endswith(f"1 problem; {UNSAVED}\n")
    assert done.stdout.split("\n")[0].endswith("box, revision A")
    assert done.returncode == 2
    assert (quiet.returncode, quiet.stdout) == (0, done.stdout)
    assert json.loads(as_json.stdout)["job"] == "box"
    assert sorted(p.name for p in folder.iterdir()) == ["geometry", "job.yaml"]


def test_a_folder_that_may_not_be_read_is_a_problem_with_its_place(tmp_path: Path) -> None:
    folder = box_job(tmp_path / "job")
    (folder / "geometry").chmod(0)
    try:
        done = started("check", folder, before=BOUND)
        body = started("measure", folder / "geometry" / "cavity.stl", before=BOUND)
    finally:
        (folder / "geometry").chmod(0o755)
    assert no_traceback(done).startswith("job.yaml:3  new.cavity.file  [JOB-121]\n")
    assert "allow reading it and the folder that it is in" in done.stderr
    assert "[CLI-403]" in no_traceback(body)
    folder.chmod(0)
    try:
        done = started("check", folder, "--json", before=BOUND)
    finally:
        folder.chmod(0o755)
    assert [p["code"] for p in json.loads(done.stdout)["problems"]] == ["JOB-112"]


def test_a_file_that_may_not_be_read_is_a_problem_with_its_place(tmp_path: Path) -> None:
    folder = box_job(tmp_path / "job")
    body = folder / "geometry" / "cavity.stl"
    body.chmod(0)
    done = started("check", folder, before=BOUND)
    assert "geometry/cavity.stl, which may not be read" in no_traceback(done)
    assert "[GEO-203]" in no_traceback(started("measure", body, "--unit", "mm", before=BOUND))
    body.chmod(0o644)
    (folder / "job.yaml").chmod(0)
    assert "[JOB-112]" in no_traceback(started("check", folder, before=BOUND))


def test_a_read_only_job_is_not_changed(tmp_path: Path) -> None:
    folder = box_job(tmp_path / "job")
    before = (folder / "job.yaml").read_bytes()
    (folder / "job.yaml").chmod(0o444)
    for command in (("set", folder, "oil.fill", "2 L"), ("revise", folder)):
        done = started(*command, before=BOUND)
        assert "[SAVE-301]" in no_traceback(done)
        assert done.returncode == 2
    assert (folder / "job.yaml").read_bytes() == before
    assert sorted(p.name for p in folder.iterdir()) == ["geometry", "job.yaml"]


def test_names_the_folder_that_is_there_where_none_may_be_made(tmp_path: Path) -> None:
    tmp_path.chmod(0o555)
    try:
        done = started("new", tmp_path / "a" / "b", "--yes", before=BOUND)
    finally:
        tmp_path.chmod(0o755)
    assert f"allow writing in {tmp_path}," in no_traceback(done)


# -- no room ---------------------------------------------------------------------------------------


def test_output_that_cannot_be_written_is_one_sentence(tmp_path: Path) -> None:
    body = tmp_path / "box.stl"
    write_stl(body, box_mesh((0, 0, -0.1), (0.1, 0.1, 0)))
    with open("/dev/full", "w") as full:
        done = subprocess.run(
            [sys.executable, "-c", RUN, "measure", body, "--unit", "mm"],
            stdout=full, stderr=subprocess.PIPE, encoding="utf-8", check=False,
        )  # fmt: skip
    assert done.returncode == 2
    assert done.stderr.startswith("Error: the system refused reading or writing (No space left")
    assert done.stderr.count("\n") == 1


# -- Ctrl-C ----------------------------------------------------------------------------------------

LOADING = (
    "import os, signal, sys, types\n"
    "from sumpwright.errors import InputError\n"
    "slow = types.ModuleType('sumpwright.studies.check')\n"
    "def check(job, progress):\n"
    "    try:\n"
    "        os.kill(os.getpid(), signal.SIGINT)\n"
    "    except KeyboardInterrupt:\n"
    "        raise {error} from None\n"
    "slow.check_with_bodies = check\n"
    "sys.modules['sumpwright.studies.check'] = slow\n"
)


@pytest.mark.parametrize("error", ["ImportError('initialization failed')", "InputError(())"])
def test_ctrl_c_while_a_library_loads_is_still_a_stop(tmp_path: Path, error: str) -> None:
    # a compiled library that is interrupted while it loads says ImportError; a reader may take
    # that for a library that is not there
    done = started("check", tmp_path, before=LOADING.replace("{error}", error))
    assert (done.returncode, done.stderr) == (130, f"\n{STOPPED_TEXT}\n")


def test_ctrl_c_and_the_end_of_input_at_a_question_make_nothing(tmp_path: Path) -> None:
    for key in (b"\x03", b"\x04"):
        folder = tmp_path / "asked"
        main, side = pty.openpty()
        with subprocess.Popen(
            [sys.executable, "-c", RUN, "new", folder],
            stdin=side, stdout=side, stderr=side, start_new_session=True,
            preexec_fn=lambda side=side: __import__("fcntl").ioctl(side, 0x540E, 0),  # its terminal
        ) as asking:  # fmt: skip
            os.close(side)
            said = b""
            while b"]: " not in said:
                said += os.read(main, 4096)
            time.sleep(0.3)  # from the prompt's last sign to the wait for an answer
            os.write(main, key)
            while True:
                try:
                    said += os.read(main, 4096)
                except OSError:  # the terminal closes with the process
                    break
        os.close(main)
        assert asking.returncode == 130, said
        assert STOPPED_TEXT.encode() in said
        assert not folder.exists()


def test_refuses_a_used_folder_before_it_asks_anything(tmp_path: Path) -> None:
    (tmp_path / "kept").write_text("mine")
    main, side = pty.openpty()
    with subprocess.Popen(
        [sys.executable, "-c", RUN, "new", tmp_path], stdin=side, stdout=side, stderr=side
    ) as asking:
        os.close(side)
        said = b""
        while True:
            try:
                said += os.read(main, 4096)
            except OSError:
                break
    os.close(main)
    assert asking.returncode == 2
    assert b"[SAVE-305]" in said
    assert b"Name of the job" not in said


@pytest.mark.slow
@pytest.mark.parametrize("wait", [1.2, 2.0, 3.0])
def test_a_check_that_is_killed_leaves_what_the_next_one_can_use(
    tmp_path: Path, wait: float
) -> None:
    from sumpwright.job.template import Answers, new_job

    folder = tmp_path / "job"
    new_job(folder, Answers("Bench engine", "full"))
    whole = started("check", folder, "--json", "--no-report")
    for cached in (folder / "out" / "cache").iterdir():
        cached.unlink()
    with subprocess.Popen(
        [sys.executable, "-c", RUN, "check", folder],
        stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL,
    ) as checking:  # fmt: skip
        try:
            checking.wait(wait)
        except subprocess.TimeoutExpired:
            checking.send_signal(signal.SIGKILL)
    again = started("check", folder, "--json")
    assert json.loads(again.stdout or no_traceback(again)) == json.loads(whole.stdout)
    assert not list(folder.rglob(".*sumpwright-part"))
    for name in ("report.html", "report.pdf", "result.json"):
        assert (folder / "out" / name).stat().st_size > 1000


# -- terminals and machines that are not ours ------------------------------------------------------


@pytest.mark.slow
def test_an_old_code_page_keeps_the_minus_and_the_signs(tmp_path: Path) -> None:
    body = tmp_path / "box.stl"
    write_stl(body, box_mesh((0, 0, -0.1), (0.1, 0.1, 0)))
    done = subprocess.run(
        [sys.executable, "-c", RUN, "measure", body, "--unit", "mm", "--height", "-50 mm"],
        env={**os.environ, "PYTHONIOENCODING": "cp1252"}, capture_output=True, check=True,
    )  # fmt: skip
    assert "height    -50.00 mm" in done.stdout.decode("cp1252")


@pytest.mark.slow
def test_a_first_run_says_once_that_it_compiles_and_needs_no_folder_to_keep_it(
    tmp_path: Path,
) -> None:
    body = tmp_path / "box.stl"
    write_stl(body, box_mesh((0, 0, -0.1), (0.1, 0.1, 0)))
    asked = ("measure", body, "--unit", "mm", "--volume", "0.5 L")
    env = {**os.environ, "NUMBA_CACHE_DIR": str(tmp_path / "compiled"), "SUMPWRIGHT_THREADS": "1"}
    first, second = started(*asked, env=env), started(*asked, env=env)
    assert first.stderr.count(COMPILING) == 1
    assert COMPILING not in second.stderr
    assert first.stdout == second.stdout != ""


@pytest.mark.slow
def test_answers_where_no_folder_may_keep_compiled_code(tmp_path: Path) -> None:
    body = tmp_path / "box.stl"
    write_stl(body, box_mesh((0, 0, -0.1), (0.1, 0.1, 0)))
    package = tmp_path / "installed" / "sumpwright"
    shutil.copytree(Path(__file__).parents[2] / "src" / "sumpwright", package,
                    ignore=shutil.ignore_patterns("__pycache__"))  # fmt: skip
    for folder in (package, *(p for p in package.rglob("*") if p.is_dir())):
        folder.chmod(0o555)
    env = {k: v for k, v in os.environ.items() if k not in ("NUMBA_CACHE_DIR", "XDG_CACHE_HOME")}
    env |= {"PYTHONPATH": str(package.parent), "HOME": str(package), "PYTHONDONTWRITEBYTECODE": "1"}
    asked = ("measure", body, "--unit", "mm", "--volume", "0.5 L")
    locked = started(*asked, env=env, before=BOUND)
    assert no_traceback(locked).count(COMPILING) == 1
    assert "height    −50.00 mm" in locked.stdout
