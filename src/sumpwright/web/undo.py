# SPDX-License-Identifier: Apache-2.0
"""The changes that pages made to a job, kept in out/page/undo so that each can be taken back.

A list says which there are and how each stands; every change is a file of its own, written once.
Without a folder that can be written there is no history, and edits go on all the same.
"""

import json
import re
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from dataclasses import asdict, dataclass, field, replace
from pathlib import Path
from typing import Any

from sumpwright.atomic import write_atomic
from sumpwright.errors import InputError
from sumpwright.web.file_lock import file_lock
from sumpwright.web.inside import OutsideError, inside
from sumpwright.web.place import Place

_MOST_STEPS = 500
_MOST_BYTES = 32 << 20
"""Of all changes kept; the oldest go."""
_ID = re.compile(r"\d{8}")
_STATES = ("done", "undone", "passed")


@dataclass(frozen=True)
class Change:
    """One value that was changed, added or taken out."""

    was: Place
    """Where it stood before"""
    now: Place
    """Where it stood afterwards"""
    before: Any
    after: Any


@dataclass(frozen=True)
class Step:
    """What was done to the job file at one stroke."""

    says: str
    back: str
    """What undoing it does"""
    keys: tuple[str, ...]
    """As the page names them"""
    changes: tuple[Change, ...]
    old: str
    """The file's text before"""
    new: str

    @property
    def key(self) -> str:
        """Of the first value."""
        return self.keys[0]


@dataclass(frozen=True)
class Entry:
    """A step in the list."""

    id: str
    window: str
    says: str
    state: str = "done"
    """``done``, ``undone``, or ``passed``: left as it is"""
    turn: int = 0
    """Counts changes of state, so that the last undone is redone first"""
    keys: tuple[str, ...] = ()
    """As the page names them"""

    def touches(self, other: "Entry") -> bool:
        """Whether both change one value, or what is inside it."""
        pairs = [(f"{a}.", f"{b}.") for a in self.keys for b in other.keys]
        return any(a.startswith(b) or b.startswith(a) for a, b in pairs)


@dataclass
class History:
    """The steps of one job, the first one first."""

    folder: Path | None
    """Where they are kept; None where none can be"""
    entries: list[Entry] = field(default_factory=list)

    def next(self, state: str, window: str) -> Entry | None:
        """The step that `window` takes back (of those done) or does again (of those undone)."""
        some = [e for e in self.entries if e.state == state]
        own = [e for e in some if e.window == window]
        return max(own or some, key=lambda e: (e.turn, e.id), default=None)

    def later(self, entry: Entry) -> Entry | None:
        """The newest change since `entry` of a value that it changed."""
        some = [e for e in self.entries if e.state == "done" and e.turn > entry.turn]
        return max((e for e in some if e.touches(entry)), key=lambda e: e.turn, default=None)

    def add(self, window: str, step: Step) -> None:
        """Keep a step; what this window had undone cannot be done again any more."""
        gone = [e for e in self.entries if e.state == "undone" and e.window == window]
        last = max((int(e.id) for e in self.entries), default=0)
        entry = Entry(f"{last + 1:08d}", window, step.says, "done", self._turn(), step.keys)
        body = json.dumps(asdict(step), ensure_ascii=False).encode("utf-8")
        if self.folder is None or not self._written(f"{entry.id}.json", body):
            return
        self.entries = [e for e in self.entries if e not in gone] + [entry]
        self._keep(gone)

    def put(self, entry: Entry, state: str) -> None:
        """Note that a step is undone, done again, or passed over."""
        turn = self._turn()
        same = [e.id for e in self.entries]
        self.entries[same.index(entry.id)] = replace(entry, state=state, turn=turn)
        self._keep([])

    def step(self, entry: Entry) -> Step | None:
        """What was done; None where its file is gone or is none of ours."""
        if self.folder is None:
            return None
        try:
            said = json.loads((self.folder / f"{entry.id}.json").read_text("utf-8"))
            changes = tuple(Change(**c) for c in said.pop("changes"))
            return Step(**{**said, "keys": tuple(map(str, said["keys"]))}, changes=changes)
        except (OSError, ValueError, TypeError, KeyError, AttributeError, RecursionError):
            return None

    def _turn(self) -> int:
        return max((e.turn for e in self.entries), default=0) + 1

    def _keep(self, gone: list[Entry]) -> None:
        sizes = {e.id: self._size(e) for e in self.entries}
        kept: list[Entry] = []
        total = 0
        for entry in reversed(self.entries):
            total += sizes[entry.id]
            if len(kept) < _MOST_STEPS and total <= _MOST_BYTES:
                kept.append(entry)
            else:
                gone.append(entry)
        self.entries = kept[::-1]
        rows = json.dumps([asdict(e) for e in self.entries], ensure_ascii=False)
        self._written("list.json", rows.encode("utf-8"))
        for entry in gone:
            with suppress(OSError):
                (self.folder or Path()).joinpath(f"{entry.id}.json").unlink(missing_ok=True)

    def _size(self, entry: Entry) -> int:
        try:
            return ((self.folder or Path()) / f"{entry.id}.json").stat().st_size
        except OSError:
            return 0

    def _written(self, name: str, data: bytes) -> bool:
        if self.folder is None:
            return False
        try:
            self.folder.mkdir(parents=True, exist_ok=True)
            write_atomic(self.folder / name, data)
        except (OSError, InputError):
            return False
        return True


def history(job_folder: Path) -> History:
    """The history of the job in `job_folder` as it is now."""
    folder = _folder(job_folder)
    entries: list[Entry] = []
    if folder is not None:
        try:
            said = json.loads((folder / "list.json").read_text("utf-8"))
            entries = [Entry(**{**row, "keys": tuple(row["keys"])}) for row in said]
        except (OSError, ValueError, TypeError, KeyError, RecursionError):
            entries = []
    whole = all(_is_sound(e) for e in entries)
    return History(folder, entries if whole else [])


def can(job_folder: Path) -> tuple[bool, bool]:
    """Whether there is something to undo, and something to redo."""
    states = {entry.state for entry in history(job_folder).entries}
    return "done" in states, "undone" in states


def ahead(job_folder: Path, window: str) -> dict[str, Any]:
    """What `window` would undo and redo next, in words."""
    found = history(job_folder)
    both = {"undo": found.next("done", window), "redo": found.next("undone", window)}
    return {
        name: None if e is None else {"id": e.id, "says": e.says, "window": e.window}
        for name, e in both.items()
    }


@contextmanager
def held(job_folder: Path) -> Iterator[None]:
    """While this is held nobody else's page changes the job."""
    folder = _folder(job_folder)
    if folder is not None:
        with suppress(OSError):
            folder.mkdir(parents=True, exist_ok=True)
    with file_lock(None if folder is None else folder / "edit.lock"):
        yield


def _folder(job_folder: Path) -> Path | None:
    try:
        return inside(job_folder, "out/page/undo")
    except OutsideError:
        return None


def _is_sound(entry: Entry) -> bool:
    texts = all(isinstance(t, str) for t in (entry.id, entry.window, entry.says, *entry.keys))
    return (
        texts
        and _ID.fullmatch(entry.id) is not None
        and entry.state in _STATES
        and isinstance(entry.turn, int)
    )
