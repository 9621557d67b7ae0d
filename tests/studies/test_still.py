# SPDX-License-Identifier: Apache-2.0
"""The quick verdict is the whole verdict less what moves, line for line."""

from dataclasses import replace
from pathlib import Path

from sumpwright.studies.check import check, still
from tests.studies.proof_job import doored_job


def test_every_line_of_the_quick_verdict_is_one_of_the_whole(tmp_path: Path) -> None:
    folder = doored_job(tmp_path)
    quick, whole = still(folder), check(folder)
    lines = {line.id: line for line in whole.requirements}
    assert quick.requirements
    assert [lines[line.id] for line in quick.requirements] == list(quick.requirements)


def test_what_moves_is_left_out_rather_than_called_not_judged(tmp_path: Path) -> None:
    folder = doored_job(tmp_path)
    quick, whole = still(folder), check(folder)
    left = {r.id for r in whole.requirements} - {r.id for r in quick.requirements}
    assert left
    assert all(id.startswith(("target_", "dry_spell.", "inlet.")) for id in left)
    assert quick.motion is None
    assert quick == replace(
        whole,
        requirements=quick.requirements,
        verdict=quick.verdict,
        summary=quick.summary,
        assumptions=quick.assumptions,
        findings=quick.findings,
        motion=None,
    )
