# SPDX-License-Identifier: Apache-2.0
"""The files a job names: inside the job folder, there, of a kind that can be read.

A job folder can be mailed or moved, so no file may lie outside it.
"""

import os
from collections.abc import Iterator
from difflib import get_close_matches
from pathlib import Path, PurePosixPath, PureWindowsPath
from typing import Any

from sumpwright.errors import Problem
from sumpwright.job.body import GEOMETRY
from sumpwright.job.schema import Need, need_at
from sumpwright.job.section import FileKind
from sumpwright.job.tree import Keys, Tree

KINDS = GEOMETRY.suffixes
WITHOUT_UNIT = (".stl", ".ply")
_MOST_LISTED = 2_000


def named_files(data: Any) -> Iterator[tuple[Keys, str]]:
    """Where the job names a file, and the text there."""
    yield from _named(data, (), need_at(()))


def _named(value: Any, keys: Keys, need: Need | None) -> Iterator[tuple[Keys, str]]:
    if need is None:
        return
    if need.files is not None and isinstance(value, str):
        yield keys, value
    elif isinstance(value, dict) and need.section is not None:
        for name, inner in value.items():
            yield from _named(inner, (*keys, name), need_at((*keys, name)))
    elif isinstance(value, list) and need.item is not None:
        for i, inner in enumerate(value):
            yield from _named(inner, (*keys, i), need.item)


def file_problems(tree: Tree, folder: Path) -> list[Problem]:
    """What is wrong with the files that the job names."""
    found: list[Problem] = []
    for keys, text in named_files(tree.data):
        need = need_at(keys)
        kind = need.files if need is not None and need.files is not None else GEOMETRY
        problem = _outside(tree, keys, text, folder) or _unusable(tree, keys, text, folder, kind)
        found += [problem] if problem else []
        unit = _without_unit(tree, keys, text) if kind is GEOMETRY else None
        found += [unit] if unit else []
    return found


def _outside(tree: Tree, keys: Keys, text: str, folder: Path) -> Problem | None:
    needed = "a file in the job folder, by its path from there, such as geometry/pan.step"
    windows = PureWindowsPath(text)
    if PurePosixPath(text).is_absolute() or windows.drive or windows.root:
        do = "copy the file into the job folder, so that the folder can be mailed or moved"
        return Problem("JOB-120", tree.where(keys), text, needed, do)
    if "\\" in text:
        do = f"write forward slashes, which work on every system: {text.replace(chr(92), '/')}"
        return Problem("JOB-120", tree.where(keys), text, needed, do)
    root = os.path.realpath(folder)
    if os.path.normpath(text).startswith("..") or not _inside(text, root):
        do = "copy the file into the job folder, so that the folder can be mailed or moved"
        return Problem("JOB-120", tree.where(keys), text, needed, do)
    return None


def _inside(text: str, root: str) -> bool:
    """As the system goes there: through each link before the ``..`` behind it."""
    try:
        real = os.path.realpath(os.path.join(root, text))
        return os.path.commonpath([root, real]) == root
    except (ValueError, OSError):
        return False


def _unusable(tree: Tree, keys: Keys, text: str, folder: Path, kind: FileKind) -> Problem | None:
    where, path = tree.where(keys), folder / text
    if path.suffix.lower() not in kind.suffixes:
        return Problem("JOB-122", where, text, kind.needed, kind.do)
    needed = f"this file in {folder.name or 'the job folder'}"
    try:
        if path.is_file():
            if os.access(path, os.R_OK):
                return None
            found = f"{text}, which may not be read"
            return Problem("JOB-121", where, found, needed, "allow reading it")
        found = f"{text}, which is {'a folder' if path.is_dir() else 'not there'}"
        return Problem("JOB-121", where, found, needed, _mend_of_missing(text, folder, kind))
    except OSError as err:
        found = f"{text}, which cannot be looked at ({err.strerror})"
        do = "allow reading it and the folder that it is in"
        return Problem("JOB-121", where, found, needed, do)


def _mend_of_missing(text: str, folder: Path, kind: FileKind) -> str:
    there = files_in(folder, kind)
    # by the file's own name: a folder in common makes no two names near
    names = {Path(t).name.lower(): t for t in reversed(there)}
    near = get_close_matches(Path(text).name.lower(), list(names), n=1)
    if near:
        return f"did you mean {names[near[0]]}?"
    if there:
        more = ", ..." if len(there) > 5 else ""
        return f"copy it there, or name one that is: {', '.join(there[:5])}{more}"
    what = "geometry file" if kind is GEOMETRY else kind.needed.split(maxsplit=1)[1]
    return f"copy it there; the job folder holds no {what} yet"


def files_in(folder: Path, kind: FileKind) -> list[str]:
    found: list[str] = []
    for base, folders, files in os.walk(folder):
        folders[:] = sorted(d for d in folders if not d.startswith(".") and d != "out")
        for name in sorted(files):
            if Path(name).suffix.lower() in kind.suffixes:
                found.append((Path(base) / name).relative_to(folder).as_posix())
        if len(found) > _MOST_LISTED:
            break
    return found


def _without_unit(tree: Tree, keys: Keys, text: str) -> Problem | None:
    section = keys[:-1] if keys[-1] == "file" else keys
    suffix = Path(text).suffix.lower()
    if suffix not in WITHOUT_UNIT or (*section, "unit") in tree.marks:
        return None
    do = "add `unit: mm` below it"
    if section == keys:
        do = f"write `{{file: {text}, unit: mm}}`"
    return Problem(
        "JOB-123",
        tree.where(keys),
        f"{text}, and no unit",
        f"the unit of its numbers, mm, cm, m, in or ft: {suffix[1:].upper()} does not carry one",
        do,
    )
