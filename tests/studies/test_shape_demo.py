# SPDX-License-Identifier: Apache-2.0
"""The demo's second pan drawn from numbers is judged as its STEP files are."""

import shutil
from collections.abc import Callable
from pathlib import Path

import pytest

from sumpwright.studies.check import check

EXAMPLES = Path(__file__).parents[2] / "examples"


def _between(text: str, start: str, end: str) -> str:
    return text[text.index(start) : text.index(end, text.index(start))]


@pytest.mark.slow
def test_check_says_the_same_of_numbers_and_of_files(
    warm: Callable[[str], Path], tmp_path: Path
) -> None:
    first, last = warm("demo-b"), EXAMPLES / "demo-c"
    folder = tmp_path / "job"
    shutil.copytree(first, folder)
    drawn = (last / "job.yaml").read_text(encoding="utf-8")
    shape = _between(drawn, "  shape:", "  split:")
    rail = _between(drawn, "\nrail:", "\n  opening:")
    text = (first / "job.yaml").read_text(encoding="utf-8")
    files = _between(text, "  cavity:", "  pickup:")
    assert "new-outside.step" in files
    (folder / "job.yaml").write_text(text.replace(files, shape) + rail + "\n", encoding="utf-8")
    one, two = check(folder), check(first)
    assert one.verdict == two.verdict
    assert [(r.id, r.state) for r in one.requirements] == [
        (r.id, r.state) for r in two.requirements
    ]
    for mine, other in zip(one.requirements, two.requirements, strict=True):
        if isinstance(other.value, float):
            # zones are typed to 0.01 mm, and both are triangles within 5e-5 m
            assert mine.value == pytest.approx(other.value, rel=2e-3, abs=1e-4), mine.id
