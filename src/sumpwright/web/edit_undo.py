# SPDX-License-Identifier: Apache-2.0
"""Take a change of the job file back, or make it again, where nobody changed the same since.

The lines are put back as they were where they still stand as they were left; else only the value.
"""

from dataclasses import asdict
from pathlib import Path
from typing import Any, Literal

from sumpwright.errors import InputError
from sumpwright.job.edit import with_value
from sumpwright.job.entry import bare, removed, with_part, without_part
from sumpwright.job.load import plain_text
from sumpwright.job.schema import need_at
from sumpwright.job.tree import Keys, Tree, read_tree
from sumpwright.web.edit_job import ConflictError, Draft, change_text
from sumpwright.web.edit_part import written_value
from sumpwright.web.merge import merged
from sumpwright.web.place import Place, found_at
from sumpwright.web.typed import typed
from sumpwright.web.undo import Entry, History, Step, held, history

Way = Literal["undo", "redo"]


def step_back(folder: Path, way: Way, window: str, past: str | None) -> dict[str, Any]:
    """Undo the newest step of `window`, or of any; or redo the one undone last.

    With `past`, the step of that id is left as it is and the one before it is taken.
    """
    with held(folder):
        kept = history(folder)
        entry, step = _next(kept, way, window, past)
        _refuse_later(kept, entry, step)
        flip = Flip(step, way)
        try:
            _, left = change_text(folder, flip.draft)
        except ConflictError as err:
            raise ConflictError(err.key, err.theirs, str(err), entry.id) from err
        kept.put(entry, "undone" if way == "undo" else "done")
    value = flip.pairs[0].want
    problems = [asdict(p) for p in left]
    says = step.back if way == "undo" else step.says
    return {"key": step.key, "typed": typed(value), "says": says, "problems": problems}


def _next(kept: History, way: Way, window: str, past: str | None) -> tuple[Entry, Step]:
    state = "done" if way == "undo" else "undone"
    if past is not None and any(e.id == past and e.state == state for e in kept.entries):
        kept.put(next(e for e in kept.entries if e.id == past), "passed")
    while (entry := kept.next(state, window)) is not None:
        step = kept.step(entry)
        if step is not None:
            return entry, step
        kept.put(entry, "passed")  # its file is gone
    raise ConflictError("", None, f"there is nothing to {way}")


def _refuse_later(kept: History, entry: Entry, step: Step) -> None:
    """That the value is the same again does not mean that nobody wanted it so meanwhile."""
    later = kept.later(entry)
    if later is None:
        return
    newest = kept.step(later)
    theirs = None if newest is None else typed(newest.changes[0].after)
    why = f"{step.key} was changed again since ({later.says}); nothing was changed"
    raise ConflictError(step.key, theirs, why, entry.id)


class _Pair:
    """One value to put back: where it must stand as it was left, and what it was before."""

    def __init__(self, have_at: Place, have: Any, want_at: Place, want: Any) -> None:
        self.have_at, self.have, self.want_at, self.want = have_at, have, want_at, want


class Flip:
    """A step, backward or forward again."""

    def __init__(self, step: Step, way: Way) -> None:
        back = way == "undo"
        self._key = step.key
        self._have, self._want = (step.new, step.old) if back else (step.old, step.new)
        here = [(c.now, c.after) for c in step.changes]
        there = [(c.was, c.before) for c in step.changes]
        both = zip(here, there, strict=True) if back else zip(there, here, strict=True)
        self.pairs = [_Pair(*have, *want) for have, want in both]
        self._step = step

    def draft(self, text: str, tree: Tree) -> Draft:
        """The job file's `text` with the step flipped; raises ConflictError where it cannot be."""
        spots = [self._spot(tree, pair) for pair in self.pairs]
        for new in (merged(self._have, text, self._want), self._by_value(text, tree, spots)):
            if new is not None and self._is_right(tree, new, spots):
                return Draft(new, self._step)
        raise ConflictError(self._key, None, f"{self._key} was changed since; nothing was changed")

    def _spot(self, tree: Tree, pair: _Pair) -> Keys:
        """Where the value stands, as it was left."""
        found = found_at(tree.data, pair.have_at)
        if found is None:
            why = f"{self._key} is gone, or there again: it was changed since; nothing was changed"
            raise ConflictError(self._key, None, why)
        if bare(found[1]) != bare(pair.have):
            theirs = typed(found[1]) or ("left out" if found[1] is None else "changed inside")
            why = f"{self._key} was changed since: it is now {theirs}; nothing was changed"
            raise ConflictError(self._key, typed(found[1]), why)
        return found[0]

    def _by_value(self, text: str, tree: Tree, spots: list[Keys]) -> str | None:
        try:
            for pair, keys in zip(self.pairs, spots, strict=True):
                whole = isinstance(pair.want, dict) or isinstance(keys[-1], int)
                if pair.want is None:
                    text = without_part(text, keys)
                elif pair.have is None and whole:
                    text = with_part(text, self._free(tree, keys), pair.want)
                else:
                    text = with_value(text, keys, written_value(pair.want, need_at(keys)))
        except InputError:
            return None
        return text

    def _free(self, tree: Tree, keys: Keys) -> Keys:
        """The next entry of a list, or the section itself."""
        if not isinstance(keys[-1], int):
            return keys
        count = sum(1 for k in tree.marks if k[:-1] == keys[:-1])
        return (*keys[:-1], count)

    def _is_right(self, tree: Tree, new: str, spots: list[Keys]) -> bool:
        """Whether `new` holds the wanted values, and everything else as `tree` has it."""
        try:
            after = read_tree(plain_text(new), tree.name)
        except InputError:
            return False
        rest, others = tree.data, after.data
        for pair, keys in zip(self.pairs, spots, strict=True):
            found = found_at(after.data, pair.want_at)
            if found is None or bare(found[1]) != bare(pair.want):
                return False
            rest = removed(rest, keys) if pair.have is not None else rest
            others = removed(others, found[0]) if pair.want is not None else others
        return bool(_short(bare(rest)) == _short(bare(others)))


def _short(data: Any) -> Any:
    """Values with every section of a file alone as if only the file were written in its place."""
    if isinstance(data, dict):
        return data["file"] if set(data) == {"file"} else {k: _short(v) for k, v in data.items()}
    return [_short(v) for v in data] if isinstance(data, list) else data
