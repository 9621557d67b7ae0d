# SPDX-License-Identifier: Apache-2.0
"""All records of a job; a broken one is said with its line and key, never skipped silently."""

from collections.abc import Mapping
from dataclasses import dataclass
from difflib import get_close_matches
from pathlib import Path
from typing import Any

from pydantic import ValidationError

from sumpwright.errors import InputError, Problem
from sumpwright.job.load import plain_text, read_bytes
from sumpwright.job.record import KINDS, Record
from sumpwright.job.tree import Tree, read_tree

_PREFIX = "revision-"
"""Of job files that were left behind, which stand in the same folder."""


@dataclass(frozen=True)
class Filed:
    """A record and the file it stands in."""

    name: str
    record: Record


@dataclass(frozen=True)
class Records:
    """What is in records/: what can be read, oldest first, and what cannot."""

    filed: tuple[Filed, ...]
    problems: tuple[Problem, ...] = ()

    def of(self, kind: str) -> tuple[Filed, ...]:
        """Those of one kind."""
        return tuple(f for f in self.filed if f.record.kind == kind)


def load_records(folder: Path) -> Records:
    """Every record of the job in `folder`."""
    filed: list[Filed] = []
    problems: list[Problem] = []
    for path in sorted((folder / "records").glob("*.yaml")):
        if path.name.startswith(_PREFIX):
            continue
        try:
            filed.append(Filed(path.name, load_record(path)))
        except InputError as err:
            problems += err.problems
    filed.sort(key=lambda f: (f.record.made.timestamp(), f.name))
    return Records(tuple(filed), tuple(problems))


def load_record(path: Path) -> Record:
    """The record in one file; InputError with every problem there is."""
    text = plain_text(read_bytes(path).decode("utf-8"))
    tree = read_tree(text, path.name)
    record = read_record(tree, tree.data)
    if not path.name.startswith(f"{record.kind}-"):
        raise InputError([_renamed(path.name, record.kind)])
    return record


def read_record(tree: Tree, data: Mapping[str, Any]) -> Record:
    """The record that `data` describes; `tree` says where each part of it was typed."""
    schema = KINDS.get(str(data.get("kind")))
    if schema is None:
        raise InputError([_unknown_kind(tree)])
    try:
        return schema.model_validate(dict(data))
    except ValidationError as err:
        errors = err.errors(include_url=False)
        problems = [_problem(e, schema, tree) for e in errors if not _follows(e, errors)]
        raise InputError(problems) from err


def _follows(error: Any, errors: Any) -> bool:
    """A list that is short only because its entries are wrong, which is said of them."""
    keys = tuple(error["loc"])
    below = (tuple(e["loc"]) for e in errors if e is not error)
    return error["type"] == "too_short" and any(b[: len(keys)] == keys for b in below)


def _problem(error: Any, schema: type[Record], tree: Tree) -> Problem:
    keys, kind, context = tuple(error["loc"]), error["type"], error.get("ctx", {})
    where, found = tree.where(keys), tree.typed(keys)
    if kind == "missing":
        needed, do = f"`{keys[-1]}`: {_description(schema, keys)}", f"fill in `{keys[-1]}:`"
        return Problem("REC-303", where, found, needed, do)
    if kind == "extra_forbidden":
        return Problem("REC-304", where, f"`{keys[-1]}`", *_known(schema, keys))
    if kind == "literal_error":
        words = str(context["expected"]).replace("'", "")
        return Problem("REC-305", where, found, words, "write one of these words")
    if kind == "too_short" and found.startswith("a list"):
        found = f"{found}, none of them filled in"
    needed = context.get("needed") or _description(schema, keys) or str(error["msg"])
    do = context.get("do") or _mend(kind)
    return Problem("REC-305", where, found, needed, do)


def _mend(kind: str) -> str:
    if kind.startswith("bool"):
        return "write yes or no"
    if kind in ("tuple_type", "too_short"):
        return "give its entries below it, each behind '- '"
    if kind.startswith("datetime"):
        return "leave it out: it is filled in when the record is filed"
    return "correct it"


def _description(schema: type[Record], keys: tuple[Any, ...]) -> str:
    section = _section(schema, keys[:-1])
    field = section.model_fields.get(str(keys[-1])) if section is not None else None
    return (field.description or "") if field is not None else ""


def _known(schema: type[Record], keys: tuple[Any, ...]) -> tuple[str, str]:
    section = _section(schema, keys[:-1])
    known = list(section.model_fields) if section is not None else []
    near = get_close_matches(str(keys[-1]).lower(), known, n=1)
    do = f"did you mean `{near[0]}`?" if near else "delete it, or say it in `note`"
    return f"one of {', '.join(known)}", do


def _section(schema: Any, keys: tuple[Any, ...]) -> Any:
    """The section that stands at `keys`, or None."""
    for key in keys:
        if isinstance(key, int):
            continue
        field = schema.model_fields.get(str(key))
        if field is None:
            return None
        schema = next(
            (a for a in (field.annotation, *_inside(field.annotation)) if _is_section(a)), None
        )
        if schema is None:
            return None
    return schema


def _inside(annotation: Any) -> tuple[Any, ...]:
    return tuple(getattr(annotation, "__args__", ()))


def _is_section(annotation: Any) -> bool:
    return hasattr(annotation, "model_fields")


def _unknown_kind(tree: Tree) -> Problem:
    typed = tree.typed(("kind",))
    near = get_close_matches(typed.lower(), KINDS, n=1)
    do = f"did you mean {near[0]}?" if near else "start from a blank form of the kind wanted"
    return Problem("REC-302", tree.where(("kind",)), typed, ", ".join(KINDS), do)


def _renamed(name: str, kind: str) -> Problem:
    needed = f"a file whose name starts with `{kind}-`, as it was filed"
    return Problem("REC-306", name, f"a {kind} record", needed, "give the file its old name back")
