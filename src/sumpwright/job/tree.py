# SPDX-License-Identifier: Apache-2.0
"""The text of a job file as plain data, with the line of every key and the text as typed.

Scalars stay text: the schema decides what `4.90` or `1` means, and a job may be called 2024.
A key with nothing behind it counts as not given, so a section may be commented out key by key.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import lru_cache
from typing import Any

from sumpwright.errors import InputError, Problem
from sumpwright.job.syntax import syntax_problem

Keys = tuple[str | int, ...]

_MOST_VALUES = 20_000
"""Values of a file once its aliases are written out: far over any real job."""
_PLAIN_TAGS = frozenset(
    f"tag:yaml.org,2002:{t}"
    for t in ("map", "seq", "str", "int", "float", "bool", "null", "timestamp", "merge", "value")
)


@dataclass(frozen=True)
class Mark:
    """Where a value stands in the text; lines and columns count from 0."""

    line: int
    """Of its key, or of the list item."""
    column: int
    """Of its key, or of the list item."""
    begin: int
    """Of its key in the text, or of the list item."""
    key_end: int
    """Where its key ends in the text; of a list item, where the item starts."""
    start: int
    end: int
    """Of the value in the text; nothing typed where both are equal."""
    shape: str
    """``text``, ``nothing``, ``section`` or ``list``."""
    flow: bool
    """Written in brackets on a line."""


@dataclass(frozen=True)
class Tree:
    """A job file's values as text, lists and dicts, and where each stands."""

    name: str
    text: str
    data: Any
    marks: Mapping[Keys, Mark]

    def line_of(self, keys: Keys) -> int:
        """1-based line of the deepest part of `keys` that the file has."""
        return self.marks[self.known(keys)].line + 1

    def known(self, keys: Keys) -> Keys:
        """The deepest part of `keys` that the file has."""
        while keys and keys not in self.marks:
            keys = keys[:-1]
        return keys

    def where(self, keys: Keys) -> str:
        """``job.yaml:12  new.cavity``"""
        return f"{self.name}:{self.line_of(keys)}  {dotted(keys)}".rstrip()

    def typed(self, keys: Keys) -> str:
        """The value as typed, or what stands there in words."""
        mark = self.marks.get(keys)
        if mark is None or mark.shape == "nothing":
            return "nothing"
        written = self.text[mark.start : mark.end].strip()
        if mark.flow or mark.shape == "text":
            return _short(written)
        value = self._value(keys)
        if mark.shape == "list":
            return f"a list of {len(value)}"
        return "a section with " + _short(", ".join(value) or "nothing in it")

    def _value(self, keys: Keys) -> Any:
        value = self.data
        for key in keys:
            value = value[key]
        return value


def dotted(keys: Keys) -> str:
    """``obstacles.0.name``"""
    return ".".join(map(str, keys))


@lru_cache(maxsize=16)  # one edit reads the same text six times, at 70 ms for a usual job
def read_tree(text: str, name: str) -> Tree:
    """The values of YAML `text`; InputError with every problem of its form.

    The same text has the same tree: nobody changes its data.
    """
    node = _composed(text, name)
    marks: dict[Keys, Mark] = {(): Mark(0, 0, 0, 0, 0, len(text), "section", False)}
    reader = _Reader(name, marks)
    data = reader.value(node, (), ())
    if not isinstance(data, dict):
        reader.problems.append(_not_a_job(name, text))
    if reader.problems:
        raise InputError(reader.problems)
    return Tree(name, text, data, marks)


def _composed(text: str, name: str) -> Any:
    from ruamel.yaml import YAML
    from ruamel.yaml.error import YAMLError

    try:
        node = YAML(typ="safe", pure=True).compose(text)
    except (YAMLError, RecursionError, ValueError) as err:
        raise InputError([syntax_problem(text, name, err)]) from err
    if node is None or (node.id == "scalar" and not node.value):
        raise InputError([_empty(name)])
    return node


