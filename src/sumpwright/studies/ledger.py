# SPDX-License-Identifier: Apache-2.0
"""The job's limits as a ledger: what is met, what is not and by how much, what cannot be judged."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass

from sumpwright.geometry.frame import STANDARD_GRAVITY
from sumpwright.job.model import Job
from sumpwright.studies.result import Clearance, ObstacleGap, PanFill, PanHold, Requirement, State

PRACTICE = "common practice, no source"
DRAWDOWN = "[Lubin-Springer-1967] draw-down; limit: common practice, no source"
SI_UNIT = {"length": "m", "volume": "m3", "acceleration": "g", "angle": "deg"}


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


def ledger(evidence: Evidence) -> tuple[Requirement, ...]:
    """Every requirement that the job has not turned off, in the order of the work."""
    return tuple(_line(rule, rule.judge(evidence)) for rule in _rules(evidence))


def _line(rule: Rule, answer: Answer) -> Requirement:
    judged = isinstance(answer, Judged)
    margin = answer.value - answer.limit if isinstance(answer, Judged) else None
    state: State = "not judged" if margin is None else "met" if margin >= 0.0 else "not met"
    return Requirement(
        id=rule.id,
        statement=rule.statement,
        limit=answer.limit,
        value=answer.value if isinstance(answer, Judged) else None,
        margin=margin,
        unit=SI_UNIT[rule.kind],
        kind=rule.kind,
        source=rule.source,
        state=state,
        formula=rule.formula if judged else "",
        reason=answer.reason,
    )


def _rules(evidence: Evidence) -> Iterator[Rule]:
    limits = evidence.job.requirements
    for rule in (*_fill_rules(), *_clearance_rules(evidence), *_hold_rules()):
        if getattr(limits, rule.id, None) != "off":  # an obstacle's own gap has no key there
            yield rule


# -- capacity and crank --------------------------------------------------------------------------


def _fill_rules() -> Iterator[Rule]:
    yield Rule(
        "capacity",
        "The pan holds the oil asked for, crank gap kept",
        "volume",
        PRACTICE,
        "volume below the highest hot level that keeps the crank gap and the rail, at cold density",
        _capacity,
    )
    yield Rule(
        "crank_gap",
        "Oil at rest, hot, stays clear of the crank sweep",
        "length",
        PRACTICE + " (15 to 25 mm)",
        "lowest point of the sweep along up, less the hot surface at the full mark",
        _crank_gap,
    )


def _capacity(evidence: Evidence) -> Answer:
    fill, asked = evidence.fill, evidence.job.requirements.capacity
    if fill is None:
        return Unjudged("needs a fill: `oil.fill`, or the dipstick's `full`")
    if asked == "stock":
        if fill.stock is None:
            return Unjudged("needs the stock pan and its fill, or a limit in litres")
        return Judged(
            fill.usable_m3, fill.stock.full_m3, f"the surface is held by {fill.usable_by}"
        )
    assert isinstance(asked, float)
    return Judged(fill.usable_m3, asked, f"the surface is held by {fill.usable_by}")


def _crank_gap(evidence: Evidence) -> Answer:
    fill, limit = evidence.fill, _number(evidence.job.requirements.crank_gap)
    if fill is None or fill.crank_gap_m is None:
        return Unjudged("needs a fill and `engine.crank_sweep`", limit)
    return Judged(fill.crank_gap_m, limit, "at the full mark, level ground")


# -- room ----------------------------------------------------------------------------------------


def _clearance_rules(evidence: Evidence) -> Iterator[Rule]:
    found = evidence.clearance
    formula = "smallest signed distance of the skins, over every case of engine movement"
    if found is None or not found.obstacles:
        yield Rule(
            "clearance",
            "The pan clears what is round it",
            "length",
            PRACTICE,
            formula,
            lambda e: Unjudged(
                "needs `new.outside` and `obstacles`", _number(e.job.requirements.clearance)
            ),
        )
    for gap in found.obstacles if found is not None else ():
        if gap.needed_m is not None:
            yield Rule(
                f"clearance.{_slug(gap.obstacle)}",
                f"The pan clears the {gap.obstacle}",
                "length",
                PRACTICE,
                formula,
                _gap_judge(gap),
            )
    yield Rule(
        "guard",
        "The crossmember hangs lower than the pan",
        "length",
        PRACTICE,
        "lowest point of the pan less lowest point of the guard, lowest case of movement",
        _guard,
    )
    yield Rule(
        "ground",
        "The pan clears the ground at ride height",
        "length",
        PRACTICE + "; local rules go first",
        "lowest point of the pan over z = 0, lowest case of movement",
        _ground,
    )
    yield Rule(
        "ground_at_bump",
        "The pan clears the ground at full bump",
        "length",
        PRACTICE,
        "lowest point of the pan over z = 0, less the bump travel",
        _ground_at_bump,
    )


def _gap_judge(gap: ObstacleGap) -> Judge:
    assert gap.needed_m is not None
    return lambda _: Judged(gap.worst.gap_m, gap.needed_m or 0.0, f"worst case: {gap.worst.case}")


def _guard(evidence: Evidence) -> Answer:
    limit = _number(evidence.job.requirements.guard)
    line = evidence.clearance.guard if evidence.clearance is not None else None
    if line is None:
        return Unjudged("needs `new.outside` and an obstacle with `guard: true`", limit)
    return Judged(line.margin_m, limit, f"against the {line.obstacle}; worst case: {line.case}")


def _ground(evidence: Evidence) -> Answer:
    limit = _number(evidence.job.requirements.ground)
    found = evidence.clearance
    if found is None or found.ground_m is None:
        return Unjudged("needs `new.outside` and `pose.height`", limit)
    return Judged(found.ground_m, limit)


def _ground_at_bump(evidence: Evidence) -> Answer:
    limit = _number(evidence.job.requirements.ground_at_bump)
    found = evidence.clearance
    if found is None or found.ground_at_bump_m is None:
        return Unjudged("needs `new.outside`, `pose.height` and `ride.bump_travel`", limit)
    return Judged(found.ground_at_bump_m, limit)


# -- hold ----------------------------------------------------------------------------------------

_TURNS = (
    ("left", "in a left turn"),
    ("right", "in a right turn"),
    ("brake", "under braking"),
    ("accelerate", "accelerating"),
)
_SLOPES = (
    ("slope_up", "nose uphill", ("slope_up_deg",)),
    ("slope_down", "nose downhill", ("slope_down_deg",)),
    ("slope_side", "either side uphill", ("slope_left_deg", "slope_right_deg")),
)


def _hold_rules() -> Iterator[Rule]:
    static = "largest steady g with the rim below the exact surface by the draw-down height"
    for way, words in _TURNS:
        yield Rule(
            f"hold_{way}",
            f"The pickup stays covered {words}, static",
            "acceleration",
            DRAWDOWN,
            static,
            _hold_judge(way),
        )
    for key, words, fields in _SLOPES:
        yield Rule(
            key,
            f"The pickup stays covered, {words}",
            "angle",
            DRAWDOWN,
            "steepest ground with the rim below the exact surface by the draw-down height",
            _slope_judge(key, fields),
        )
    for way, words in _TURNS:
        yield Rule(
            f"target_{way}",
            f"The pickup stays covered {words} at the target g, in motion",
            "acceleration",
            PRACTICE,
            "",
            _target_judge(way),
        )


def _hold_judge(way: str) -> Judge:
    def judge(evidence: Evidence) -> Answer:
        asked = getattr(evidence.job.requirements, f"hold_{way}")
        hold = evidence.hold
        limit = None if asked == "stock" else asked / STANDARD_GRAVITY
        if hold is None:
            return Unjudged("needs a fill and `new.pickup`", limit)
        value = getattr(hold, f"{way}_g")
        if asked != "stock":
            return Judged(value, limit or 0.0, "against the limit in the job file")
        if hold.stock is None:
            return Unjudged("needs the stock pan with its pickup, or a limit in g")
        return Judged(value, getattr(hold.stock, f"{way}_g"), "against the stock pan")

    return judge


def _slope_judge(key: str, fields: tuple[str, ...]) -> Judge:
    def judge(evidence: Evidence) -> Answer:
        limit = getattr(evidence.job.requirements, key) * 57.29577951308232
        if evidence.hold is None:
            return Unjudged("needs a fill and `new.pickup`", limit)
        worst = min(getattr(evidence.hold, f) for f in fields)
        return Judged(worst, limit, "engine running at the hold speed")

    return judge


def _target_judge(way: str) -> Judge:
    def judge(evidence: Evidence) -> Answer:
        limit = getattr(evidence.job.requirements, f"target_{way}") / STANDARD_GRAVITY
        return Unjudged("not judged yet: needs baffles in motion", limit)

    return judge


def _number(limit: float | str) -> float:
    """A limit that is not one of the words; rules that are off are never judged."""
    return limit if isinstance(limit, float) else 0.0


def _slug(name: str) -> str:
    return "-".join("".join(c if c.isalnum() else " " for c in name.lower()).split())
