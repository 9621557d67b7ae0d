# SPDX-License-Identifier: Apache-2.0
"""A file is written whole or not at all, whatever happens meanwhile."""

import errno
import os
import random
import shutil
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

from sumpwright.atomic import clear_leftovers, write_atomic
from sumpwright.errors import InputError

OLD, NEW = b"# old\n" * 1000, b"# new\n" * 2000


def refused(path: Path, data: bytes = NEW, **more: bytes) -> str:
    with pytest.raises(InputError) as caught:
        write_atomic(path, data, **more)
    (problem,) = caught.value.problems
    return problem.code


def names(folder: Path) -> list[str]:
    return sorted(p.name for p in folder.iterdir())


def test_writes_a_new_file_and_replaces_an_old_one(tmp_path: Path) -> None:
    path = tmp_path / "a b ü.yaml"
    write_atomic(path, OLD)
    write_atomic(path, NEW)
    assert path.read_bytes() == NEW
    assert names(tmp_path) == [path.name]


def test_keeps_the_mode_of_the_file_and_uses_the_umask_for_a_new_one(tmp_path: Path) -> None:
    path = tmp_path / "job.yaml"
    before = os.umask(0o027)
    try:
        write_atomic(path, OLD)
    finally:
        os.umask(before)
    assert path.stat().st_mode & 0o777 == 0o640
    path.chmod(0o664)
    write_atomic(path, NEW)
    assert path.stat().st_mode & 0o777 == 0o664


def test_keeps_a_link_and_replaces_what_it_points_to(tmp_path: Path) -> None:
    (tmp_path / "real").mkdir()
    real, link = tmp_path / "real" / "job.yaml", tmp_path / "job.yaml"
    real.write_bytes(OLD)
    link.symlink_to(real)
    write_atomic(link, NEW)
    assert link.is_symlink()
    assert real.read_bytes() == NEW


def test_refuses_a_folder_of_that_name(tmp_path: Path) -> None:
    (tmp_path / "job.yaml").mkdir()
    assert refused(tmp_path / "job.yaml") == "SAVE-304"


def test_refuses_a_folder_that_is_not_there(tmp_path: Path) -> None:
    assert refused(tmp_path / "nowhere" / "job.yaml") == "SAVE-306"


def test_refuses_to_overwrite_what_somebody_else_saved(tmp_path: Path) -> None:
    path = tmp_path / "job.yaml"
    path.write_bytes(b"theirs")
    assert refused(path, expected=OLD) == "SAVE-308"
    assert path.read_bytes() == b"theirs"
    assert names(tmp_path) == ["job.yaml"]


