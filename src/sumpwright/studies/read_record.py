# SPDX-License-Identifier: Apache-2.0
"""File what a log says as a record, where it says it of the part as it is."""

from pathlib import Path
from typing import TYPE_CHECKING

from sumpwright.job.load import LoadedJob
from sumpwright.job.record import LogRecord
from sumpwright.job.record_load import Filed, load_records
from sumpwright.job.revision import part_hash
from sumpwright.logs.note import Note
from sumpwright.studies.proof_case import set_aside
from sumpwright.studies.read_side import sides_of
from sumpwright.studies.read_words import LEAST
from sumpwright.studies.record import write_record
from sumpwright.studies.target import hold_time

if TYPE_CHECKING:
    from sumpwright.studies.read import Read


def file_record(read: "Read") -> tuple[Path, ...]:
    """File what the log says under records/, where it could be judged and is not filed yet."""
    loaded, result = read.loaded, read.result
    assert loaded is not None, "without a job there is nowhere to file it"
    if result.summary.judged_s < LEAST and not result.summary.dips:
        return ()
    digests = {digest for _, digest in result.files}
    if other_part(loaded, digests):
        return ()
    for filed in load_records(loaded.folder).of("log"):
        if _digests(filed) == digests and filed.record.part_hash == result.part_hash:
            return ()
    why = blind(read.judgement.motion.typed, read.notes)
    values = {
        "kind": "log",
        "by": "sumpwright read",
        **({"note": f"proves no absence of dips: {why}"} if why else {}),
        "files": [{"file": name, "sha256": digest} for name, digest in result.files],
        "sides": sides_of(
            read.judgement,
            hold=hold_time(loaded.job),
            blind=bool(why),
            sided=result.summary.ways == "told",
        ),
        "verdict": result.summary.verdict,
    }
    return (write_record(loaded.folder, values),)


def other_part(loaded: LoadedJob, digests: set[str]) -> str:
    """The record that has one of these logs as driven with another part; empty if none has."""
    records, part = load_records(loaded.folder), part_hash(loaded)
    aside = set_aside(records)
    for filed in records.of("log"):
        other = filed.record.part_hash != part or filed.record.revision != loaded.job.revision
        if other and filed.name not in aside and _digests(filed) & digests:
            return filed.name
    return ""


def filing_words(loaded: LoadedJob, digests: set[str], why_blind: str) -> str:
    """Why a log is not filed, or not as a proof."""
    name = other_part(loaded, digests)
    if name:
        return (
            f"not filed: {name} has this log as driven with another part or revision. Drive the "
            "part as it is; or, where only the job was wrong about the part, set that record "
            "aside by a decision and read the log again."
        )
    return f"no proof that pressure did not dip: {why_blind}" if why_blind else ""


def blind(typed: bool, notes: tuple[Note, ...]) -> str:
    """Why short dips cannot be seen in a log; empty where they can."""
    if typed:
        return "readings typed by hand miss what happens between them"
    slow = [n for n in notes if n.channel == "pressure" and n.kind in ("rate", "slow")]
    return "pressure was logged too seldom, or its sensor is too slow" if slow else ""


def _digests(filed: Filed) -> set[str]:
    assert isinstance(filed.record, LogRecord)
    return {f.sha256 for f in filed.record.files}
