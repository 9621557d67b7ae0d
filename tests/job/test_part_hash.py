# SPDX-License-Identifier: Apache-2.0
"""Evidence holds for a part as long as the part is the same."""

from pathlib import Path

import pytest

from sumpwright.job.load import load_job
from sumpwright.job.revision import part_hash

JOB = """\
job: Bench engine
new:
  name: Low pan
  cavity: {file: geometry/new.stl, unit: mm}
oil:
  fill: 4.6 L
"""
SAME = {
    "the revision": JOB + "revision: C\n",
    "a limit": JOB + "requirements: {ground: 90 mm}\n",
    "where the engine sits": JOB + "pose: {roll: 1 deg}\n",
    "what the pan is called": JOB.replace("Low pan", "Pan C"),
    "the unit a value is typed in": JOB.replace("4.6 L", "4600 mL"),
}
OTHER = {
    "the fill": JOB.replace("4.6 L", "4.7 L"),
    "another file": JOB.replace("new.stl", "other.stl"),
    "a pickup": JOB.replace(
        "oil:",
        "  pickup: {centre: [0 mm, 0 mm, -90 mm], diameter: 40 mm, facing: [0, 0, -1]}\noil:",
    ),
}


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    (tmp_path / "geometry").mkdir()
    (tmp_path / "geometry" / "new.stl").write_bytes(b"one")
    (tmp_path / "geometry" / "other.stl").write_bytes(b"another")
    return tmp_path


def hash_of(folder: Path, text: str) -> str:
    (folder / "job.yaml").write_text(text, encoding="utf-8")
    return part_hash(load_job(folder))


@pytest.mark.parametrize("what", SAME)
def test_stays_over_a_change_of(what: str, folder: Path) -> None:
    assert hash_of(folder, SAME[what]) == hash_of(folder, JOB)


@pytest.mark.parametrize("what", OTHER)
def test_is_changed_by(what: str, folder: Path) -> None:
    assert hash_of(folder, OTHER[what]) != hash_of(folder, JOB)


def test_is_changed_by_the_bytes_of_the_pan_s_file(folder: Path) -> None:
    before = hash_of(folder, JOB)
    (folder / "geometry" / "new.stl").write_bytes(b"drawn again")
    assert hash_of(folder, JOB) != before
