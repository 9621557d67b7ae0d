# SPDX-License-Identifier: Apache-2.0
"""Which manoeuvre is meant: one of the job's, a kind with options, or a log's file.

Options go through the job file's own schema and cross-checks, as if they stood in the file; only
their place is another one, such as `--radius`.
"""

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from difflib import get_close_matches
from pathlib import Path
from typing import Any

from pydantic import ValidationError

from sumpwright.errors import InputError, Problem
from sumpwright.job.cross_check import cross_problems
from sumpwright.job.load import LoadedJob
from sumpwright.job.manoeuvre import Manoeuvre
from sumpwright.job.manoeuvre_kind import KINDS, TAKES
from sumpwright.job.model import Job
from sumpwright.job.problem import schema_problems
from sumpwright.job.tree import Keys, Mark, Tree

Entry = dict[str, Any]

_UNNAMED = "as typed"
_TYPED = Mark(line=0, column=0, begin=0, key_end=0, start=0, end=0, shape="text", flow=False)
_ADD = re.compile(r"add `(\w+):[^`]*`")


@dataclass(frozen=True)
class Chosen:
    """A manoeuvre that the schema has taken."""

    section: Manoeuvre
    name: str
    """What to call it, with its options"""
    log: Path | None
    """File of a trace"""
    where: str
    """Its place, for problems"""


@dataclass(frozen=True)
class _Typed(Tree):
    """A job file with one manoeuvre whose options were typed on the command line."""

    at: Keys = ()
    options: Mapping[str, str] | None = None
    asked: str = ""
    """What was typed for a manoeuvre that is not in the file"""

    def where(self, keys: Keys) -> str:
        if self._is_option(keys):
            return f"--{str(keys[2]).replace('_', '-')}"
        return f"drive {self.asked}" if self._is_new(keys) else super().where(keys)

    def typed(self, keys: Keys) -> str:
        if not self._is_option(keys):
            return super().typed(keys)
        text = (self.options or {}).get(str(keys[2]), "nothing")
        return _stages(text)[keys[3]] if len(keys) > 3 and isinstance(keys[3], int) else text

    def _is_option(self, keys: Keys) -> bool:
        if keys[:2] != self.at or len(keys) < 3:
            return False
        return bool(self.asked) or keys[2] in (self.options or {})

    def _is_new(self, keys: Keys) -> bool:
        return keys[:2] == self.at and bool(self.asked)


def chosen(
    loaded: LoadedJob, manoeuvre: str, options: Mapping[str, str], oil: str | None = None
) -> Chosen:
    """The manoeuvre that is asked for; InputError with every problem of its options."""
    given = {**options, **({} if oil is None else {"oil": oil})}
    entries: list[Entry] = list(loaded.tree.data.get("manoeuvres") or ())
    names = [m.name for m in loaded.job.manoeuvres]
    named = manoeuvre in names
    index = names.index(manoeuvre) if named else len(entries)
    entry = _less(entries[index], given) if named else _new_entry(loaded, manoeuvre)
    entries[index:] = [{**entry, **_values(given)}, *entries[index + 1 :]]
    tree = _tree(loaded.tree, ("manoeuvres", index), given, "" if named else manoeuvre)
    job = _validated(tree, {**loaded.tree.data, "manoeuvres": entries})
    section = job.manoeuvres[index]
    log = None
    if section.kind == "trace" and section.file is not None:
        log = loaded.file(section.file) if named else Path(section.file)
    name = manoeuvre if named or log is None else Path(manoeuvre).name
    said = [name, *(f"{key.replace('_', ' ')} {text}" for key, text in options.items())]
    return Chosen(section, ", ".join(said), log, tree.where(("manoeuvres", index)))


def _less(entry: Entry, given: Mapping[str, str]) -> Entry:
    """A manoeuvre of the file without the keys that an option stands instead of."""
    pairs = (("rpm", "gear"), *TAKES[entry["kind"]].one_of)
    dropped = {
        other
        for one, two in pairs
        for key, other in ((one, two), (two, one))
        if key in given and other not in given
    }
    return {key: value for key, value in entry.items() if key not in dropped}


def _new_entry(loaded: LoadedJob, manoeuvre: str) -> Entry:
    if manoeuvre in KINDS and manoeuvre != "trace":
        return {"name": _UNNAMED, "kind": manoeuvre}
    if manoeuvre.lower().endswith(".csv") or Path(manoeuvre).is_file():
        return {"name": _UNNAMED, "kind": "trace", "file": manoeuvre}
    raise InputError([_unknown(loaded, manoeuvre)])


def _unknown(loaded: LoadedJob, manoeuvre: str) -> Problem:
    names = [m.name for m in loaded.job.manoeuvres]
    kinds = [kind for kind in KINDS if kind != "trace"]
    ours = f"one of the job's: {', '.join(names)}; " if names else ""
    needed = f"{ours}a kind with options: {', '.join(kinds)}; or a log, as a CSV file"
    if manoeuvre == "trace":
        do = "name the CSV file in its place"
        return Problem("DRIVE-501", f"drive {manoeuvre}", "a trace without its file", needed, do)
    near = get_close_matches(manoeuvre.lower(), [n.lower() for n in (*names, *kinds)], n=1)
    meant = next((n for n in (*names, *kinds) if near and n.lower() == near[0]), None)
    do = f"did you mean {meant!r}?" if meant else "add it to `manoeuvres`, or name a kind"
    found = "no manoeuvre of that name"
    return Problem("DRIVE-501", f"drive {manoeuvre}", found, needed, do)


def _values(given: Mapping[str, str]) -> Entry:
    """Options as the file has them; stages are a list."""
    return {**given, **({"stages": _stages(given["stages"])} if "stages" in given else {})}


def _stages(text: str) -> list[str]:
    return [stage.strip() for stage in text.split(",")]


def _tree(tree: Tree, at: Keys, given: Mapping[str, str], asked: str) -> _Typed:
    marks = {**tree.marks, **{(*at, key): _TYPED for key in given}}
    return _Typed(tree.name, tree.text, tree.data, marks, at, given, asked)


def _validated(tree: _Typed, data: Any) -> Job:
    try:
        job = Job.model_validate(data)
        problems = cross_problems(job, tree)
    except ValidationError as err:
        problems = schema_problems(err, tree)
    if problems:
        raise InputError(_as_options(problems, tree))
    return job


def _as_options(problems: list[Problem], tree: _Typed) -> Iterator[Problem]:
    """Problems whose mends speak of options where keys were not typed in the file."""
    for problem in problems:
        option = problem.where.startswith(("--", f"drive {tree.asked}"))
        do = _ADD.sub(_option, problem.do) if tree.asked and option else problem.do
        yield replace(problem, do=do)


def _option(match: "re.Match[str]") -> str:
    return f"add --{match[1].replace('_', '-')}"
