# SPDX-License-Identifier: Apache-2.0
"""Which records count for a part, and what they can say of a requirement.

Only records of this part and this revision count, and none that a decision has set aside.
"""

from dataclasses import dataclass

from sumpwright.job.load import LoadedJob
from sumpwright.job.record import Decision
from sumpwright.job.record_load import Filed, Records
from sumpwright.job.revision import part_hash
from sumpwright.studies.result import PanFill


@dataclass(frozen=True)
class Seen:
    """What records say of one requirement."""

    value: float
    limit: float
    reason: str
    records: tuple[str, ...]
    at_most: bool = False
    """Smaller is better"""


@dataclass(frozen=True)
class Unseen:
    """Why records say nothing of it yet."""

    reason: str
    limit: float | None = None


@dataclass(frozen=True)
class Case:
    """What a requirement is judged from."""

    loaded: LoadedJob
    fill: PanFill | None
    filed: tuple[Filed, ...]
    """Of this part and revision, none set aside."""
    stale: tuple[Filed, ...]
    """Of another part, or another revision of it."""

    def of(self, kind: str) -> tuple[Filed, ...]:
        """Those that count, of one kind."""
        return tuple(f for f in self.filed if f.record.kind == kind)

    def unseen(self, kind: str, what: str, limit: float | None = None) -> Unseen:
        """That there is none of a kind, and which of another part there are."""
        old = [f for f in self.stale if f.record.kind == kind]
        if not old:
            return Unseen(f"needs {what}", limit)
        named = ", ".join(f"{f.name} ({_why(f, self.loaded)})" for f in old)
        return Unseen(f"needs {what}; stale: {named}", limit)


def case_of(loaded: LoadedJob, fill: PanFill | None, records: Records) -> Case:
    """The records apart: those that count for the part as it is, and the stale ones."""
    aside = set_aside(records)
    part = part_hash(loaded)
    left = [f for f in records.filed if f.name not in aside]
    now = [
        f for f in left if f.record.part_hash == part and f.record.revision == loaded.job.revision
    ]
    stale = tuple(f for f in left if f not in now)
    return Case(loaded, fill, tuple(now), stale)


def set_aside(records: Records) -> dict[str, str]:
    """Records that do not count any more, with the decision that says so."""
    return {
        name: filed.name
        for filed in records.filed
        if isinstance(filed.record, Decision)
        for name in filed.record.set_aside
    }


def _why(filed: Filed, loaded: LoadedJob) -> str:
    if filed.record.revision != loaded.job.revision:
        return f"revision {filed.record.revision}"
    return f"another part, {filed.record.part_hash[:12]}"
