# SPDX-License-Identifier: Apache-2.0
"""The job file's keys in words for the forms, made of the schema's own words: no second list."""

import inspect
import re
from functools import lru_cache

from sumpwright.job.default import written_unit
from sumpwright.job.schema import Need, Section
from sumpwright.job.template import Answers, job_text
from sumpwright.job.tree import Keys, Tree, dotted, read_tree
from sumpwright.units import names_of, to_si
from sumpwright.web.typed import typed_at, value_at

_USUAL = {"metric": "4.5 L", "us": "4.8 qt"}
_NOT_HERE = re.compile(r"docs/|made up|\bfile: |: \{")
"""What is said to those who write the file with an editor."""


def label_of(name: str) -> str:
    """``Beyond pan`` of ``beyond_pan``; a key that is a unit's name stays as it is."""
    words = name.replace("_", " ")
    return words if name in names_of("rad/s") else words[:1].upper() + words[1:]


def title_of(section: Section) -> str:
    """What one of a list is called: ``Baffle opening`` of ``BaffleOpening``."""
    words = re.sub(r"(?<=[a-z])(?=[A-Z])", " ", section.__name__).lower()
    return words[:1].upper() + words[1:]


def about(section: Section) -> str:
    """What the schema says of a section."""
    return _for_a_form(" ".join(inspect.cleandoc(section.__doc__ or "").split()))


def units_of(need: Need, system: str) -> tuple[str, ...]:
    """Units that a quantity is usually written in, the job's own system first."""
    if need.quantity is None:
        return ()
    other = "metric" if system == "us" else "us"
    both = (written_unit(need.quantity.unit, s) for s in (system, other))
    return tuple(dict.fromkeys(both))


def _for_a_form(text: str) -> str:
    said = re.split(r"(?<=[.:]) (?=[A-Z])|(?<=;) ", text)
    kept = " ".join(s for s in said if not _NOT_HERE.search(s))
    return kept.rstrip(":; ") + "." if kept[-1:] in ":;" else kept


class Starter:
    """The made-up values and the comments of the file that a new job starts from."""

    def __init__(self, tree: Tree) -> None:
        self.tree = tree
        self._lines = tree.text.split("\n")
        self._first: dict[str, Keys] = {}
        for keys in tree.marks:
            self._first.setdefault(path_of(keys), keys)

    def example(self, path: str) -> str | None:
        """A value that could stand at `path`, as typed."""
        keys = self._keys(path)
        return None if keys is None else typed_at(self.tree, keys)

    def comment(self, path: str) -> str:
        """What the file says above the key at `path`."""
        keys = self._keys(path)
        if not keys or isinstance(keys[-1], int):
            return ""
        line = self.tree.marks[keys].line
        first = line
        while first > 0 and self._lines[first - 1].startswith("# "):
            first -= 1
        rows = (row[2:] for row in self._lines[first:line])
        return _for_a_form(" ".join(rows))

    def _keys(self, path: str) -> Keys | None:
        """Where the file has `path`; of the stock pan what it lacks is as with the new one."""
        return self._first.get(path) or self._first.get(re.sub(r"^stock\b", "new", path))


def starter_for(tree: Tree) -> Starter:
    """The starter's values in the units of the job `tree`, drawn for as much oil as it has."""
    system, fill = system_of(tree), value_at(tree.data, ("oil", "fill"))
    try:
        to_si(str(fill), "m^3")
    except ValueError:
        fill = _USUAL[system]
    return _starter(system, str(fill))


def system_of(tree: Tree) -> str:
    """``metric`` or ``us``, as the job `tree` has it."""
    return "us" if value_at(tree.data, ("units",)) == "us" else "metric"


@lru_cache(maxsize=4)
def _starter(system: str, fill: str) -> Starter:
    text = job_text(Answers("Low pan", "full", system, fill))
    return Starter(read_tree(text, "job.yaml"))


def path_of(keys: Keys) -> str:
    """Dotted, without the numbers of entries: the same for every baffle."""
    return dotted(tuple(k for k in keys if isinstance(k, str)))