class _Reader:
    """Turns the parser's nodes into data, notes marks, and collects problems."""

    def __init__(self, name: str, marks: dict[Keys, Mark]) -> None:
        self.name, self.marks = name, marks
        self.problems: list[Problem] = []
        self._count = 0

    def value(self, node: Any, keys: Keys, above: tuple[int, ...]) -> Any:
        """Data of `node`, which stands at `keys` inside the nodes `above`."""
        self._count += 1
        if self._count > _MOST_VALUES or id(node) in above:
            raise InputError([*self.problems, _growing_aliases(self.name, node)])
        if node.tag not in _PLAIN_TAGS:
            self.problems.append(_strange_tag(self.name, node, keys))
        above = (*above, id(node))
        if node.id == "mapping":
            return dict(self._entries(node, keys, above))
        if node.id == "sequence":
            return [self._item(n, (*keys, i), above) for i, n in enumerate(node.value)]
        nothing = node.style is None and node.tag.endswith(":null")
        return None if nothing else str(node.value)

    def _entries(self, node: Any, keys: Keys, above: tuple[int, ...]) -> Iterator[tuple[str, Any]]:
        lines: dict[str, int] = {}
        for key_node, value_node in node.value:
            key = str(key_node.value) if key_node.id == "scalar" else ""
            if key_node.id != "scalar":
                self.problems.append(_strange_key(self.name, key_node, keys))
            elif key in lines:
                self.problems.append(_twice(self.name, key_node, (*keys, key), lines[key]))
            else:
                lines[key] = key_node.start_mark.line
                self._note((*keys, key), key_node, value_node)
                value = self.value(value_node, (*keys, key), above)
                if value is not None:
                    yield key, value

    def _item(self, node: Any, keys: Keys, above: tuple[int, ...]) -> Any:
        self._note(keys, node, node)
        return self.value(node, keys, above)

    def _note(self, keys: Keys, at: Any, node: Any) -> None:
        shape = {"mapping": "section", "sequence": "list"}.get(node.id, "text")
        if shape == "text" and node.style is None and node.tag.endswith(":null"):
            shape = "nothing"
        start, end = node.start_mark.index, node.end_mark.index
        here, flow = at.start_mark, bool(getattr(node, "flow_style", False))
        key_end = start if at is node else at.end_mark.index
        spot = here.line, here.column, here.index
        self.marks[keys] = Mark(*spot, key_end, start, end, shape, flow)


def _short(text: str) -> str:
    line = " ".join(text.split())
    return line if len(line) <= 60 else line[:57] + "..."


def _at(name: str, node: Any, keys: Keys) -> str:
    return f"{name}:{node.start_mark.line + 1}  {dotted(keys)}".rstrip()


def _empty(name: str) -> Problem:
    return Problem(
        "JOB-115",
        name,
        "an empty file",
        "a job: at least `job`, `new` with a `cavity`, and `oil` with a `fill`",
        "start from a template: sumpwright new DIR",
    )


def _not_a_job(name: str, text: str) -> Problem:
    first = next((s for s in text.splitlines() if s.strip() and not s.startswith("#")), "")
    return Problem(
        "JOB-118",
        f"{name}:1",
        _short(first),
        "keys with values: `job: name of the job` and so on, one to a line",
        "start from a template: sumpwright new DIR",
    )


def _twice(name: str, node: Any, keys: Keys, first: int) -> Problem:
    return Problem(
        "JOB-117",
        _at(name, node, keys),
        f"`{keys[-1]}` a second time; it is already on line {first + 1}",
        "each key once in its section",
        "delete one of the two",
    )


def _strange_key(name: str, node: Any, keys: Keys) -> Problem:
    return Problem(
        "JOB-116",
        _at(name, node, keys),
        "a list or section where a key should be",
        "a word and a colon: `key: value`",
        "take the brackets off the key",
    )


def _strange_tag(name: str, node: Any, keys: Keys) -> Problem:
    return Problem(
        "JOB-116",
        _at(name, node, keys),
        _short(str(node.tag)),
        "a plain value",
        "delete the word that starts with '!'; text that starts so goes in quotes",
    )


def _growing_aliases(name: str, node: Any) -> Problem:
    return Problem(
        "JOB-119",
        _at(name, node, ()),
        f"over {_MOST_VALUES} values, or an alias (*name) that repeats itself",
        f"at most {_MOST_VALUES} values once every alias is written out",
        "write the values out instead of `*name`, or look whether this is the right file",
    )
