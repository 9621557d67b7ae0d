# SPDX-License-Identifier: Apache-2.0
"""One key of the job file that holds a value, as a field of a form."""

from dataclasses import dataclass, field
from typing import Any

from annotated_types import MinLen
from pydantic.fields import FieldInfo

from sumpwright.job.body import GEOMETRY
from sumpwright.job.default import default_text
from sumpwright.job.manoeuvre import Manoeuvre
from sumpwright.job.manoeuvre_kind import TAKES
from sumpwright.job.schema import Need, Section
from sumpwright.job.tree import Keys, Tree, dotted
from sumpwright.web.form_word import Starter, label_of, path_of, units_of
from sumpwright.web.seen import now_within
from sumpwright.web.typed import note_at, page_key, typed, value_at

Shown = dict[str, Any]
_GEOMETRY = frozenset(GEOMETRY.suffixes)


@dataclass
class Sheet:
    """What forms are made from, and where each key came to stand in them."""

    tree: Tree
    starter: Starter
    system: str
    places: dict[str, Shown] = field(default_factory=dict)
    """Fields and sections by their place in the file, dotted"""


@dataclass(frozen=True)
class Spot:
    """Where a field or section belongs: in the file, or in the form of a new entry."""

    keys: Keys
    """In the schema; entries by number, 0 in a new entry"""
    key: str
    """As the page names it"""
    held: bool = True
    """In the file; not in the form of a new entry"""

    def inner(self, name: str) -> "Spot":
        """A key of the section that stands here."""
        return Spot((*self.keys, name), f"{self.key}.{name}".lstrip("."), self.held)


def field_of(sheet: Sheet, spot: Spot, name: str, about: FieldInfo, need: Need) -> Shown:
    """The field of one key; its place is noted."""
    found = {
        "key": spot.key,
        "name": name,
        "label": label_of(name),
        "says": about.description or "",
        "more": sheet.starter.comment(path_of(spot.keys)),
        "default": default_text(about, need, sheet.system),
        "required": about.is_required(),
        "example": sheet.starter.example(path_of(spot.keys)),
        **_value(sheet, spot, need),
        "least": least_of(about),
        "kinds": None,
        "within": _within(sheet, spot),
    }
    _place(sheet, spot, found)
    return found


def least_of(about: FieldInfo) -> int:
    """The fewest entries that a list may have where it is given."""
    return next((m.min_length for m in about.metadata if isinstance(m, MinLen)), 0)


def kinds_of(section: Section, name: str) -> dict[str, str] | None:
    """Which kinds of manoeuvre take a key, and how far they need it; None where all do."""
    if section is not Manoeuvre:
        return None
    found: dict[str, str] = {}
    for kind, takes in TAKES.items():
        if name in takes.keys:
            either = any(name in pair for pair in takes.one_of)
            needed = "needed" if name in takes.needs else "may"
            found[kind] = "either" if either else needed
    return None if len(found) == len(TAKES) else found


def _value(sheet: Sheet, spot: Spot, need: Need) -> Shown:
    """What stands there, and what may."""
    value = value_at(sheet.tree.data, spot.keys) if spot.held else None
    mark = sheet.tree.marks.get(spot.keys) if spot.held else None
    files = None if need.files is None else _files(need.files.suffixes)
    return {
        "kind": need.kind,
        "needed": need.needed,
        "words": need.words,
        "typed": typed(value),
        "note": note_at(sheet.tree, spot.keys) if spot.held else "",
        "units": units_of(need.item if need.item and need.length else need, sheet.system),
        "problem": None,
        "parts": _parts(value, need),
        "entries": _entries(sheet, spot, need, value),
        "whole": need.kind != "list" or mark is None or mark.flow or mark.shape == "nothing",
        "files": files,
        "suffixes": need.files.suffixes if need.files else (),
    }


def _files(suffixes: tuple[str, ...]) -> str:
    return "geometry" if _GEOMETRY.issuperset(suffixes) else "log"


def _parts(value: Any, need: Need) -> list[Shown] | None:
    """The values of a list of fixed length, each under its own name."""
    if need.kind != "list" or need.length is None:
        return None
    names = need.needed.partition("]")[0].strip("[").split(", ")
    given = value if isinstance(value, list) else []
    held = [typed(v) for v in given] + [None] * need.length
    return [{"label": n, "typed": held[i]} for i, n in enumerate(names)]


def _entries(sheet: Sheet, spot: Spot, need: Need, value: Any) -> list[Shown] | None:
    """The values of a list of any length, each a field of its own."""
    if need.kind != "list" or need.length is not None or need.item is None:
        return None
    given = value if isinstance(value, list) else []
    found = []
    for i in range(len(given)):
        inner = Spot((*spot.keys, i), f"{spot.key}.{i}", spot.held)
        entry = {"key": inner.key, "label": str(i + 1), **_value(sheet, inner, need.item)}
        entry["within"] = _within(sheet, inner)
        _place(sheet, inner, entry)
        found.append(entry)
    return found


def _within(sheet: Sheet, spot: Spot) -> Shown | None:
    return now_within(sheet.tree, spot.keys) if spot.held else None


def _place(sheet: Sheet, spot: Spot, found: Shown) -> None:
    if spot.held:
        sheet.places[dotted(spot.keys)] = found


def entry_spot(sheet: Sheet, above: Spot, index: int) -> Spot:
    """Where an entry of a list of sections stands."""
    keys = (*above.keys, index)
    return Spot(keys, page_key(sheet.tree.data, keys))
