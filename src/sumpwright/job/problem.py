# SPDX-License-Identifier: Apache-2.0
"""The schema's complaints as problems with file, line, key, what is needed and what to do."""

from collections.abc import Iterator
from difflib import get_close_matches
from typing import Any

from pydantic import ValidationError

from sumpwright.errors import Problem
from sumpwright.job.schema import Need, need_at, places
from sumpwright.job.tree import Keys, Tree, dotted


def schema_problems(err: ValidationError, tree: Tree) -> list[Problem]:
    """Every complaint of the schema once, in its order."""
    found: dict[tuple[str, str], Problem] = {}
    for error in err.errors(include_url=False):
        problem = _problem(error["type"], tuple(error["loc"]), error, tree)
        found.setdefault((problem.code, problem.where), problem)
    return list(found.values())


def _problem(kind: str, keys: Keys, error: Any, tree: Tree) -> Problem:
    if (kind == "missing" and isinstance(keys[-1], int)) or kind in ("too_short", "too_long"):
        least = error.get("ctx", {}).get("min_length", 3)
        return _wrong_length(keys if kind != "missing" else keys[:-1], least, tree)
    if kind == "missing":
        return _missing(keys, tree)
    if kind == "extra_forbidden":
        return unknown_key(keys, tree)
    if kind == "literal_error":
        return _wrong_word(keys, tree)
    code = {"unit": "JOB-101", "range": "JOB-102", "choice": "JOB-108"}.get(kind)
    if kind == "string_pattern_mismatch":
        return _wrong_pattern(keys, tree)
    if code is None or (code == "JOB-101" and not isinstance(error["input"], str)):
        return _wrong_kind(keys, tree)
    context = error["ctx"]
    return Problem(code, tree.where(keys), tree.typed(keys), context["needed"], context["do"])


def _wrong_length(keys: Keys, least: int, tree: Tree) -> Problem:
    need = _need(keys)
    entries = "entry" if (need.length or least) == 1 else "entries"
    at_least = "" if need.length else f"at least {least} {entries}: "
    do = f"give {need.length or least} {entries}"
    return Problem("JOB-106", tree.where(keys), tree.typed(keys), at_least + need.needed, do)


def _missing(keys: Keys, tree: Tree) -> Problem:
    need = _need(keys)
    example = "..." if need.quantity is None else need.quantity.low
    do = f"add `{keys[-1]}:` with its keys indented below it"
    if need.kind == "list":
        do = f"add `{keys[-1]}:` with its entries below it, each behind '- '"
    if need.kind != "section" and need.kind != "list":
        do = f"add `{keys[-1]}: {example}`"
    return Problem("JOB-104", tree.where(keys), tree.typed(keys), need.needed, do)


def unknown_key(keys: Keys, tree: Tree) -> Problem:
    """A key that its section does not know, with the one that was probably meant."""
    section = _need(keys[:-1]).section
    known = list(section.model_fields) if section is not None else []
    name = str(keys[-1])
    return Problem(
        "JOB-103",
        tree.where(keys),
        f"{name}: {tree.typed(keys)}" if keys in tree.marks else f"`{name}`",
        f"a key that {_section_name(keys[:-1])} knows: {', '.join(known)}",
        _mend_of_unknown(name, keys, known),
    )


def _mend_of_unknown(name: str, keys: Keys, known: list[str]) -> str:
    near = get_close_matches(name.lower(), known, n=1)
    meant = f"did you mean `{near[0]}`?" if near else ""
    elsewhere = [p for p in places().get(name, ()) if p != _plain(keys[:-1])]
    if elsewhere:
        spots = " or ".join(f"`{p}`" if p else "the top of the file" for p in elsewhere)
        return f"`{name}` belongs in {spots}: move it there{', or ' + meant if meant else ''}"
    if meant:
        return meant
    far = get_close_matches(name.lower(), list(places()), n=1, cutoff=0.75)
    if far:
        spots = " or ".join(f"`{p}.{far[0]}`".replace("`.", "`") for p in places()[far[0]])
        return f"did you mean {spots}?"
    return "delete the key, or see docs/job-file.md for what there is"


def _plain(keys: Keys) -> str:
    """Dotted without the numbers of list entries."""
    return dotted(tuple(k for k in keys if isinstance(k, str)))


def _wrong_word(keys: Keys, tree: Tree) -> Problem:
    need = _need(keys)
    typed = tree.typed(keys)
    near = get_close_matches(typed.lower().strip("'\""), need.words, n=1)
    do = f"did you mean {near[0]}?" if near else f"write {need.needed}"
    return Problem("JOB-107", tree.where(keys), typed, need.needed, do)


def _wrong_pattern(keys: Keys, tree: Tree) -> Problem:
    return Problem(
        "JOB-105",
        tree.where(keys),
        tree.typed(keys),
        "letters, digits, '.', '-' or '_', at most 40, starting with a letter or a digit",
        "shorten it to such as A, B2 or 1.4; it becomes part of a file's name",
    )


def _wrong_kind(keys: Keys, tree: Tree) -> Problem:
    need = _need(keys)
    typed = tree.typed(keys)
    if need.kind == "number" and need.words:
        near = get_close_matches(typed.lower(), need.words, n=1)
        do = f"did you mean {near[0]}?" if near else f"write {need.needed}"
        return Problem("JOB-107", tree.where(keys), typed, need.needed, do)
    do = {
        "section": f"put its keys below `{keys[-1]}:`, indented",
        "list": "give the entries in brackets, or each on its own line behind '- '",
        "number": "write a number; it takes no unit",
        "file": "write the file's path from the job folder",
        "switch": "write true or false",
        "text": "write a text, in quotes if it has special characters",
        "quantity": "write one number with its unit",
    }.get(need.kind, "see docs/job-file.md")
    if isinstance(keys[-1], int) and need.kind == "section":
        do = "write its keys behind the '- ', or delete the entry"
    return Problem("JOB-105", tree.where(keys), typed or "nothing", need.needed, do)


def _need(keys: Keys) -> Need:
    return need_at(keys) or Need("any", "what docs/job-file.md lists")


def _section_name(keys: Keys) -> str:
    return f"`{dotted(keys)}`" if keys else "the top of the file"


def by_line(problems: list[Problem], tree: Tree) -> list[Problem]:
    """The problems from the file's top to its bottom."""
    return sorted(problems, key=lambda p: _line_of(p.where, tree.name))


def _line_of(where: str, name: str) -> int:
    digits: Iterator[str] = iter(where.removeprefix(f"{name}:").split("  ")[:1])
    first = next(digits, "")
    return int(first) if first.isdigit() else 0
