# SPDX-License-Identifier: Apache-2.0
"""A blank form of a record: YAML to fill in on a bench, with what each line needs beside it."""

from collections.abc import Iterator
from pathlib import Path
from typing import Annotated, Any, Literal, get_args, get_origin

from pydantic.fields import FieldInfo

from sumpwright.errors import InputError, Problem
from sumpwright.job.load import LoadedJob, load_job
from sumpwright.job.record import KINDS, STAMPED, Record
from sumpwright.job.revision import input_hash, part_hash

_ROWS = {"rows": 6, "welds": 3, "findings": 4}
"""Entries set out where there may be any number."""


def blank_form(folder: Path, kind: str) -> str:
    """The form of one kind of record, with this job's revision, doors and baffles in it."""
    schema = KINDS.get(kind)
    if schema is None:
        raise InputError([_no_such_form(kind)])
    loaded = load_job(folder)
    lines = [
        f"# {(schema.__doc__ or '').strip()}",
        f"# Job: {loaded.job.job}. Fill in, then file it once with `sumpwright record`.",
        "# Quantities with their unit, such as 4.6 L, 4.9 qt, 62 mm or 2.4 in.",
        f"kind: {kind}",
        f"revision: {loaded.job.revision}  # the part that this sheet is for: leave as it is",
        f"part_hash: {part_hash(loaded)}",
        f"input_hash: {input_hash(loaded)}",
        "by:  # who did it",
    ]
    for name, field in schema.model_fields.items():
        if name not in ("kind", "by", "note", *STAMPED):
            lines += _field(name, field, loaded)
    return "\n".join([*lines, "note:", ""])


def _field(name: str, field: FieldInfo, loaded: LoadedJob) -> Iterator[str]:
    item = _item(field.annotation)
    said = f"{field.description} {_need(field.annotation, field.metadata)}".rstrip()
    off = "" if field.is_required() or name == "doors" else "# "
    if item is None:
        yield f"{off}{name}:  # {said}"
        return
    if name == "doors" and not _doors(loaded):
        return
    yield f"{off}{name}:  # {said}"
    if not hasattr(item, "model_fields") or name == "photos":
        yield f"{off}  - "
    elif name == "doors":
        for given in _doors(loaded):
            yield from _entry(item, given, "")
    else:
        for _ in range(_ROWS.get(name, 1)):
            yield from _entry(item, {}, off)


def _entry(section: type[Record], given: dict[str, str], off: str) -> Iterator[str]:
    for i, (name, field) in enumerate(section.model_fields.items()):
        mark = "- " if i == 0 else "  "
        need = _need(field.annotation, field.metadata)
        told = given.get(name) or f" # {field.description} {need}".rstrip()
        yield f"{off}  {mark}{name}: {told}"


def _doors(loaded: LoadedJob) -> list[dict[str, str]]:
    import json

    return [  # JSON's quotes are YAML's too, whatever is in the names
        {"baffle": json.dumps(baffle.name), "door": json.dumps(opening.name)}
        for baffle in loaded.job.new.baffles
        for opening in baffle.openings
        if opening.door is not None
    ]


def _item(annotation: Any) -> Any:
    """What a list is of, or None where it is no list."""
    if get_origin(annotation) is not tuple:
        return None
    first = get_args(annotation)[0]
    return get_args(first)[0] if get_origin(first) is Annotated else first


def _need(annotation: Any, metadata: Any) -> str:
    """What may be written, in brackets; empty where it is free."""
    if get_origin(annotation) is Literal:
        return f"({', '.join(map(str, get_args(annotation)))})"
    if annotation is bool:
        return "(yes, no)"
    for part in metadata:
        reader = getattr(getattr(part, "func", None), "__self__", None)
        if reader is not None:
            return f"({reader.needed})"
    for inner in get_args(annotation):
        if get_origin(inner) is Annotated:
            return _need(*(get_args(inner)[0], get_args(inner)[1:]))
    return ""


def _no_such_form(kind: str) -> Problem:
    return Problem(
        "REC-302", "the kind of form", kind or "nothing", ", ".join(KINDS), "name one of these"
    )
