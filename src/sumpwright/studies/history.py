# SPDX-License-Identifier: Apache-2.0
"""What changed from one revision to the next, in numbers: as typed, and in what came out."""

import re
from collections.abc import Callable, Iterator
from dataclasses import asdict, dataclass
from itertools import pairwise
from pathlib import Path
from typing import Any

from sumpwright.errors import InputError, SumpwrightError
from sumpwright.job.load import LoadedJob, load_job, plain_text, read_bytes, read_job
from sumpwright.job.record import FitTest
from sumpwright.job.record_load import load_records
from sumpwright.job.revision import input_hash
from sumpwright.job.tree import read_tree

_HEAD = re.compile(r"# Revision (\S+) of .*, kept (\S+)\.\n# Inputs ([0-9a-f]{64})\n")
_G = 9.80665
_SKIPPED = ("revision",)


@dataclass(frozen=True)
class Change:
    """One value of the job file, as typed before and after; empty where there was none."""

    key: str
    before: str
    after: str


@dataclass(frozen=True)
class Moved:
    """One figure that came out, SI, before and after."""

    name: str
    kind: str
    before: float
    after: float


@dataclass(frozen=True)
class Step:
    """From one revision to the next."""

    before: str
    after: str
    kept: str
    """When the earlier one was left behind"""
    changes: tuple[Change, ...]
    figures: tuple[Moved, ...]
    why_no_figures: str = ""


@dataclass(frozen=True)
class FitFound:
    """What was found at one place of a prototype; SI."""

    place: str
    found: str
    by_m: float | None
    at_m: tuple[float, float, float] | None
    note: str


@dataclass(frozen=True)
class FitEntry:
    """One prototype held up to the car: an entry of the fit log."""

    record: str
    revision: str
    made: str
    """ISO 8601, to the minute"""
    by: str
    prototype: str
    findings: tuple[FitFound, ...]
    change: str
    """What it changed in the job"""


@dataclass(frozen=True)
class History:
    """Every step of a job, the oldest first."""

    job: str
    revision: str
    units: str
    steps: tuple[Step, ...]
    fits: tuple[FitEntry, ...] = ()
    """The fit log, oldest first"""

    def as_json(self) -> dict[str, Any]:
        """Plain dict of it, SI."""
        return asdict(self)


@dataclass(frozen=True)
class _Kept:
    name: str
    when: str
    inputs: str
    text: str


def history(folder: Path, *, figures: bool = True) -> History:
    """What changed at every revision; with `figures`, also what it did to the oil."""
    loaded = load_job(folder)
    text = plain_text(read_bytes(loaded.path).decode("utf-8"))
    now = _Kept(loaded.job.revision, "", input_hash(loaded), text)
    stages = [*kept_revisions(loaded), now]
    steps = tuple(_step(loaded, a, b, figures) for a, b in pairwise(stages))
    job = loaded.job
    return History(job.job, job.revision, job.units, steps, tuple(fit_log(loaded)))


def fit_log(loaded: LoadedJob) -> Iterator[FitEntry]:
    """Every prototype that was held up to the car, oldest first."""
    for filed in load_records(loaded.folder).filed:
        r = filed.record
        if isinstance(r, FitTest):
            yield FitEntry(
                record=filed.name,
                revision=r.revision,
                made=r.made.isoformat(timespec="minutes"),
                by=r.by,
                prototype=r.prototype,
                findings=tuple(FitFound(f.place, f.found, f.by, f.at, f.note) for f in r.findings),
                change=r.change,
            )


def kept_revisions(loaded: LoadedJob) -> tuple[_Kept, ...]:
    """The revisions left behind, oldest first; one that is named as the job's is left out."""
    found = []
    for path in (loaded.folder / "records").glob("revision-*.yaml"):
        text = plain_text(read_bytes(path).decode("utf-8"))
        head = _HEAD.match(text)
        name = path.stem.removeprefix("revision-")
        when, inputs = (head[2], head[3]) if head else ("", "")
        if name != loaded.job.revision:
            found.append(_Kept(name, when, inputs, text))
    return tuple(sorted(found, key=lambda k: (k.when, k.name)))


