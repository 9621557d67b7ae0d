# SPDX-License-Identifier: Apache-2.0
"""Change the open job's file for a page: never over what somebody else put there, never half.

Runs in the worker that keeps the job at hand. What a page saw before its change must still stand in
the file at that key; other keys may have changed meanwhile. A refused change writes nothing.
"""

from collections.abc import Callable
from dataclasses import asdict, dataclass
from pathlib import Path
from typing import Any

from sumpwright.errors import InputError, Problem
from sumpwright.job.edit import keys_of, with_value
from sumpwright.job.entry import with_part, without_part
from sumpwright.job.load import job_path, plain_text, read_bytes
from sumpwright.job.problem import unknown_key
from sumpwright.job.save import save_text
from sumpwright.job.schema import Need, need_at
from sumpwright.job.tree import Keys, Tree, dotted, read_tree
from sumpwright.studies.grade import grade_problems
from sumpwright.web.edit_part import (
    example_part,
    refuse_text,
    typed_part,
    typed_value,
    written,
)
from sumpwright.web.form_word import starter_for
from sumpwright.web.inside import inside
from sumpwright.web.place import place_of
from sumpwright.web.seen import Shown, Within, found_again, now_within
from sumpwright.web.typed import page_key, seen, typed, value_at
from sumpwright.web.undo import Change, Step, held, history

_TRIES = 5
"""Saves from outside that may come between reading the file and putting the new one."""


class ConflictError(Exception):
    """The key holds something else than the page saw."""

    def __init__(self, key: str, theirs: str | None, why: str = "", id: str | None = None) -> None:
        super().__init__(why or f"{key} was changed meanwhile: it is now {_brief(theirs)}")
        self.key, self.theirs, self.id = key, theirs, id
        self.within: Shown | None = None
        """What stands there now of the entry or list about it"""


@dataclass(frozen=True)
class Asked:
    """One value to change, as a page asks for it."""

    key: str
    value: str | None
    before: str | None
    within: Within | None = None
    """The entry or list about it that has no name to be found by, as the page saw it"""


@dataclass(frozen=True)
class Draft:
    """A changed text of the file, not yet judged, and what was changed in it."""

    text: str
    step: Step | None
    """None where nothing is to be done"""
    within: Shown | None = None
    """Of one value, the unnamed entry or list about it as it is afterwards"""


Edit = Callable[[str, Tree], Draft]
"""Takes the file's text and its tree"""


def set_values(folder: Path, asked: list[Asked], window: str) -> dict[str, Any]:
    """Change some values at one stroke."""
    for one in asked:
        refuse_text(one.key, one.value or "")
    return _done(folder, window, lambda text, tree: _set(text, tree, asked))


def add_part(folder: Path, key: str, values: Any, window: str) -> dict[str, Any]:
    """Add an entry to a list, or a section; without `values` the starter file's example."""
    return _done(folder, window, lambda text, tree: _add(text, tree, key, values))


def take_part(
    folder: Path, key: str, print_: str | None, window: str, within: Within | None = None
) -> dict[str, Any]:
    """Take an entry or a section out; `print_` and `within` say what the page saw there."""

    def take(text: str, tree: Tree) -> Draft:
        again = key if within is None else found_again(tree, key, within)
        if again is None:
            why = f"{key} was changed meanwhile: look at it before it goes"
            raise ConflictError(key, None, why)
        return _take(text, tree, again, print_)

    return _done(folder, window, take)


def change_text(folder: Path, edit: Edit) -> tuple[Draft, tuple[Problem, ...]]:
    """What `edit` makes of the job file, written; with the problems that are left."""
    path = job_path(folder)
    inside(folder, path.name)  # a link may not lead the page's edits out of the folder
    for tries in range(_TRIES):
        before = read_bytes(path)
        text = before.decode("utf-8")
        draft = edit(text, read_tree(plain_text(text), path.name))
        if draft.step is None:
            return draft, ()
        try:
            return draft, save_text(path, before, draft.text, (grade_problems,))
        except InputError as err:
            if err.problems[0].code != "SAVE-308" or tries == _TRIES - 1:
                raise
    raise AssertionError("the last try raises")


def known_keys(tree: Tree, key: str) -> Keys:
    """The keys that a dotted `key` names; InputError where the schema knows no such place."""
    keys = keys_of(tree, key)
    for end in range(1, len(keys) + 1):
        if need_at(keys[:end]) is None:
            raise InputError([unknown_key(keys[:end], tree)])
    return keys


def _done(folder: Path, window: str, edit: Edit) -> dict[str, Any]:
    with held(folder):
        draft, left = change_text(folder, edit)
        if draft.step is not None:
            history(folder).add(window, draft.step)
    step = draft.step
    return {
        "key": step.key if step else "",
        "typed": typed(step.changes[0].after) if step else None,
        "says": step.says if step else "",
        "problems": [asdict(p) for p in left],
        "within": draft.within,
    }


