# SPDX-License-Identifier: Apache-2.0
"""What is filed of a job, and what each record proves of the part as it is."""

from collections.abc import Iterator
from dataclasses import asdict, dataclass
from pathlib import Path
from typing import Any, Literal

from sumpwright.errors import Problem
from sumpwright.job.load import LoadedJob, load_job
from sumpwright.job.record import FitTest, LogRecord, Record, Teardown
from sumpwright.job.record_load import Records, load_records
from sumpwright.job.revision import input_hash, part_hash
from sumpwright.studies.proof_case import set_aside
from sumpwright.studies.record import digest_of

Standing = Literal["counts", "stale", "set aside"]


@dataclass(frozen=True)
class ListedFile:
    """A file that a record names, and whether its bytes are still those it was filed with."""

    file: str
    sha256: str
    unchanged: bool | None
    """None: of a log nothing says where it lies"""


@dataclass(frozen=True)
class Listed:
    """One record."""

    name: str
    kind: str
    revision: str
    part_hash: str
    made: str
    by: str
    note: str
    standing: Standing
    why: str
    """Of what other part it is, or which decision set it aside"""
    files: tuple[ListedFile, ...]
    text: str
    """The file as it stands; it is never rewritten"""


@dataclass(frozen=True)
class RecordList:
    """All records of a job, the oldest first."""

    job: str
    revision: str
    part_hash: str
    input_hash: str
    filed: tuple[Listed, ...]
    problems: tuple[Problem, ...]
    untested: tuple[str, ...]
    """What no record will show, whatever is filed"""

    def as_json(self) -> dict[str, Any]:
        """Plain dict of it."""
        return asdict(self)


def record_list(folder: Path) -> RecordList:
    """What is filed under records/, and what it counts for."""
    from sumpwright.studies.release import untested  # the whole check, which a list can do without

    loaded = load_job(folder)
    records = load_records(loaded.folder)
    return RecordList(
        job=loaded.job.job,
        revision=loaded.job.revision,
        part_hash=part_hash(loaded),
        input_hash=input_hash(loaded),
        filed=tuple(listed(loaded, records)),
        problems=records.problems,
        untested=untested(loaded),
    )


def listed(loaded: LoadedJob, records: Records) -> Iterator[Listed]:
    """Each record with what it proves of the part as it is."""
    part, aside = part_hash(loaded), set_aside(records)
    for filed in records.filed:
        r = filed.record
        standing: Standing = "counts"
        why = ""
        if filed.name in aside:
            standing, why = "set aside", f"set aside by {aside[filed.name]}"
        elif (r.part_hash, r.revision) != (part, loaded.job.revision):
            standing, why = "stale", f"stale: revision {r.revision}, part {r.part_hash[:12]}"
        path = loaded.folder / "records" / filed.name
        yield Listed(
            name=filed.name,
            kind=r.kind,
            revision=r.revision,
            part_hash=r.part_hash,
            made=r.made.isoformat(timespec="minutes"),
            by=r.by,
            note=r.note,
            standing=standing,
            why=why,
            files=tuple(_files(r, loaded.folder)),
            text=path.read_text(encoding="utf-8", errors="replace"),
        )


def _files(record: Record, folder: Path) -> Iterator[ListedFile]:
    if isinstance(record, Teardown | FitTest):
        for photo in record.photos:
            same = digest_of(folder, photo.file) == photo.sha256
            yield ListedFile(photo.file, photo.sha256, same)
    if isinstance(record, LogRecord):
        for log in record.files:
            yield ListedFile(log.file, log.sha256, None)
