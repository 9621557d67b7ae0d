# SPDX-License-Identifier: Apache-2.0
"""Finished answers, kept in the job's out/page so that a server that starts again has them.

A key covers question, arguments, the inputs' hash and the code's version: an answer on the shelf
is the answer for these inputs, or is not there.
"""

import hashlib
import json
import re
from collections.abc import Iterator
from contextlib import suppress
from dataclasses import dataclass
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


@dataclass(frozen=True)
class Kept:
    """A finished answer."""

    question: str
    args: dict[str, Any]
    input_hash: str
    files: tuple[str, ...]
    """Names under out/"""
    text: str
    """JSON"""


def put(folder: Path, key: str, kept: Kept) -> None:
    """Keep an answer; a folder that cannot be written keeps none."""
    path = _path(folder, key)
    with suppress(OSError, InputError):
        path.parent.mkdir(parents=True, exist_ok=True)
        about = [kept.question, kept.args, kept.input_hash, kept.files]
        write_atomic(path, f"{json.dumps(about)}\n{kept.text}".encode())
        _clear(path.parent)


def found(folder: Path, key: str) -> Kept | None:
    """An answer; None where there is none, or one of its files is gone."""
    if not _KEY.fullmatch(key):
        return None
    try:
        head, _, text = _path(folder, key).read_text("utf-8").partition("\n")
        question, args, input_hash, files = json.loads(head)
        kept = Kept(str(question), dict(args), str(input_hash), tuple(map(str, files)), text)
    except (OSError, ValueError, TypeError):
        return None
    is_whole = key == answer_key(kept.question, kept.args, kept.input_hash) and text
    there = all((folder / "out" / name).is_file() for name in kept.files)
    return kept if is_whole and there else None


def of_inputs(folder: Path, input_hash: str) -> Iterator[tuple[str, Kept]]:
    """Every answer there is for these inputs, with its key, the oldest first."""
    for path in sorted(_answers(folder / "out" / "page"), key=_age):
        kept = found(folder, path.stem)
        if kept is not None and kept.input_hash == input_hash:
            yield path.stem, kept


def _path(folder: Path, key: str) -> Path:
    return folder / "out" / "page" / f"{key}.json"


def _clear(shelf: Path) -> None:
    for path in sorted(_answers(shelf), key=_age, reverse=True)[_MOST:]:
        path.unlink(missing_ok=True)


def _answers(shelf: Path) -> Iterator[Path]:
    return (path for path in shelf.glob("*.json") if _KEY.fullmatch(path.stem))


def _age(path: Path) -> float:
    try:
        return path.stat().st_mtime
    except OSError:  # another server has just cleared it
        return 0.0
