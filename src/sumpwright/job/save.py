# SPDX-License-Identifier: Apache-2.0
"""Save a job: one value at a time, checked before it is written, whole or not at all."""

from collections import Counter
from dataclasses import dataclass
from pathlib import Path

from sumpwright.atomic import clear_leftovers, write_atomic, write_problem
from sumpwright.errors import InputError, Problem
from sumpwright.job.edit import keys_of, with_value
from sumpwright.job.load import (
    MOST_BYTES,
    Checks,
    job_path,
    plain_text,
    read_bytes,
    read_job,
    too_large,
)
from sumpwright.job.problem import unknown_key
from sumpwright.job.schema import need_at
from sumpwright.job.tree import dotted, read_tree

__all__ = [
    "Change",
    "clear_leftovers",
    "save_text",
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
    left = save_text(path, before, new, checks)
    after = read_tree(plain_text(new), path.name)
    return Change(
        dotted(keys), tree.typed(keys), after.typed(keys), after.line_of(keys), path, left
    )


def save_text(path: Path, before: bytes, new: str, checks: Checks = ()) -> tuple[Problem, ...]:
    """Put `new` in the job file that holds `before`; the problems that it had and still has.

    Refused, with nothing written, where `new` brings a problem that was not there before.
    """
    data = new.encode("utf-8")
    if len(data) > MOST_BYTES:
        raise InputError([too_large(path, len(data))])
    had = _problems(plain_text(before.decode("utf-8")), path, checks)
    left = _problems(plain_text(new), path, checks)
    fresh = _fresh(had, left)
    if fresh:
        raise InputError(fresh)
    write_atomic(path, data, expected=before)
    return left


def _problems(text: str, path: Path, checks: Checks) -> tuple[Problem, ...]:
    try:
        read_job(text, path, checks)
    except InputError as err:
        return err.problems
    return ()


def _fresh(had: tuple[Problem, ...], left: tuple[Problem, ...]) -> list[Problem]:
    """The problems of `left` that were not there before.

    Entries of a list move up when one goes, so a problem counts as the same in any entry.
    """
    before, after = (Counter(_in_any_entry(p) for p in found) for found in (had, left))
    more = [p for p in left if after[_in_any_entry(p)] > before[_in_any_entry(p)]]
    places = {_key(p) for p in had}
    return [p for p in more if _key(p) not in places] or more


def _in_any_entry(problem: Problem) -> tuple[str, str, str]:
    key = ".".join(part for part in _key(problem).split(".") if not part.isdigit())
    return problem.code, key, problem.found


def _key(problem: Problem) -> str:
    return problem.where.partition("  ")[2] or problem.where
