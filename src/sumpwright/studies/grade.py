# SPDX-License-Identifier: Apache-2.0
"""Does the oil's grade exist? The job file takes any text there; the oil knows its table."""

from sumpwright.errors import Problem, RangeError
from sumpwright.job.model import Job
from sumpwright.job.tree import Tree


def grade_problems(job: Job, tree: Tree) -> list[Problem]:
    """A problem where the job's oil is of a grade that the table does not have."""
    from sumpwright.oil.grade import EDITION, grade_name

    if job.oil.grade is None:
        return []
    try:
        grade_name(job.oil.grade)
    except RangeError as err:
        near = str(err).partition("near: ")[2]
        do = f"write it as on the bottle, such as {near or '10W-40'}"
        keys = ("oil", "grade")
        return [
            Problem(
                "JOB-134",
                tree.where(keys),
                tree.typed(keys),
                f"a grade of SAE J300 ({EDITION})",
                do,
            )
        ]
    return []
