# SPDX-License-Identifier: Apache-2.0
"""The job file as sections and fields for forms, made from the schema and the file as typed."""

import hashlib
from dataclasses import asdict
from pathlib import Path
from typing import Any

from pydantic.fields import FieldInfo

from sumpwright.errors import InputError, Problem
from sumpwright.job.load import job_path, plain_text, read_bytes, read_job
from sumpwright.job.model import Job
from sumpwright.job.schema import Need, Section, fields_of
from sumpwright.job.tree import Tree, read_tree
from sumpwright.web.form_field import (
    Sheet,
    Shown,
    Spot,
    entry_spot,
    field_of,
    kinds_of,
    least_of,
)
from sumpwright.web.form_word import about, label_of, path_of, starter_for, system_of, title_of
from sumpwright.web.typed import note_at, seen, value_at
from sumpwright.web.undo import ahead

_FIRST = ("name", "kind", "file")
"""Keys that say what an entry is come before the others."""
_AROUND = 3
"""Lines shown before and after one that cannot be read."""


def form(folder: Path, window: str = "") -> Shown:
    """Every section and field of the job in `folder`, with what is wrong with each."""
    found: Shown = {"text_hash": None, "units": "metric", "sections": [], "broken": None}
    text = ""
    problems: tuple[Problem, ...] = ()
    try:
        path = job_path(folder)
        data = read_bytes(path)
        found["text_hash"] = hashlib.sha256(data).hexdigest()
        text = plain_text(data.decode("utf-8"))
        tree = read_tree(text, path.name)
        problems = _problems(text, path)
        found |= _sections(tree, problems)
    except InputError as err:
        problems = err.problems
        found["broken"] = _broken(text, problems)
    return {**found, "problems": [asdict(p) for p in problems], **ahead(folder, window)}


def _problems(text: str, path: Path) -> tuple[Problem, ...]:
    from sumpwright.studies.grade import grade_problems

    try:
        read_job(text, path, (grade_problems,))
    except InputError as err:
        return err.problems
    return ()


def _broken(text: str, problems: tuple[Problem, ...]) -> Shown | None:
    """The lines round the first one that cannot be read."""
    number = problems[0].where.partition("  ")[0].rpartition(":")[2]
    if not text or not number.isdigit():
        return None
    rows, line = text.split("\n"), int(number)
    first = max(line - _AROUND, 1)
    near = rows[first - 1 : line + _AROUND]
    return {"line": line, "lines": [(first + i, row[:200]) for i, row in enumerate(near)]}


def _sections(tree: Tree, problems: tuple[Problem, ...]) -> Shown:
    system = system_of(tree)
    sheet = Sheet(tree, starter_for(tree), system)
    top = _section(sheet, Spot((), ""), Job, None)
    below = top.pop("sections")
    for problem in problems:
        _put_problem(sheet, problem)
    return {"units": system, "sections": [{**top, "sections": []}, *below]}


def _put_problem(sheet: Sheet, problem: Problem) -> None:
    """Show it where it applies, or at what is nearest above it."""
    place = problem.where.partition("  ")[2]
    while place and place not in sheet.places:
        place = place.rpartition(".")[0]
    found = sheet.places.get(place)
    if found is not None and found["problem"] is None:
        found["problem"] = asdict(problem)


def _section(sheet: Sheet, spot: Spot, kind: Section, field: FieldInfo | None) -> Shown:
    """A section with its fields and what is inside it."""
    name = str(spot.keys[-1]) if spot.keys else ""
    found = _head(sheet, spot, name, field)
    found["more"] = found["more"] or about(kind)
    found["title"] = label_of(name) if name else title_of(kind)
    for inner, info, need in sorted(fields_of(kind), key=lambda row: _order(row[0])):
        below = spot.inner(inner)
        if need.kind == "section":
            found["sections"].append(_inner_section(sheet, below, info, need))
        elif need.kind == "list" and need.item and need.item.kind == "section":
            found["sections"].append(_list(sheet, below, info, need))
        else:
            at = _short_spot(sheet, spot) if inner == "file" else None
            one = field_of(sheet, at or below, inner, info, need)
            one["kinds"] = kinds_of(kind, inner)
            found["fields"].append(one)
    return found


def _order(name: str) -> int:
    return _FIRST.index(name) if name in _FIRST else len(_FIRST)


def _inner_section(sheet: Sheet, spot: Spot, info: FieldInfo, need: Need) -> Shown:
    assert need.section is not None
    found = _section(sheet, spot, need.section, info)
    found["can_take"] = found["present"] and not found["required"]
    found["seen"] = seen(value_at(sheet.tree.data, spot.keys)) if found["can_take"] else None
    return found


def _list(sheet: Sheet, spot: Spot, info: FieldInfo, need: Need) -> Shown:
    """A list of sections: its entries, and the form of a new one."""
    assert need.item is not None
    assert need.item.section is not None
    kind, name = need.item.section, str(spot.keys[-1])
    found = _head(sheet, spot, name, info)
    found |= {"title": label_of(name), "length": need.length, "least": least_of(info)}
    given = value_at(sheet.tree.data, spot.keys) if spot.held else None
    found["items"] = [
        _entry(sheet, entry_spot(sheet, spot, i), kind)
        for i in range(len(given) if isinstance(given, list) else 0)
    ]
    found["blank"] = _section(sheet, Spot((*spot.keys, 0), "", held=False), kind, None)
    found["blank"] |= {"title": title_of(kind), "more": about(kind)}
    return found


def _entry(sheet: Sheet, spot: Spot, kind: Section) -> Shown:
    found = _section(sheet, spot, kind, None)
    value = value_at(sheet.tree.data, spot.keys)
    name = value.get("name") if isinstance(value, dict) else None
    number = int(spot.keys[-1]) + 1
    found["title"] = name if isinstance(name, str) else f"{title_of(kind)} {number}"
    found |= {"more": "", "can_take": True, "seen": seen(value)}
    return found


def _short_spot(sheet: Sheet, spot: Spot) -> Spot | None:
    """Where a section's file stands, where only the file is written in its place."""
    mark = sheet.tree.marks.get(spot.keys) if spot.held and spot.keys else None
    return spot if mark is not None and mark.shape == "text" else None


def _head(sheet: Sheet, spot: Spot, name: str, field: FieldInfo | None) -> Shown:
    mark = sheet.tree.marks.get(spot.keys) if spot.held else None
    found: dict[str, Any] = {
        "key": spot.key,
        "name": name,
        "says": (field.description if field else "") or "",
        "more": sheet.starter.comment(path_of(spot.keys)),
        "note": note_at(sheet.tree, spot.keys) if spot.held else "",
        "present": mark is not None and mark.shape != "nothing",
        "required": field.is_required() if field else False,
        "problem": None,
        "fields": [],
        "sections": [],
        "items": None,
        "blank": None,
        "least": 0,
        "length": None,
        "can_take": False,
        "seen": None,
    }
    if spot.held and spot.keys:
        sheet.places[".".join(map(str, spot.keys))] = found
    return found
