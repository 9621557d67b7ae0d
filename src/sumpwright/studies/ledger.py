# SPDX-License-Identifier: Apache-2.0
"""The job's limits as a ledger: what is met, what is not and by how much, what cannot be judged."""

from collections.abc import Iterable, Iterator

from sumpwright.studies.result import Requirement, State, Verdict
from sumpwright.studies.rule import Answer, Evidence, Judged, Rule
from sumpwright.studies.rule_feed import feed_rules
from sumpwright.studies.rule_fill import fill_rules
from sumpwright.studies.rule_hold import hold_rules
from sumpwright.studies.rule_room import room_rules

SI_UNIT = {
    "length": "m",
    "volume": "m3",
    "acceleration": "g",
    "angle": "deg",
    "inlet_pressure": "Pa",
    "time": "s",
}


def ledger(evidence: Evidence, rules: Iterable[Rule] | None = None) -> tuple[Requirement, ...]:
    """Every requirement that the job has not turned off, in the order of the work.

    With `rules`, only those are asked.
    """
    asked = _wanted(evidence, _rules(evidence) if rules is None else rules)
    return tuple(_line(r, r.judge(evidence), r.origin(evidence.job)) for r in asked)


def verdict_of(lines: Iterable[Requirement]) -> Verdict:
    """Not met where one line is not; not judged where none could be."""
    states = {line.state for line in lines}
    if "not met" in states:
        return "not met"
    return "met" if "met" in states else "not judged"


def summary_of(lines: tuple[Requirement, ...]) -> str:
    """How many are met, not met and not judged."""
    count = {s: sum(line.state == s for line in lines) for s in ("met", "not met", "not judged")}
    return (
        f"{count['met']} requirements met, {count['not met']} not met, "
        f"{count['not judged']} not judged"
    )


def judged_line(
    *, id: str, statement: str, kind: str, source: str, answer: Answer, formula: str
) -> Requirement:
    """One line of the ledger, from what was found."""
    judged = isinstance(answer, Judged)
    margin = answer.margin if isinstance(answer, Judged) else None
    state: State = "not judged" if margin is None else "met" if margin >= 0.0 else "not met"
    return Requirement(
        id=id,
        statement=statement,
        limit=answer.limit,
        value=answer.value if isinstance(answer, Judged) else None,
        margin=margin,
        unit=SI_UNIT[kind],
        kind=kind,
        source=source,
        state=state,
        formula=formula if judged else "",
        reason=answer.reason,
        at_most=isinstance(answer, Judged) and answer.at_most,
    )


def _line(rule: Rule, answer: Answer, source: str) -> Requirement:
    return judged_line(
        id=rule.id,
        statement=rule.statement,
        kind=rule.kind,
        source=source,
        answer=answer,
        formula=rule.formula,
    )


def still_rules(evidence: Evidence) -> Iterator[Rule]:
    """Those that need no oil in motion."""
    return (rule for rule in _rules(evidence) if not rule.moving)


def _rules(evidence: Evidence) -> Iterator[Rule]:
    yield from fill_rules()
    yield from room_rules(evidence)
    yield from hold_rules()
    yield from feed_rules()


def _wanted(evidence: Evidence, rules: Iterable[Rule]) -> Iterator[Rule]:
    limits = evidence.job.requirements
    for rule in rules:
        if getattr(limits, rule.id, None) != "off":  # an obstacle's own gap has no key there
            yield rule
