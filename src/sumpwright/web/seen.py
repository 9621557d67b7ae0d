# SPDX-License-Identifier: Apache-2.0
"""What a page saw of an entry that has no name: found by all that is in it, never by its number.

A value in such an entry, or in a list of plain values, is changed only where the whole entry, or
the whole list, is as the page saw it: its neighbour may hold the same value, and numbers shift as
entries come and go.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from sumpwright.job.tree import Keys, Tree
from sumpwright.web.typed import page_key, seen, value_at

Shown = dict[str, str]


@dataclass(frozen=True)
class Within:
    """The outermost entry without a name about a value, or the list that the value is one of."""

    key: str
    """As pages say keys"""
    seen: str
    """The print of all that the page saw there"""


def within_of(given: Any) -> Within | None:
    """As a page sends it."""
    if not isinstance(given, Mapping):
        return None
    return Within(str(given.get("key")), str(given.get("seen")))


def now_within(tree: Tree, keys: Keys) -> Shown | None:
    """What stands about the value at `keys` now; None where names or the schema say where it is."""
    about = _about(tree.data, keys)
    if about is None:
        return None
    return {"key": page_key(tree.data, about), "seen": seen(value_at(tree.data, about))}


def found_again(tree: Tree, key: str, within: Within) -> str | None:
    """`key` as it is now, its entry wherever it went; None where no entry is as the page saw it."""
    if key != within.key and not key.startswith(f"{within.key}."):
        return None
    keys = _keys(tree.data, within.key)
    if seen(value_at(tree.data, keys)) == within.seen:
        return key
    entries = value_at(tree.data, keys[:-1])
    if not isinstance(entries, list):
        return None
    same = [i for i, entry in enumerate(entries) if seen(entry) == within.seen]
    if len(same) != 1:
        return None
    above, rest = within.key.rpartition(".")[0], key[len(within.key) :]
    return f"{above}.{same[0]}{rest}"


def _about(data: Any, keys: Keys) -> Keys | None:
    """Of the first step that only a number says."""
    for i, step in enumerate(keys):
        if not isinstance(step, int) or page_key(data, keys[: i + 1]).rpartition(".")[2] != str(
            step
        ):
            continue
        entry = value_at(data, keys[: i + 1])
        return keys[: i + 1] if isinstance(entry, dict) else keys[:i]
    return None


def _keys(data: Any, key: str) -> Keys:
    """The steps of a key that a page was given; a number where a list stands."""
    keys: Keys = ()
    for part in key.split("."):
        above = value_at(data, keys)
        named = [
            i
            for i, entry in enumerate(above if isinstance(above, list) else [])
            if isinstance(entry, dict) and entry.get("name") == part
        ]
        step: str | int = part
        if isinstance(above, list):
            step = named[0] if named else int(part) if part.isdigit() else len(above)
        keys = (*keys, step)
    return keys
