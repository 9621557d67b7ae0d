# SPDX-License-Identifier: Apache-2.0
"""What logs must have shown before a release: so much g each way, held without a dip."""

from collections.abc import Callable

from sumpwright.geometry.frame import STANDARD_GRAVITY
from sumpwright.job.model import Job
from sumpwright.job.record import LogRecord, LogSide
from sumpwright.studies.proof_case import Case, Seen, Unseen
from sumpwright.studies.rule import number
from sumpwright.studies.target import hold_time

_STEP = 0.01
"""Of g: a dip at just what is asked means that it was not held."""


def driven(turn: str) -> Callable[[Case], Seen | Unseen]:
    def judge(case: Case) -> Seen | Unseen:
        limit = asked_g(case.loaded.job, turn)
        sides = [
            (f, s)
            for f in case.of("log")
            if isinstance(f.record, LogRecord)
            for s in f.record.sides
            if s.turn == turn
        ]
        sides = [(f, _long_enough(s, case)) for f, s in sides]
        if not any(s.held is not None or s.dips for _, s in sides):
            why = "".join(f"; {f.name} {f.record.note}" for f, _ in sides if f.record.note)
            return case.unseen("log", f"a log read, {WAY[turn]}{why}", limit)
        value, why = _held([s for _, s in sides], limit)
        return Seen(value, limit, why, tuple(dict.fromkeys(f.name for f, _ in sides)))

    return judge


def _long_enough(side: LogSide, case: Case) -> LogSide:
    """What was held for less time than turns must now hold is not held."""
    asked = hold_time(case.loaded.job)
    if side.turn == "brake" or side.held_for is None or side.held_for >= asked - 1e-6:
        return side
    return side.model_copy(update={"held": None})


WAY = {"left": "turning left", "right": "turning right", "brake": "braking"}


def _held(sides: list[LogSide], limit: float) -> tuple[float, str]:
    """Largest g without a dip over all logs, in g; a dip at or below what is asked ends it."""
    held = max((s.held / STANDARD_GRAVITY for s in sides if s.held is not None), default=0.0)
    dips = sum(s.dips for s in sides)
    if not dips:
        return held, "largest held without a dip"
    least = min(
        0.0 if s.least_dip is None else s.least_dip / STANDARD_GRAVITY for s in sides if s.dips
    )
    if least > limit and held >= limit:
        return held, f"{dips} dips, all above what is asked, the first at {least:.2f} g"
    where = f"the first at {least:.2f} g" if least > 0.0 else "at a g that is not known"
    return min(held, max(0.0, least - _STEP)), f"{dips} dips, {where}"


def asked_g(job: Job, turn: str) -> float:
    """What a log must have held without a dip that way [g]; 0 where nothing is asked."""
    limits = job.requirements
    asked = getattr(limits, f"proof_{turn}")
    if asked == "target":
        asked = getattr(limits, f"target_{turn}")
    return number(asked) / STANDARD_GRAVITY


def asks_g(turn: str) -> Callable[[Case], bool]:
    """A target that is off asks for nothing in a log either."""
    return lambda case: asked_g(case.loaded.job, turn) > 0.0
