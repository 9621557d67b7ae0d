# SPDX-License-Identifier: Apache-2.0
"""What speaks against making a revision as it stands."""

from collections.abc import Iterator, Sequence
from typing import Any

from sumpwright.errors import InputError, Problem
from sumpwright.studies.result import CheckResult

ANYWAY = "or say --anyway: the pack then says on its first page what speaks against it"


def ledger_problems(check: CheckResult) -> Iterator[Problem]:
    """A problem for every requirement that is not met."""
    for line in check.requirements:
        if line.state == "not met":
            yield Problem(
                "MAKE-501",
                f"requirements.{line.id}",
                line.reason or "not met",
                line.statement,
                f"mend the pan or the job (`sumpwright check` has the figures), {ANYWAY}",
            )


def verdict_problems(what: str, command: str, result: Any) -> Iterator[Problem]:
    """A problem where a study says that its part cannot be made as it is."""
    if result is None or result.verdict != "not met":
        return
    lacks = getattr(result, "lacks", ())
    found = "; ".join(lacks) or getattr(result, "summary", "") or _errors(result)
    yield Problem(
        "MAKE-502",
        what,
        found or "not met",
        f"{what} that can be made",
        f"look at `sumpwright {command}`, change the numbers, {ANYWAY}",
    )


def _errors(result: Any) -> str:
    return "; ".join(f"{f.place}: {f.found}" for f in result.findings if f.severity == "error")


def study_problem(what: str, err: InputError) -> Problem:
    """Why a part that the job asks for could not be worked out."""
    first = err.problems[0]
    more = len(err.problems) - 1
    also = f" (and {more} more)" if more else ""
    found = f"{first.found} [{first.code}]{also}"
    return Problem("MAKE-503", f"{what}: {first.where}", found, first.needed, first.do)


def stale_problem(before: str, after: str) -> Problem:
    """The job changed while its pack was being made."""
    return Problem(
        "MAKE-504",
        "the job",
        f"inputs {after[:12]} now, {before[:12]} when the pack was begun",
        "one and the same job from the first file to the last",
        "do it again; nothing was written",
    )


def refuse(problems: Sequence[Problem], *, anyway: bool) -> None:
    """InputError with all of them, unless the person wants the pack all the same."""
    if problems and not anyway:
        raise InputError(problems)
