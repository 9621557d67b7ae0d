# SPDX-License-Identifier: Apache-2.0
"""The ledger's lines that want something seen: on a bench, in a log, in a teardown.

Every record that counts is heard: a good one does not outweigh a bad one.
"""

from sumpwright.job.load import LoadedJob
from sumpwright.job.record_load import Records
from sumpwright.studies.proof_case import Seen, Unseen, case_of
from sumpwright.studies.proof_rule import RULES
from sumpwright.studies.result import PanFill, Requirement, State


def proof(loaded: LoadedJob, fill: PanFill | None, records: Records) -> tuple[Requirement, ...]:
    """Every requirement on evidence that the job has not turned off."""
    case = case_of(loaded, fill, records)
    limits = loaded.job.requirements
    return tuple(
        proof_line(rule.id, rule.statement, rule.kind, rule.judge(case), loaded)
        for rule in RULES
        if getattr(limits, rule.id) != "off" and rule.asked(case)
    )


def proof_line(
    id: str, statement: str, kind: str, answer: Seen | Unseen, loaded: LoadedJob
) -> Requirement:
    """One line of the ledger from what records say."""
    typed = id in loaded.job.requirements.model_fields_set
    limit_from = "the job file" if typed else "common practice, no source"
    value = answer.value if isinstance(answer, Seen) else None
    margin = None
    if isinstance(answer, Seen):
        over = answer.value - answer.limit
        margin = -over if answer.at_most else over
    state: State = "not judged" if margin is None else "met" if margin >= 0.0 else "not met"
    return Requirement(
        id=id,
        statement=statement,
        limit=answer.limit,
        value=value,
        margin=margin,
        unit={"acceleration": "g", "length": "m"}.get(kind, "-"),
        kind=kind,
        source=f"limit: {limit_from}",
        state=state,
        formula=_seen_in(answer),
        reason=answer.reason,
        at_most=isinstance(answer, Seen) and answer.at_most,
    )


def _seen_in(answer: Seen | Unseen) -> str:
    return f"seen in {', '.join(answer.records)}" if isinstance(answer, Seen) else ""