def changes(before: str, after: str) -> tuple[Change, ...]:
    """Keys that two job files have different values at, in the order of the later file."""
    old, new = (dict(_values(read_tree(t, "job.yaml").data, "")) for t in (before, after))
    keys = [*new, *(k for k in old if k not in new)]
    return tuple(
        Change(key, old.get(key, ""), new.get(key, ""))
        for key in keys
        if old.get(key) != new.get(key) and key not in _SKIPPED
    )


def grouped(told: tuple[Change, ...]) -> tuple[Change, ...]:
    """The same with each named entry that came or went as a whole in one line."""
    came = _whole(told, lambda c: not c.before)
    gone = _whole(told, lambda c: not c.after)
    found: dict[str, Change] = {}
    for change in told:
        names, mark = (came, "came") if not change.before else (gone, "went")
        entry = next((n for n in names if change.key.startswith(f"{n}.")), None)
        if entry is None or (change.before and change.after):
            found[change.key] = change
            continue
        many = sum(c.key.startswith(f"{entry}.") for c in told)
        values = f"{many} value{'' if many == 1 else 's'}"
        found[f"{mark} {entry}"] = (
            Change(entry, "", f"new, {values}") if mark == "came" else Change(entry, values, "")
        )
    return tuple(found.values())


def _whole(told: tuple[Change, ...], only: Callable[[Change], bool]) -> list[str]:
    """Entries whose very name came or went, those that hold others first."""
    names = [c.key.removesuffix(".name") for c in told if c.key.endswith(".name") and only(c)]
    return sorted(names, key=len)


def _values(value: Any, key: str) -> Iterator[tuple[str, str]]:
    """Dotted key and text of every value; an entry that has a name goes by it."""
    joint = f"{key}." if key else ""
    if isinstance(value, dict):
        for name, inner in value.items():
            yield from _values(inner, f"{joint}{name}")
    elif isinstance(value, list) and any(isinstance(v, dict | list) for v in value):
        for i, inner in enumerate(value):
            name = inner.get("name", i) if isinstance(inner, dict) else i
            yield from _values(inner, f"{joint}{name}")
    elif isinstance(value, list):
        yield key, f"[{', '.join(map(str, value))}]"
    else:
        yield key, str(value)


def _step(loaded: LoadedJob, before: _Kept, after: _Kept, figures: bool) -> Step:
    changed = changes(before.text, after.text)
    if not figures:
        return Step(before.name, after.name, before.when, changed, ())
    try:
        moved = _moved(_figures(loaded, before), _figures(loaded, after))
    except SumpwrightError as err:
        why = str(err).splitlines()[0] if not isinstance(err, InputError) else _why(err)
        return Step(before.name, after.name, before.when, changed, (), why)
    return Step(before.name, after.name, before.when, changed, moved)


def _why(err: InputError) -> str:
    problem = err.problems[0]
    return f"{problem.where}: {problem.found}, needs {problem.needed}"


def _figures(loaded: LoadedJob, kept: _Kept) -> dict[str, tuple[str, float]]:
    """What a revision holds and how far, where its geometry files are still as they were."""
    from sumpwright.studies.body_file import read_bodies
    from sumpwright.studies.fill import fill
    from sumpwright.studies.hold import hold

    then = read_job(kept.text, loaded.path)
    if input_hash(then) != kept.inputs:
        raise SumpwrightError(
            f"the geometry files are no longer those of revision {kept.name}, or how inputs are "
            "fingerprinted has changed"
        )
    bodies = read_bodies(then)
    filled, held = fill(then.job, bodies), hold(then.job, bodies)
    found: dict[str, tuple[str, float]] = {}
    if filled is not None:
        found["full mark"] = ("volume", filled.full_m3)
        found["usable capacity"] = ("volume", filled.usable_m3)
    if held is not None:
        for limit in ("left", "right", "brake", "accelerate"):
            found[f"static hold, {limit}"] = ("acceleration", getattr(held, f"{limit}_g") * _G)
    return found


def _moved(
    before: dict[str, tuple[str, float]], after: dict[str, tuple[str, float]]
) -> tuple[Moved, ...]:
    return tuple(
        Moved(name, kind, value, after[name][1])
        for name, (kind, value) in before.items()
        if name in after
    )
