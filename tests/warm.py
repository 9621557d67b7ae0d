# SPDX-License-Identifier: Apache-2.0
"""The demo jobs with their geometry read: once in a run of the tests, whoever needs it first.

What is kept is found by the bytes of the files and the code's version, so a copy begins as a
person's second look at a job does, some 17 s of work later than a first.
"""

import fcntl
import os
import shutil
from collections.abc import Callable
from pathlib import Path

import pytest

EXAMPLES = Path(__file__).parents[1] / "examples"


@pytest.fixture(scope="session")
def warm(tmp_path_factory: pytest.TempPathFactory) -> Callable[[str], Path]:
    """Folder of a demo job that has been checked; to be copied, or read only."""
    base = tmp_path_factory.getbasetemp()
    shared = (base.parent if "PYTEST_XDIST_WORKER" in os.environ else base) / "warm"

    def folder(name: str) -> Path:
        shared.mkdir(exist_ok=True)
        with (shared / f"{name}.lock").open("w") as lock:
            fcntl.flock(lock, fcntl.LOCK_EX)
            if not (shared / name).is_dir():
                _read_once(shared / "part" / name).rename(shared / name)
        return shared / name

    return folder


def _read_once(part: Path) -> Path:
    from sumpwright.studies.check import check

    shutil.rmtree(part, ignore_errors=True)
    shutil.copytree(EXAMPLES / part.name, part, ignore=shutil.ignore_patterns("out"))
    check(part)
    return part
