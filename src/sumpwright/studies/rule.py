# SPDX-License-Identifier: Apache-2.0
"""What a requirement is made of: what is asked, where it comes from, how it is judged."""

from collections.abc import Callable
from dataclasses import dataclass

from sumpwright.job.model import Job
from sumpwright.studies.feed_result import Feed
from sumpwright.studies.motion_hold_result import MotionHold
from sumpwright.studies.result import Clearance, PanFill, PanHold

PRACTICE = "common practice, no source"


@dataclass(frozen=True)
class Evidence:
    """What the studies found."""

    job: Job
    fill: PanFill | None
    clearance: Clearance | None
    hold: PanHold | None
    feed: Feed | None = None
    motion: MotionHold | None = None


@dataclass(frozen=True)
class Judged:
    """A value against a limit, both in the requirement's unit; larger is better, or smaller."""

    value: float
    limit: float
    reason: str = ""
    at_most: bool = False
    """Smaller is better"""

    @property
    def margin(self) -> float:
        """Positive is to the good."""
        return self.limit - self.value if self.at_most else self.value - self.limit


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
    """Of the formula; empty where it is plain geometry."""
    formula: str
    judge: Judge
    practice: str = PRACTICE
    """Where the limit comes from when nobody typed one."""
    typed: bool = False
    """The limit was typed elsewhere than under `requirements`."""
    by_stock: str = "the stock pan's own"
    """Where the limit comes from when it is left to the stock pan."""
    key: str = ""
    """The limit's key under `requirements`, where it is not `id`."""
    moving: bool = False
    """Judged by oil in motion."""

    def origin(self, job: Job) -> str:
        """Where the formula and the limit come from."""
        key, limits = self.key or self.id, job.requirements
        limit = self.practice
        if self.typed or key in limits.model_fields_set:
            limit = "the job file"
        if not self.typed and getattr(limits, key) == "stock":
            limit = self.by_stock
        return "; ".join(filter(None, (self.source, f"limit: {limit}")))


def number(limit: float | str) -> float:
    """A limit that is not one of the words; rules that are off are never judged."""
    return limit if isinstance(limit, float) else 0.0