@pytest.mark.parametrize(
    ("number", "code"),
    [
        (errno.ENOSPC, "SAVE-303"),
        (errno.EDQUOT, "SAVE-303"),
        (errno.EROFS, "SAVE-302"),
        (errno.EIO, "SAVE-306"),
    ],
)
@pytest.mark.parametrize("step", ["fsync", "replace"])
def test_a_failure_at_any_step_leaves_the_old_file_alone(
    step: str, number: int, code: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = tmp_path / "job.yaml"
    path.write_bytes(OLD)

    def fail(*_: object) -> None:
        raise OSError(number, os.strerror(number))

    monkeypatch.setattr(os, step, fail)
    assert refused(path) == code
    assert path.read_bytes() == OLD
    assert names(tmp_path) == ["job.yaml"]


def test_an_interrupt_leaves_the_old_file_and_nothing_else(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = tmp_path / "job.yaml"
    path.write_bytes(OLD)

    def interrupt(*_: object) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr(os, "fsync", interrupt)
    with pytest.raises(KeyboardInterrupt):
        write_atomic(path, NEW)
    assert path.read_bytes() == OLD
    assert names(tmp_path) == ["job.yaml"]


def test_forces_the_bytes_to_the_disk_before_it_takes_the_old_file_s_place(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    steps: list[str] = []
    for name in ("fsync", "replace"):
        real = getattr(os, name)
        monkeypatch.setattr(os, name, lambda *a, n=name, r=real: (steps.append(n), r(*a))[1])
    write_atomic(tmp_path / "job.yaml", NEW)
    assert steps == ["fsync", "replace", "fsync"]  # the file, the step, the folder


def test_clears_only_the_parts_of_processes_that_are_gone(tmp_path: Path) -> None:
    path = tmp_path / "job.yaml"
    code = "import os; from sumpwright.atomic import _part_name; print(_part_name('job.yaml'))"
    gone = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    dead = tmp_path / gone.stdout.strip()
    ours = tmp_path / dead.name.replace(f".{_pid(dead)}.", f".{os.getpid()}.")
    far = tmp_path / f".job.yaml.another-host.{_pid(dead)}.0123abcd.sumpwright-part"
    stale = tmp_path / f".job.yaml.another-host.{_pid(dead)}.0123abce.sumpwright-part"
    others = [tmp_path / ".job.yaml.swp", tmp_path / ".x.yaml.h.1.0123abcd.sumpwright-part"]
    for part in (dead, ours, far, stale, *others):
        part.touch()
    os.utime(stale, (time.time() - 7200,) * 2)
    clear_leftovers(path)
    assert names(tmp_path) == sorted(p.name for p in (ours, far, *others))


def _pid(part: Path) -> str:
    return part.name.split(".")[-3]


def test_says_a_write_protected_file_and_leaves_it(tmp_path: Path, bound) -> None:
    path = tmp_path / "job.yaml"
    path.write_bytes(OLD)
    path.chmod(0o444)
    said = bound(
        f"from sumpwright.atomic import write_atomic; write_atomic(Path({str(path)!r}), b'')"
    )
    assert "[SAVE-301]" in said
    assert path.read_bytes() == OLD


def test_says_a_write_protected_folder(tmp_path: Path, bound) -> None:
    path = tmp_path / "shut" / "job.yaml"
    path.parent.mkdir()
    path.write_bytes(OLD)
    path.parent.chmod(0o555)
    said = bound(
        f"from sumpwright.atomic import write_atomic; write_atomic(Path({str(path)!r}), b'')"
    )
    path.parent.chmod(0o755)
    assert "[SAVE-302]" in said
    assert path.read_bytes() == OLD


FULL = (
    "import sys; from pathlib import Path; from sumpwright.errors import InputError\n"
    "from sumpwright.atomic import write_atomic\n"
    "{limit}"
    "try:\n    write_atomic(Path(sys.argv[1]), b'x' * 1_000_000)\n"
    "except InputError as err:\n    print(err)\n"
)


def test_says_a_file_that_grows_over_the_limit_and_keeps_the_old_one(tmp_path: Path) -> None:
    path = tmp_path / "job.yaml"
    path.write_bytes(OLD)
    limit = "import resource; resource.setrlimit(resource.RLIMIT_FSIZE, (65536, 65536))\n"
    code = FULL.format(limit=limit)
    done = subprocess.run(
        [sys.executable, "-c", code, path], capture_output=True, text=True, check=True
    )
    assert "[SAVE-303]" in done.stdout
    assert path.read_bytes() == OLD
    assert names(tmp_path) == ["job.yaml"]


def test_says_a_full_disk_and_keeps_the_old_file(tmp_path: Path) -> None:
    if shutil.which("unshare") is None or os.geteuid() != 0:
        pytest.skip("a small disk can only be mounted by root")
    path = tmp_path / "disk" / "job.yaml"
    path.parent.mkdir()
    script = (
        'mount -t tmpfs -o size=64k tmpfs "$1" || exit 77; printf old > "$1/job.yaml"; '
        '"$2" -c "$3" "$1/job.yaml"; cat "$1/job.yaml"; ls -A "$1"'
    )
    done = subprocess.run(
        [
            "unshare",
            "-m",
            "sh",
            "-c",
            script,
            "sh",
            path.parent,
            sys.executable,
            FULL.format(limit=""),
        ],
        capture_output=True,
        text=True,
        check=False,
    )
    if done.returncode in (1, 77) and not done.stdout:
        pytest.skip(f"mounting is not allowed here: {done.stderr}")
    assert "[SAVE-303]" in done.stdout
    assert done.stdout.endswith("oldjob.yaml\n")


LOOP = (
    "import sys; from pathlib import Path; from sumpwright.atomic import write_atomic\n"
    "path = Path(sys.argv[1]); versions = [b'# old\\n' * 50_000, b'# new\\n' * 60_000]\n"
    "print('ready', flush=True)\n"
    "for i in range(10**9):\n    write_atomic(path, versions[i % 2])\n"
)


@pytest.mark.slow
def test_a_killed_save_leaves_one_whole_version(tmp_path: Path) -> None:
    path = tmp_path / "job.yaml"
    whole = {b"# old\n" * 50_000, b"# new\n" * 60_000}
    write_atomic(path, next(iter(whole)))
    random.seed(4)  # moments differ by load anyway
    left_behind = 0
    for _ in range(30):
        with subprocess.Popen(
            [sys.executable, "-c", LOOP, path], stdout=subprocess.PIPE, text=True
        ) as saver:
            assert saver.stdout is not None
            assert saver.stdout.readline() == "ready\n"
            time.sleep(random.uniform(0.0, 0.03))
            saver.send_signal(signal.SIGKILL)
        assert path.read_bytes() in whole
        left_behind += len(names(tmp_path)) - 1
        clear_leftovers(path)
        assert names(tmp_path) == ["job.yaml"]
    assert left_behind > 0, "no kill hit a save half way: the test proved nothing"
