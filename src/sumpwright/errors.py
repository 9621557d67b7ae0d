# SPDX-License-Identifier: Apache-2.0
"""What can go wrong, said so that a person can mend it.

Three kinds. `InputError`: the person's input, one or more `Problem`s, exit status 2.
`RangeError`: a formula was asked outside the range its source covers. `SolveError`: an
iteration did not converge. Anything else is our bug and may show a traceback.
"""

from collections.abc import Iterable
from dataclasses import dataclass, replace


@dataclass(frozen=True)
class Problem:
    """One thing wrong with the input: where, what was found, what is needed, what to do."""

    code: str
    """Stable code with a heading in docs/problems.md, such as ``JOB-101``."""
    where: str
    """``file:line  key`` or ``file`` and a place in it."""
    found: str
    """What was found, as typed."""
    needed: str
    """What would be right, in the person's unit."""
    do: str
    """The mend, as an instruction."""

    def __str__(self) -> str:
        return (
            f"{self.where}  [{self.code}]\n"
            f"  found   {self.found}\n"
            f"  needed  {self.needed}\n"
            f"  do      {self.do}"
        )


class SumpwrightError(Exception):
    """Base of every error that Sumpwright raises on purpose."""


class InputError(SumpwrightError):
    """The person's input cannot be used; holds every problem that was found."""

    def __init__(self, problems: Iterable[Problem]) -> None:
        self.problems = tuple(problems)
        super().__init__("\n\n".join(str(p) for p in self.problems))

    def placed(self, where: str) -> "InputError":
        """The same problems, each one's place preceded by the job-file key it came through."""
        return InputError(replace(p, where=f"{where} -> {p.where}") for p in self.problems)


class RangeError(SumpwrightError, ValueError):
    """A value is outside the range a formula or a body covers; the text has value and limit."""


class SolveError(SumpwrightError):
    """An iteration did not converge; the text has iterations, residual and what to try."""


@dataclass(frozen=True)
class Finding:
    """Something a reader noticed about a file that it could still read."""

    code: str
    place: str
    """Where, with numbers: ``3 open edges near x 112 mm, y -40 mm, z -8 mm``."""
    found: str
    repair: str
    """What a repair would do, or did; empty where none is possible."""
    severity: str = "error"
    """``error``: the file cannot be judged as it is; ``note``: it can, but should be known."""