def _set(text: str, tree: Tree, asked: list[Asked]) -> Draft:
    new = text
    changes: list[Keys] = []
    named: list[str] = []
    says: list[str] = []
    back: list[str] = []
    for one in asked:
        keys = _still_there(tree, one)
        need, theirs = need_at(keys), typed(value_at(tree.data, keys))
        wanted = None if one.value is None else one.value.strip()
        if theirs == wanted:
            continue
        if (theirs or None) != (one.before or None):
            raise _conflict(tree, one, keys)
        new = with_value(new, keys, "null" if wanted is None else written(wanted, need))
        changes.append(keys)
        says.append(_arrow(one.key, theirs, wanted))
        back.append(_arrow(one.key, wanted, theirs))
        named.append(page_key(tree.data, keys))
    if not changes:
        return Draft(text, None)
    after = read_tree(plain_text(new), tree.name)
    step = Step(_short(says), _short(back), tuple(named), _changes(tree, after, changes), text, new)
    return Draft(new, step, now_within(after, changes[0]))


def _conflict(tree: Tree, one: Asked, keys: Keys) -> ConflictError:
    """What somebody else made of it, and of all that the next try must have seen."""
    conflict = ConflictError(one.key, typed(value_at(tree.data, keys)))
    conflict.within = now_within(tree, keys)
    return conflict


def _still_there(tree: Tree, one: Asked) -> Keys:
    """The keys of a value; a conflict where the entry that it belonged to is gone."""
    try:
        if one.within is None:
            return known_keys(tree, one.key)
        again = found_again(tree, one.key, one.within)
        keys = known_keys(tree, again or one.key)
        if again is None:
            raise _conflict(tree, one, keys)
        return keys
    except InputError as err:
        if err.problems[0].code == "SAVE-309" and one.before is not None:
            raise ConflictError(
                one.key, None, f"{one.key} is gone: the entry was taken out"
            ) from err
        raise


def _changes(tree: Tree, after: Tree, keys: list[Keys]) -> tuple[Change, ...]:
    return tuple(
        Change(
            place_of(tree.data, k),
            place_of(after.data, k),
            value_at(tree.data, k),
            value_at(after.data, k),
        )
        for k in keys
    )


def _add(text: str, tree: Tree, key: str, values: Any) -> Draft:
    keys = known_keys(tree, key)
    need, here = need_at(keys), value_at(tree.data, keys)
    if need is None or need.kind not in ("list", "section"):
        raise InputError([unknown_key((*keys, "0"), tree)])
    if need.kind == "list":
        keys = (*keys, len(here) if isinstance(here, list) else 0)
    elif here is not None:
        raise ConflictError(key, "there already", f"{key} is there already: it was added meanwhile")
    part = _part(tree, keys, need_at(keys), values, here)
    new = with_part(text, keys, part)
    after = read_tree(plain_text(new), tree.name)
    held_part = value_at(after.data, keys)
    change = Change(
        place_of(tree.data, keys, taken=held_part), place_of(after.data, keys), None, held_part
    )
    named = page_key(after.data, keys)
    says = f"{named} added", f"{named} taken out"
    return Draft(new, Step(*says, (named,), (change,), text, new))


def _part(tree: Tree, keys: Keys, need: Need | None, values: Any, here: Any) -> Any:
    """What is to be added: of what was typed, or as the starter file has it."""
    if isinstance(values, str):
        refuse_text(dotted(keys), values)
        return typed_value(values.strip(), need)
    if isinstance(values, dict):
        return typed_part(keys, {str(k): v for k, v in values.items() if isinstance(v, str)})
    part = example_part(starter_for(tree).tree, keys, here)
    if part is None:
        found, do = "no example of it", "fill in its form"
        raise InputError([Problem("SAVE-309", dotted(keys), found, "values to put there", do)])
    return part


def _take(text: str, tree: Tree, key: str, print_: str | None) -> Draft:
    try:
        keys = known_keys(tree, key)
    except InputError as err:
        if err.problems[0].code == "SAVE-309":
            raise ConflictError(key, None, f"{key} is gone already") from err
        raise
    value = value_at(tree.data, keys)
    if keys not in tree.marks or value is None:
        raise ConflictError(key, None, f"{key} is gone already")
    if print_ is not None and print_ != seen(value):
        raise ConflictError(key, None, f"{key} was changed meanwhile: look at it before it goes")
    new = without_part(text, keys)
    after = read_tree(plain_text(new), tree.name)
    entry = isinstance(keys[-1], int)
    now = place_of(after.data, keys, taken=value if entry else None)
    change = Change(place_of(tree.data, keys), now, value, None)
    says = f"{key} taken out", f"{key} put back"
    return Draft(new, Step(*says, (page_key(tree.data, keys),), (change,), text, new))


def _brief(theirs: str | None) -> str:
    text = theirs or "left out"
    return text if len(text) <= 80 else text[:77] + "..."


def _arrow(key: str, was: str | None, now: str | None) -> str:
    return f"{key}: {was or 'nothing'} -> {now or 'nothing'}"


def _short(says: list[str]) -> str:
    more = f" and {len(says) - 1} more" if len(says) > 1 else ""
    return says[0][:200] + more
