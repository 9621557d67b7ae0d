# SPDX-License-Identifier: Apache-2.0
"""May this revision go out? Only with evidence for everything that the job asks for."""

import math
from collections.abc import Iterator
from dataclasses import asdict, dataclass
from pathlib import Path
from typing import Any

from sumpwright.errors import Finding, InputError, Problem
from sumpwright.geometry.frame import STANDARD_GRAVITY
from sumpwright.job.load import LoadedJob
from sumpwright.job.record import LogRecord, Teardown
from sumpwright.job.record_load import Filed, Records, load_records
from sumpwright.job.requirement import Requirements
from sumpwright.job.revision import part_hash
from sumpwright.studies.bolts import bolts_of
from sumpwright.studies.check import Progress, check_with_bodies
from sumpwright.studies.history import Change, History, history
from sumpwright.studies.make_result import BoltTurn
from sumpwright.studies.proof import proof
from sumpwright.studies.proof_case import case_of, set_aside
from sumpwright.studies.result import CheckResult, Requirement
from sumpwright.units import shown

_NEVER = (
    "The bench has neither flow nor the head of the engine over it: it shows where oil lies, not "
    "what the pump gets.",
    "Oil pressure while accelerating in a straight line: no log is asked for it.",
    "Other cars, tyres, engines, oils and fills than those recorded.",
    "How long the pan, its welds and its doors last.",
)


@dataclass(frozen=True)
class Proof:
    """A record that was counted."""

    name: str
    kind: str
    made: str
    by: str
    note: str
    part_hash: str


@dataclass(frozen=True)
class Photo:
    """A picture of a teardown, and whether its bytes are still those that were filed."""

    record: str
    file: str
    sha256: str
    unchanged: bool


@dataclass(frozen=True)
class ReleaseResult:
    """All that a dossier says."""

    job: str
    revision: str
    input_hash: str
    part_hash: str
    code_version: str
    units: str
    requirements: tuple[Requirement, ...]
    records: tuple[Proof, ...]
    aside: tuple[tuple[str, str], ...]
    """Record, and the decision that set it aside"""
    photos: tuple[Photo, ...]
    torque: str | None
    """Of the pan's bolts, as the person gave it: now, or in the job"""
    changed_from: str | None
    changes: tuple[Change, ...]
    untested: tuple[str, ...]
    check: CheckResult
    """What was computed, with the fill sheet's and the dipstick's numbers"""
    bolts: tuple[BoltTurn, ...] = ()
    """In the order of tightening; none where the job has no bolt holes"""

    @property
    def findings(self) -> tuple[Finding, ...]:
        """What was found while reading the files."""
        return self.check.findings

    def as_json(self) -> dict[str, Any]:
        """Plain dict of it, SI."""
        return asdict(self)


def release(
    folder: Path, *, torque: str | None = None, progress: Progress | None = None
) -> ReleaseResult:
    """The job's dossier; InputError that names every requirement without its evidence."""
    checked = check_with_bodies(folder, progress)
    loaded, result = checked.loaded, checked.result
    records = load_records(loaded.folder)
    lines = (*result.requirements, *proof(loaded, result.fill, records))
    missing = [_missing(line, loaded.job.units) for line in lines if line.state != "met"]
    if missing or records.problems:
        raise InputError([*missing, *records.problems])
    return _result(loaded, result, records, lines, torque)


def _result(
    loaded: LoadedJob,
    result: CheckResult,
    records: Records,
    lines: tuple[Requirement, ...],
    torque: str | None,
) -> ReleaseResult:
    told = history(loaded.folder, figures=False)
    filed = case_of(loaded, result.fill, records).filed
    return ReleaseResult(
        job=result.job,
        revision=result.revision,
        input_hash=result.input_hash,
        part_hash=part_hash(loaded),
        code_version=result.code_version,
        units=result.units,
        requirements=lines,
        records=tuple(map(_proof, filed)),
        aside=tuple(sorted(set_aside(records).items())),
        photos=tuple(p for f in filed for p in _photos(f, loaded.folder)),
        torque=torque if torque is not None else loaded.job.fitting.torque,
        changed_from=told.steps[-1].before if told.steps else None,
        changes=_last(told),
        untested=untested(loaded),
        check=result,
        bolts=bolts_of(loaded),
    )


def untested(loaded: LoadedJob) -> tuple[str, ...]:
    """What nothing in this dossier has shown: what was turned off, and what never is."""
    limits = loaded.job.requirements
    off = (
        f"Turned off in the job: {field.description}"
        for name, field in Requirements.model_fields.items()
        if getattr(limits, name) == "off"
    )
    return (*off, *_driven_less(limits, loaded.job.units), *_NEVER)


def _driven_less(limits: Requirements, units: str) -> Iterator[str]:
    """Targets that are computed only, for the logs are asked for less."""
    for turn in ("left", "right", "brake"):
        asked, target = getattr(limits, f"proof_{turn}"), getattr(limits, f"target_{turn}")
        if isinstance(asked, float) and isinstance(target, float) and asked < target:
            less, more = (shown(v, "acceleration", units) for v in (asked, target))
            way = "braking" if turn == "brake" else f"turning {turn}"
            yield f"Oil pressure over {less} {way}: the target of {more} is computed, not driven."


def _last(told: History) -> tuple[Change, ...]:
    return told.steps[-1].changes if told.steps else ()


def _proof(filed: Filed) -> Proof:
    r = filed.record
    made = r.made.isoformat(timespec="minutes")
    said = r.note or (r.verdict if isinstance(r, LogRecord) else "")
    return Proof(filed.name, r.kind, made, r.by, said, r.part_hash)


def _photos(filed: Filed, folder: Path) -> tuple[Photo, ...]:
    from sumpwright.studies.record import digest_of

    if not isinstance(filed.record, Teardown):
        return ()
    return tuple(
        Photo(filed.name, p.file, p.sha256, digest_of(folder, p.file) == p.sha256)
        for p in filed.record.photos
    )


def _figures(line: Requirement, units: str) -> str:
    """What was found against what is asked, where there are numbers: `0.93 g of 1.20 g`."""
    if line.value is None or line.limit is None:
        return line.reason
    scale = {"g": STANDARD_GRAVITY, "deg": math.pi / 180.0}.get(line.unit, 1.0)
    found, asked = (shown(v * scale, line.kind, units) for v in (line.value, line.limit))
    return f"{line.reason} {found}, asked {asked}".strip()


def _missing(line: Requirement, units: str) -> Problem:
    figures = _figures(line, units)
    return Problem(
        "REL-401",
        f"requirements.{line.id}",
        f"{line.state}: {figures}" if figures else line.state,
        line.statement,
        f"{_mend(line)}, or set `{line.id}` to off and say so to whoever gets the pan",
    )


def _mend(line: Requirement) -> str:
    log = line.id in ("proof_left", "proof_right", "proof_brake")
    if line.state == "not judged":
        seen = line.id.startswith("proof_")
        how = "read a log of it: `sumpwright read`" if log else "file it with `sumpwright record`"
        return how if seen else "give the job what it needs"
    if log and "without a dip" in line.reason:
        return "drive it up to what is asked, as `sumpwright plan` says, and read that log"
    return "mend the pan or the job, and do it again"
