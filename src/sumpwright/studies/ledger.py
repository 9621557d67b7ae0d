# SPDX-License-Identifier: Apache-2.0
"""The job's limits as a ledger: what is met, what is not and by how much, what cannot be judged."""

from collections.abc import Iterator

from sumpwright.studies.result import Requirement, State
from sumpwright.studies.rule import Answer, Evidence, Judged, Rule
from sumpwright.studies.rule_fill import fill_rules
from sumpwright.studies.rule_hold import hold_rules
from sumpwright.studies.rule_room import room_rules

SI_UNIT = {
    "length": "m",
    "volume": "m3",
    "acceleration": "g",
    "angle": "deg",
    "inlet_pressure": "Pa",
}


def ledger(evidence: Evidence) -> tuple[Requirement, ...]:
    """Every requirement that the job has not turned off, in the order of the work."""
    return tuple(_line(r, r.judge(evidence), r.origin(evidence.job)) for r in _rules(evidence))


def _line(rule: Rule, answer: Answer, source: str) -> Requirement:
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
        source=source,
        state=state,
        formula=rule.formula if judged else "",
        reason=answer.reason,
    )


def _rules(evidence: Evidence) -> Iterator[Rule]:
    limits = evidence.job.requirements
    for rule in (*fill_rules(), *room_rules(evidence), *hold_rules()):
        if getattr(limits, rule.id, None) != "off":  # an obstacle's own gap has no key there
            yield rule
