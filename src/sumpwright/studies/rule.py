# SPDX-License-Identifier: Apache-2.0
"""What a requirement is made of: what is asked, where it comes from, how it is judged."""

from collections.abc import Callable
from dataclasses import dataclass

from sumpwright.job.model import Job
from sumpwright.studies.result import Clearance, PanFill, PanHold

PRACTICE = "common practice, no source"


@dataclass(frozen=True)
class Evidence:
    """What the studies found."""

    job: Job
    fill: PanFill | None
    clearance: Clearance | None
    hold: PanHold | None


@dataclass(frozen=True)
class Judged:
    """A value against a limit, both in the requirement's unit; larger is better."""

    value: float
    limit: float
    reason: str = ""


@dataclass(frozen=True)
class Unjudged:
    """Why nothing can be said, as `needs ...`."""

    reason: str
    limit: float | None = None


Answer = Judged | Unjudged
Judge = Callable[[Evidence], Answer]


@dataclass(frozen=True)
class Rule:
    """One requirement: what is asked, where it comes from, how it is judged."""

    id: str
    statement: str
    kind: str
    source: str
    formula: str
    judge: Judge


def number(limit: float | str) -> float:
    """A limit that is not one of the words; rules that are off are never judged."""
    return limit if isinstance(limit, float) else 0.0
