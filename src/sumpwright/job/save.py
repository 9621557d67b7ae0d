# SPDX-License-Identifier: Apache-2.0
"""Save a job: one value at a time, checked before it is written, whole or not at all."""

from dataclasses import dataclass
from pathlib import Path

from sumpwright.atomic import clear_leftovers, write_atomic, write_problem
from sumpwright.errors import InputError, Problem
from sumpwright.job.edit import keys_of, with_value
from sumpwright.job.load import Checks, job_path, plain_text, read_bytes, read_job
from sumpwright.job.problem import unknown_key
from sumpwright.job.schema import need_at
from sumpwright.job.tree import dotted, read_tree

__all__ = [
    "Change",
    "clear_leftovers",
    "set_value",
    "with_value",
    "write_atomic",
    "write_problem",
]


@dataclass(frozen=True)
class Change:
    """One value that was changed, and what is still wrong with the job."""

    key: str
    before: str
    after: str
    line: int
    path: Path
    left: tuple[Problem, ...]
    """Problems that the job had before and still has."""


def set_value(folder_or_file: Path, key: str, new_text: str, checks: Checks = ()) -> Change:
    """Put `new_text` at the dotted `key`; refused, with nothing written, where that brings a
    problem that the job did not have before."""
    path = job_path(folder_or_file)
    before = read_bytes(path)
    text = before.decode("utf-8")
    tree = read_tree(plain_text(text), path.name)
    keys = keys_of(tree, key)
    for end in range(1, len(keys) + 1):
        if need_at(keys[:end]) is None:
            raise InputError([unknown_key(keys[:end], tree)])
    new = with_value(text, keys, new_text)
    old_problems = _problems(plain_text(text), path, checks)
    left = _problems(plain_text(new), path, checks)
    known = {_without_line(p) for p in old_problems}
    if any(_without_line(p) not in known for p in left):
        raise InputError(p for p in left if _without_line(p) not in known)
    write_atomic(path, new.encode("utf-8"), expected=before)
    after = read_tree(plain_text(new), path.name)
    return Change(
        dotted(keys), tree.typed(keys), after.typed(keys), after.line_of(keys), path, left
    )


def _problems(text: str, path: Path, checks: Checks) -> tuple[Problem, ...]:
    try:
        read_job(text, path, checks)
    except InputError as err:
        return err.problems
    return ()


def _without_line(problem: Problem) -> tuple[str, str, str]:
    key = problem.where.partition("  ")[2] or problem.where
    return problem.code, key, problem.found
