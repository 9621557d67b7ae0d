# SPDX-License-Identifier: Apache-2.0
"""An oil whose grade does not exist is said with its line, beside all other problems."""

import pytest

from sumpwright.errors import InputError
from sumpwright.job.load import read_job
from sumpwright.studies.grade import grade_problems

JOB = "job: x\nnew: {{cavity: geometry/new.step}}\noil:\n  fill: 4 L\n  grade: {}\n"


def problems(tmp_path, grade: str, more: str = "") -> dict[str, str]:
    (tmp_path / "geometry").mkdir()
    (tmp_path / "geometry" / "new.step").touch()
    try:
        read_job(JOB.format(grade) + more, tmp_path / "job.yaml", (grade_problems,))
    except InputError as err:
        return {p.code: f"{p.where} | {p.do}" for p in err.problems}
    return {}


@pytest.mark.parametrize("grade", ["10W-40", "sae 30", "5w30", "0W-8"])
def test_takes_grades_as_people_type_them(tmp_path, grade: str) -> None:
    assert problems(tmp_path, grade) == {}


@pytest.mark.parametrize("grade", ["banana", "10W-45", "11W-40", "W"])
def test_refuses_a_grade_that_is_not_in_the_table(tmp_path, grade: str) -> None:
    (said,) = problems(tmp_path, grade).values()
    assert said.startswith("job.yaml:5  oil.grade | write it as on the bottle, such as ")


def test_says_it_beside_other_contradictions(tmp_path) -> None:
    found = problems(tmp_path, "banana", "  low: 5 L\n")
    assert set(found) == {"JOB-131", "JOB-134"}
