# SPDX-License-Identifier: Apache-2.0
"""Write a pack: whole or not at all, in the place of an older one only when it is complete."""

import hashlib
import json
import os
import secrets
import shutil
from collections.abc import Callable
from contextlib import suppress
from datetime import datetime
from pathlib import Path

from sumpwright.atomic import write_problem
from sumpwright.errors import InputError, Problem
from sumpwright.report.make_file import pack_files
from sumpwright.report.slug import slug
from sumpwright.studies.make import refuse_stale
from sumpwright.studies.make_result import Made, Pack, PackedFile

Progress = Callable[[str, float], None]
MANIFEST = "manifest.json"
KIND = "sumpwright pack"


def write_make(
    made: Made,
    progress: Progress | None = None,
    *,
    to: Path | None = None,
    made_at: datetime | None = None,
) -> tuple[Path, Pack]:
    """The pack's folder, out/make/REVISION of the job or `to`, and what its manifest says."""
    say = progress or (lambda _text, _share: None)
    place = pack_place(made, to)
    now = made_at or datetime.now().astimezone().replace(microsecond=0)
    files = pack_files(made, say, made_at=now)
    pack = pack_of(made, files, now)
    files[MANIFEST] = manifest_bytes(pack)
    refuse_stale(made)
    say("writing the pack", 0.98)
    _write(place, files)
    return place, pack


def pack_place(made: Made, to: Path | None) -> Path:
    """Where the pack goes; InputError where that is not a pack's place."""
    if to is None:
        folder = made.loaded.folder
        name = made.check.revision
        plain = name.isascii() and name.replace("-", "").replace("_", "").replace(".", "").isalnum()
        place = folder / "out" / "make" / (name if plain and name.strip(".") else slug(name))
        if not place.resolve().is_relative_to(folder.resolve()):
            raise InputError([_elsewhere(place)])
    else:
        place = to
    if place.exists() and not _ours(place):
        raise InputError([_taken(place)])
    return place


def pack_of(made: Made, files: dict[str, bytes], now: datetime) -> Pack:
    """What the manifest says of these files."""
    packed = (
        PackedFile(path, len(data), hashlib.sha256(data).hexdigest())
        for path, data in sorted(files.items())
    )
    return Pack(
        job=made.check.job,
        revision=made.check.revision,
        part_hash=made.part_hash,
        input_hash=made.check.input_hash,
        code_version=made.check.code_version,
        made=now.isoformat(timespec="seconds"),
        verdict="not met" if made.against else "met",
        against=tuple(f"{p.where}: {p.found} [{p.code}]" for p in made.against),
        not_made=made.not_made,
        warnings=tuple(f"{f.place}: {f.found} [{f.code}]" for f in made.findings),
        files=tuple(packed),
    )


def manifest_bytes(pack: Pack) -> bytes:
    """As JSON."""
    said = {"kind": KIND, **pack.as_json()}
    return (json.dumps(said, indent=1, ensure_ascii=False) + "\n").encode("utf-8")


def _ours(place: Path) -> bool:
    """An older pack, or nothing yet."""
    if not place.is_dir():
        return False
    names = {p.name for p in place.iterdir()}
    if not names:
        return True
    try:
        said = json.loads((place / MANIFEST).read_text("utf-8"))
    except (OSError, ValueError):
        return False
    return isinstance(said, dict) and said.get("kind") == KIND


def _write(place: Path, files: dict[str, bytes]) -> None:
    mark = secrets.token_hex(4)
    part, old = (place.with_name(f".{place.name}.{mark}.{end}") for end in ("part", "old"))
    try:
        place.parent.mkdir(parents=True, exist_ok=True)
        for name, data in files.items():
            path = part / name
            path.parent.mkdir(parents=True, exist_ok=True)
            path.write_bytes(data)
        _swap(part, place, old)
    except OSError as err:
        raise InputError([write_problem(place, err)]) from err
    finally:
        shutil.rmtree(part, ignore_errors=True)


def _swap(part: Path, place: Path, old: Path) -> None:
    """The new folder in the old one's place; the old one back where that fails."""
    there = place.exists()
    try:
        if there:
            os.rename(place, old)
        os.rename(part, place)
    except BaseException:  # Ctrl-C between the two, too
        if old.exists() and not place.exists():
            with suppress(OSError):
                os.rename(old, place)
        raise
    shutil.rmtree(old, ignore_errors=True)


def _taken(place: Path) -> Problem:
    return Problem(
        "MAKE-505",
        str(place),
        "something that is no pack",
        "an empty folder, an older pack, or nothing yet",
        "move it away, or name another folder with --to; nothing was changed",
    )


def _elsewhere(place: Path) -> Problem:
    return Problem(
        "MAKE-506",
        str(place),
        f"a link that leads out of the job, to {place.resolve()}",
        "a folder inside the job",
        "remove the link, or say where the pack goes with --to",
    )
