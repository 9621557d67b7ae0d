# SPDX-License-Identifier: Apache-2.0
"""Names a file that came in at its place in the job, as one change that can be taken back.

Runs in the worker that keeps the job at hand.
"""

from pathlib import Path, PurePosixPath
from typing import Any

from sumpwright.errors import InputError, Problem
from sumpwright.job.load import job_path, read_text
from sumpwright.job.named_file import WITHOUT_UNIT
from sumpwright.job.schema import need_at
from sumpwright.job.tree import Keys, Tree, dotted, read_tree
from sumpwright.web.edit_job import known_keys
from sumpwright.web.edit_verb import changed
from sumpwright.web.typed import typed, value_at


def put_file(folder: Path, key: str, name: str, unit: str | None, window: str) -> dict[str, Any]:
    """Set the file at `key` to `name`, and its unit where it carries none itself."""
    path = job_path(folder)
    tree = read_tree(read_text(path), path.name)
    at = file_section(tree, key)
    held = value_at(tree.data, at)
    if isinstance(held, dict):
        rows = [_row(f"{dotted(at)}.file", name, typed(held.get("file")))]
    else:  # the file's name stands in the section's place
        rows = [_row(dotted(at), name, typed(held))]
    was = kept_unit(tree, key)
    now = unit or was if PurePosixPath(name).suffix.lower() in WITHOUT_UNIT else None
    if now != was:
        rows.append(_row(f"{dotted(at)}.unit", now, was))
    return changed(folder, "set", {"changes": rows, "window": window})


def _row(key: str, value: str | None, before: str | None) -> dict[str, str | None]:
    return {"key": key, "value": value, "before": before}


def kept_unit(tree: Tree, key: str) -> str | None:
    """The unit that the job has for the file at `key`."""
    held = value_at(tree.data, file_section(tree, key))
    return typed(held.get("unit")) if isinstance(held, dict) else None


def file_section(tree: Tree, key: str) -> Keys:
    """The section of the file that `key` names; InputError where that is no place of a file."""
    keys = known_keys(tree, key)
    need = need_at(keys)
    if need is not None and need.short:
        return keys
    if need is not None and need.kind == "file":
        return keys[:-1]
    found, needed = key[:80], "a place where the job names a file, such as new.cavity"
    raise InputError([Problem("SAVE-309", tree.name, found, needed, "choose one of them")])
