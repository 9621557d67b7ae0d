# SPDX-License-Identifier: Apache-2.0
"""Finished answers, kept in the job's out/page so that a server that starts again has them.

A key covers question, arguments, the inputs' hash and the code's version: an answer on the shelf
is the answer for these inputs, or is not there.
"""

import hashlib
import json
import re
from contextlib import suppress
from pathlib import Path
from typing import Any

from sumpwright import __version__
from sumpwright.atomic import write_atomic
from sumpwright.errors import InputError

_KEY = re.compile(r"[0-9a-f]{64}")
_MOST = 60
"""Answers kept; the oldest go."""


def answer_key(question: str, args: dict[str, Any], input_hash: str) -> str:
    """Where the answer to `question` stands."""
    text = json.dumps([question, args, input_hash, __version__], sort_keys=True)
    return hashlib.sha256(text.encode()).hexdigest()


def put(folder: Path, key: str, text: str, files: tuple[str, ...]) -> None:
    """Keep an answer; a folder that cannot be written keeps none."""
    path = _path(folder, key)
    with suppress(OSError, InputError):
        path.parent.mkdir(parents=True, exist_ok=True)
        head = json.dumps({"files": files}) + "\n"
        write_atomic(path, (head + text).encode())
        _clear(path.parent)


def found(folder: Path, key: str) -> tuple[str, tuple[str, ...]] | None:
    """An answer's JSON text and its files; None where there is none, or one is gone."""
    if not _KEY.fullmatch(key):
        return None
    try:
        head, _, text = _path(folder, key).read_text("utf-8").partition("\n")
        files = tuple(map(str, json.loads(head)["files"]))
    except (OSError, ValueError, KeyError, TypeError):
        return None
    if not text or not all((folder / "out" / name).is_file() for name in files):
        return None
    return text, files


def _path(folder: Path, key: str) -> Path:
    return folder / "out" / "page" / f"{key}.json"


def _clear(shelf: Path) -> None:
    kept = sorted(shelf.glob("*.json"), key=lambda p: p.stat().st_mtime, reverse=True)
    for path in kept[_MOST:]:
        if _KEY.fullmatch(path.stem):
            path.unlink(missing_ok=True)
