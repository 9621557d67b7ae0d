# SPDX-License-Identifier: Apache-2.0
"""A job file's values as a form shows them: text, on one line, whatever way they are written."""

import hashlib
import json
import re
from typing import Any

from sumpwright.job.entry import flow_text
from sumpwright.job.tree import Keys, Tree

_NOTE = re.compile(r"\s*:?\s*#\s?(.*)")


def value_at(data: Any, keys: Keys) -> Any:
    """The value at `keys`; None where there is none."""
    for key in keys:
        if isinstance(data, dict) and isinstance(key, str):
            data = data.get(key)
        elif isinstance(data, list) and isinstance(key, int) and key < len(data):
            data = data[key]
        else:
            return None
    return data


def typed_at(tree: Tree, keys: Keys) -> str | None:
    """The value at `keys` as text; None where the file leaves it out."""
    return typed(value_at(tree.data, keys))


def typed(value: Any) -> str | None:
    """A value as text: a text as it is, a list in brackets; None of nothing or a section."""
    if value is None or isinstance(value, str):
        return value
    return None if isinstance(value, dict) else flow_text(_whole(value))


def seen(value: Any) -> str:
    """A print of everything in a section or entry: the same as long as nothing in it changes."""
    return hashlib.sha256(json.dumps(value).encode("ascii")).hexdigest()[:16]


def _whole(value: Any) -> Any:
    """A list with nothing as an empty text."""
    if isinstance(value, list):
        return [_whole(v) for v in value]
    if isinstance(value, dict):
        return {key: _whole(v) for key, v in value.items()}
    return "" if value is None else value


def note_at(tree: Tree, keys: Keys) -> str:
    """The comment on the line of the value at `keys`."""
    mark = tree.marks.get(keys)
    if mark is None:
        return ""
    on_line = mark.shape == "text" or mark.flow
    rest = tree.text[mark.end if on_line else mark.key_end :].split("\n", 1)[0]
    found = _NOTE.fullmatch(rest)
    return found[1].strip() if found else ""


def page_key(data: Any, keys: Keys) -> str:
    """`keys` for a page: an entry by its name, so that it stays that entry when others go."""
    parts: list[str] = []
    for key in keys:
        parts.append(_entry_name(data, key) if isinstance(key, int) else key)
        data = value_at(data, (key,))
    return ".".join(parts)


def _entry_name(entries: Any, index: int) -> str:
    names = [e.get("name") if isinstance(e, dict) else None for e in entries]
    name = names[index] if index < len(names) else None
    plain = isinstance(name, str) and name and "." not in name and not name.isdigit()
    return str(name) if plain and names.count(name) == 1 else str(index)
