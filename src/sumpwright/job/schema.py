# SPDX-License-Identifier: Apache-2.0
"""The job file's schema, asked: which keys a section knows, and what each needs, in words."""

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from types import NoneType, UnionType
from typing import Annotated, Any, Literal, Union, get_args, get_origin

from pydantic import BaseModel
from pydantic.fields import FieldInfo

from sumpwright.job.model import Job
from sumpwright.job.number import Number
from sumpwright.job.section import FileKind
from sumpwright.job.tree import Keys
from sumpwright.units import Quantity

Section = type[BaseModel]


@dataclass(frozen=True)
class Need:
    """What may stand at one place of a job file."""

    kind: str
    """``section``, ``list``, ``quantity``, ``words``, ``text``, ``file``, ``number`` or
    ``switch``."""
    needed: str
    """As a person reads it."""
    section: Section | None = None
    """Of a section, or of a list's items."""
    item: "Need | None" = None
    length: int | None = None
    """Of a list whose length is fixed."""
    quantity: Quantity | None = None
    words: tuple[str, ...] = ()
    short: bool = False
    """A section whose file may be written in its place."""
    files: FileKind | None = None
    """Of a file's path, or of a section whose file may be written in its place."""


@cache
def need_of(section: Section, name: str) -> Need:
    """What the field `name` of `section` needs."""
    field = section.model_fields[name]
    return _need(field.annotation, tuple(field.metadata))


def need_at(keys: Keys) -> Need | None:
    """What stands at `keys` of a job; None where the job knows no such place."""
    need: Need | None = Need("section", "a job", section=Job)
    for key in keys:
        if need is None:
            return None
        if isinstance(key, int):
            need = need.item
        elif need.section is None or key not in need.section.model_fields:
            return None
        else:
            need = need_of(need.section, key)
    return need


def fields_of(section: Section) -> Iterator[tuple[str, FieldInfo, Need]]:
    """Every field of `section`, in the order of the file."""
    for name, field in section.model_fields.items():
        yield name, field, need_of(section, name)


@cache
def places() -> dict[str, tuple[str, ...]]:
    """Every key of the schema and the sections it belongs in, dotted; '' is the top."""
    found: dict[str, list[str]] = {}
    for path, section in sections():
        for name in section.model_fields:
            found.setdefault(name, []).append(path)
    return {name: tuple(paths) for name, paths in found.items()}


def sections(section: Section = Job, path: str = "") -> Iterator[tuple[str, Section]]:
    """Every section of the schema with its dotted path, from the top down."""
    yield path, section
    for name, _, need in fields_of(section):
        inner = need.section or (need.item.section if need.item else None)
        if inner is not None:
            yield from sections(inner, f"{path}.{name}".lstrip("."))


def _need(annotation: Any, metadata: tuple[Any, ...]) -> Need:
    while get_origin(annotation) is Annotated:
        annotation, *more = get_args(annotation)
        metadata = (*metadata, *more)
    owners = [*metadata, *map(_owner, metadata)]
    for owner in owners:
        if isinstance(owner, Quantity):
            return Need("quantity", owner.needed, quantity=owner, words=owner.words)
        if isinstance(owner, Number):
            return Need("number", owner.needed, words=owner.words)
        if isinstance(owner, FileKind):
            return Need("file", f"the path of {owner.needed}", files=owner)
    if get_origin(annotation) in (Union, UnionType):
        some = [a for a in get_args(annotation) if a is not NoneType]
        return _need(some[0], metadata)
    if get_origin(annotation) is tuple:
        return _list_need(get_args(annotation))
    if get_origin(annotation) is Literal:
        words = tuple(map(str, get_args(annotation)))
        return Need("words", " or ".join(words), words=words)
    return _plain_need(annotation, metadata)


def _plain_need(annotation: Any, metadata: tuple[Any, ...]) -> Need:
    if isinstance(annotation, type) and issubclass(annotation, BaseModel):
        names = ", ".join(annotation.model_fields)
        short = any(_takes_file_text(m) for m in metadata)
        files = need_of(annotation, "file").files if short else None
        needed = f"a section with keys of: {names}"
        return Need("section", needed, section=annotation, short=short, files=files)
    if annotation is bool:
        return Need("switch", "true or false")
    if annotation in (float, int):
        return Need("number", "a number without a unit")
    return Need("text", "a text that is not empty")


def _list_need(items: tuple[Any, ...]) -> Need:
    fixed = Ellipsis not in items
    item = _need(items[0], ())
    if not fixed:
        return Need("list", f"a list, each entry {item.needed}", item=item)
    count = len(items)
    spot = {2: "[along, up]", 3: "[x, y, z]"}.get(count)
    if spot and item.kind != "section":
        return Need("list", f"{spot}, each {item.needed}", item=item, length=count)
    return Need("list", f"a list of {count}, each {item.needed}", item=item, length=count)


def _owner(metadata: Any) -> Any:
    """What a validator is a method of."""
    return getattr(getattr(metadata, "func", None), "__self__", None)


def _takes_file_text(metadata: Any) -> bool:
    return getattr(getattr(metadata, "func", None), "__name__", "") == "file_from_text"
