# SPDX-License-Identifier: Apache-2.0
"""Where a value stands, said so that it is found again when entries before it came or went."""

from typing import Any

from sumpwright.job.tree import Keys
from sumpwright.web.typed import value_at

Place = list[str | dict[str, Any]]
"""Keys; an entry as ``{"name": "left wall"}``, or without a name ``{"index": 1, "of": 3}``."""


def place_of(data: Any, keys: Keys, *, taken: Any = None) -> Place:
    """The place of `keys` in the values `data`.

    `taken` is an entry that does not stand there (any more, or yet): its place is then a free one.
    """
    place: Place = []
    for i, key in enumerate(keys):
        above = value_at(data, keys[:i])
        if isinstance(key, str):
            place.append(key)
            continue
        entries = above if isinstance(above, list) else []
        free = taken is not None and i == len(keys) - 1
        entry = taken if free else (entries[key] if key < len(entries) else None)
        name = entry.get("name") if isinstance(entry, dict) else None
        label: dict[str, Any] = {"index": key, "of": len(entries)}
        place.append({**({"name": name} if isinstance(name, str) else label), "free": free})
    return place


def found_at(data: Any, place: Place) -> tuple[Keys, Any] | None:
    """The keys of `place` in the values `data` and what they hold; None where it is not there.

    A free place holds None, and its entry is the one that would be the next.
    """
    keys: Keys = ()
    for i, label in enumerate(place):
        above = value_at(data, keys)
        if isinstance(label, str):
            if above is not None and not isinstance(above, dict) and i < len(place) - 1:
                return None
            keys = (*keys, label)
            continue
        index = _entry(above if isinstance(above, list) else [], label)
        if index is None:
            return None
        keys = (*keys, index)
    last = place[-1]
    free = isinstance(last, dict) and bool(last.get("free"))
    return keys, None if free else value_at(data, keys)


def _entry(entries: list[Any], label: dict[str, Any]) -> int | None:
    if "name" not in label:
        index, of = label.get("index"), label.get("of")
        same = isinstance(index, int) and len(entries) == of and 0 <= index <= len(entries)
        return index if same else None
    named = [
        i for i, e in enumerate(entries) if isinstance(e, dict) and e.get("name") == label["name"]
    ]
    if label.get("free"):
        return None if named else len(entries)
    return named[0] if len(named) == 1 else None
