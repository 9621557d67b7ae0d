# SPDX-License-Identifier: Apache-2.0
"""What was typed in forms, as values of a job file: texts, lists and sections of them."""

import copy
import json
from collections.abc import Mapping
from typing import Any

from sumpwright.errors import InputError, Problem
from sumpwright.job.edit import writings
from sumpwright.job.entry import Part, flow_text
from sumpwright.job.schema import Need, need_at
from sumpwright.job.tree import Keys, Tree, dotted, read_tree
from sumpwright.web.typed import value_at

_MOST_LETTERS = 10_000
_AS_TYPED = ("text", "file")
"""Kinds of which whatever is typed is the value, brackets and quotes too."""


def written(text: str, need: Need | None) -> str:
    """`text` as it is handed to the file's editor, which would take ``null`` and quotes as YAML."""
    if need is None or not (need.kind in _AS_TYPED or need.short):
        return text
    first = next(iter(writings(text.strip())))
    return text if first[1] == text.strip() else json.dumps(text.strip(), ensure_ascii=False)


def written_value(value: Any, need: Need | None) -> str:
    """A value of the file, back in it."""
    return written(value, need) if isinstance(value, str) else flow_text(value)


def refuse_text(key: str, text: str) -> None:
    """InputError where `text` cannot stand in a job file at all."""
    if len(text) > _MOST_LETTERS:
        found, needed = f"a text of {len(text)} letters", f"at most {_MOST_LETTERS}"
        raise InputError([Problem("JOB-105", key, found, needed, "shorten it")])
    try:
        text.encode("utf-8")
    except UnicodeEncodeError:
        found = ascii(text if len(text) < 60 else text[:57] + "...")
        raise InputError([Problem("JOB-113", key, found, "UTF-8 text", "type it anew")]) from None


def typed_part(keys: Keys, values: Mapping[str, str]) -> Part:
    """The section or entry at `keys` that `values` make, by their dotted keys inside it."""
    top: Any = {}
    for key, text in values.items():
        refuse_text(dotted((*keys, key)), text)
        if text.strip():
            _put(top, keys, key.split("."), text.strip())
    return _closed(top)


def typed_value(text: str, need: Need | None) -> Part:
    """One value of a list, as typed."""
    if need is not None and need.kind == "list":
        try:
            value = read_tree(f"k: {text}", "").data.get("k")
        except InputError:
            return text
        return value if isinstance(value, list) else text
    return text


def example_part(example: Tree, keys: Keys, held: Any) -> Part | None:
    """What the starter file has at `keys`; an entry under a name that `held` does not have yet."""
    entry = isinstance(keys[-1], int)
    part = copy.deepcopy(value_at(example.data, (*keys[:-1], 0) if entry else keys))
    names = [e.get("name") for e in held if isinstance(e, dict)] if isinstance(held, list) else []
    if isinstance(part, dict) and part.get("name") in names:
        number = 2
        while f"{part['name']} {number}" in names:
            number += 1
        part["name"] = f"{part['name']} {number}"
    return part if isinstance(part, (dict, list, str)) else None


def _put(section: Any, above: Keys, parts: list[str], text: str) -> None:
    """Put a text into nested sections; entries of lists are kept by number until all are there."""
    keys = above
    for i, part in enumerate(parts):
        step: str | int = int(part) if part.isdigit() else part
        keys = (*keys, step)
        if i == len(parts) - 1:
            section[step] = typed_value(text, need_at(keys))
        else:
            section = section.setdefault(step, {})
            if not isinstance(section, dict):
                raise InputError([_both(keys)])


def _closed(value: Any) -> Part:
    """Sections whose keys are numbers are lists."""
    if not isinstance(value, dict):
        return value  # type: ignore[no-any-return]
    if value and all(isinstance(key, int) for key in value):
        return [_closed(value[key]) for key in sorted(value)]
    return {str(key): _closed(v) for key, v in value.items()}


def _both(keys: Keys) -> Problem:
    needed = "either one value or a section of them"
    return Problem(
        "JOB-105", dotted(keys), "both a value and a section", needed, "give one of both"
    )
