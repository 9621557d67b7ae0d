# SPDX-License-Identifier: Apache-2.0
"""Requirements on the room round the pan: obstacles, the guard, the ground."""

from collections.abc import Iterator

from sumpwright.studies.result import ObstacleGap
from sumpwright.studies.rule import (
    PRACTICE,
    Answer,
    Evidence,
    Judge,
    Judged,
    Rule,
    Unjudged,
    number,
)

GAP = "smallest signed distance of the skins, over every case of engine movement"


def room_rules(evidence: Evidence) -> Iterator[Rule]:
    """A gap for each obstacle that asks for one, then the guard and the ground."""
    found = evidence.clearance
    if found is None or not found.obstacles:
        yield Rule("clearance", "The pan clears what is round it", "length", "", GAP, _no_obstacles)
    else:
        own = {o.name for o in evidence.job.obstacles if o.clearance is not None}
        yield from (
            _gap_rule(gap, typed=gap.obstacle in own)
            for gap in found.obstacles
            if gap.needed_m is not None
        )
    yield Rule(
        "guard",
        "The crossmember hangs lower than the pan",
        "length",
        "",
        "lowest point of the pan less lowest point of the guard, lowest case of movement",
        _guard,
    )
    yield Rule(
        "ground",
        "The pan clears the ground at ride height",
        "length",
        "",
        "lowest point of the pan over z = 0, lowest case of movement",
        _ground,
        practice=PRACTICE + "; local rules go first",
    )
    yield Rule(
        "ground_at_bump",
        "The pan clears the ground at full bump",
        "length",
        "",
        "lowest point of the pan over z = 0, less the bump travel",
        _ground_at_bump,
    )


def _gap_rule(gap: ObstacleGap, *, typed: bool) -> Rule:
    return Rule(
        f"clearance.{_slug(gap.obstacle)}",
        f"The pan clears the {gap.obstacle}",
        "length",
        "",
        GAP,
        _gap_judge(gap),
        typed=typed,
        key="clearance",
    )


def _no_obstacles(evidence: Evidence) -> Answer:
    limit = number(evidence.job.requirements.clearance)
    return Unjudged("needs `new.outside` and `obstacles`", limit)


def _gap_judge(gap: ObstacleGap) -> Judge:
    assert gap.needed_m is not None
    return lambda _: Judged(gap.worst.gap_m, gap.needed_m or 0.0, f"worst case: {gap.worst.case}")


def _guard(evidence: Evidence) -> Answer:
    limit = number(evidence.job.requirements.guard)
    line = evidence.clearance.guard if evidence.clearance is not None else None
    if line is None:
        return Unjudged("needs `new.outside` and an obstacle with `guard: true`", limit)
    return Judged(line.margin_m, limit, f"against the {line.obstacle}; worst case: {line.case}")


def _ground(evidence: Evidence) -> Answer:
    limit = number(evidence.job.requirements.ground)
    found = evidence.clearance
    if found is None or found.ground_m is None:
        return Unjudged("needs `new.outside` and `pose.height`", limit)
    return Judged(found.ground_m, limit)


def _ground_at_bump(evidence: Evidence) -> Answer:
    limit = number(evidence.job.requirements.ground_at_bump)
    found = evidence.clearance
    if found is None or found.ground_at_bump_m is None:
        return Unjudged("needs `new.outside`, `pose.height` and `ride.bump_travel`", limit)
    return Judged(found.ground_at_bump_m, limit)


def _slug(name: str) -> str:
    return "-".join("".join(c if c.isalnum() else " " for c in name.lower()).split())
