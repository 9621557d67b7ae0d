# SPDX-License-Identifier: Apache-2.0
"""A job folder to spoil: small, valid, with a file that is there."""

from collections.abc import Callable
from pathlib import Path

import pytest

MakeJob = Callable[[str], Path]

SMALL = """\
# the smallest job
job: Bench engine  # its name
new:
  cavity: {file: geometry/new.stl, unit: mm}
oil:
  fill: 4.6 L
"""


@pytest.fixture
def make_job(tmp_path: Path) -> MakeJob:
    """Writes a job.yaml beside geometry/new.stl and new.step, and gives the folder."""

    def make(text: str) -> Path:
        folder = tmp_path / "job"
        (folder / "geometry").mkdir(parents=True, exist_ok=True)
        for name in ("new.stl", "new.step"):
            (folder / "geometry" / name).write_bytes(b"not read by the loader")
        (folder / "job.yaml").write_bytes(text.encode("utf-8"))
        return folder

    return make


@pytest.fixture
def small() -> str:
    return SMALL
