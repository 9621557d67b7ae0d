# SPDX-License-Identifier: Apache-2.0
"""File what was seen: a filled-in form becomes a record, once, and is never changed again."""

import hashlib
from collections.abc import Mapping
from datetime import datetime
from pathlib import Path
from typing import Any

from sumpwright.atomic import write_atomic, write_problem
from sumpwright.errors import InputError, Problem
from sumpwright.job.load import LoadedJob, load_job, plain_text, read_bytes
from sumpwright.job.record import DoorTest, Record, Teardown
from sumpwright.job.record_load import load_records, read_record
from sumpwright.job.revision import input_hash, part_hash
from sumpwright.job.tree import Tree, read_tree
from sumpwright.studies.record_form import blank_form

__all__ = ["blank_form", "doors_of", "write_record"]


def write_record(folder: Path, form: Path | Mapping[str, Any]) -> Path:
    """File a form, or its values, under records/; the path it was filed under.

    What the form says of the part it was made for is kept, so that a sheet filled in on an
    older part is not taken for evidence on this one.
    """
    loaded = load_job(folder)
    tree = _tree_of(form)
    made = datetime.now().astimezone().replace(microsecond=0)
    stamps = {
        "revision": loaded.job.revision,
        "part_hash": part_hash(loaded),
        "input_hash": input_hash(loaded),
    }
    typed = {key: _without_blank_end(value) for key, value in tree.data.items()}
    values = {**stamps, **typed, "made": made.isoformat()}
    values = _with_photos(loaded.folder, values, tree)
    record = read_record(tree, values)
    problems = [*_strangers(loaded, record, tree), *_unfound(loaded.folder, record, tree)]
    if problems:
        raise InputError(problems)
    return _filed(loaded.folder, record, values)


def _without_blank_end(value: Any) -> Any:
    """A list without the entries at its end that nobody filled in."""
    if isinstance(value, list):
        while value and not value[-1]:
            value = value[:-1]
    return value


def _tree_of(form: Path | Mapping[str, Any]) -> Tree:
    if isinstance(form, Path):
        if not form.is_file():
            raise InputError([_no_form(form)])
        return read_tree(plain_text(read_bytes(form).decode("utf-8")), form.name)
    return read_tree(_yaml(form), "the values given")


def _yaml(values: Mapping[str, Any]) -> str:
    from io import StringIO

    from ruamel.yaml import YAML

    writer, out = YAML(), StringIO()  # this kind keeps the order of the keys
    writer.default_flow_style, writer.width = False, 100
    writer.dump(dict(values), out)
    return out.getvalue()


def _filed(folder: Path, record: Record, values: Mapping[str, Any]) -> Path:
    stamp = record.made.strftime("%Y%m%d-%H%M%S")
    path = folder / "records" / f"{record.kind}-{record.revision}-{stamp}.yaml"
    if path.exists():
        raise InputError([_there_already(path)])
    first = ("kind", "revision", "part_hash", "input_hash", "made", "by", "note")
    ordered = {k: values[k] for k in first if k in values}
    ordered.update({k: v for k, v in values.items() if k not in ordered})
    head = "# A record: do not edit. What turns out wrong is said in a new record.\n"
    try:
        path.parent.mkdir(exist_ok=True)
    except OSError as err:
        raise InputError([write_problem(path, err)]) from err
    write_atomic(path, (head + _yaml(ordered)).encode("utf-8"))
    return path


def _with_photos(folder: Path, values: dict[str, Any], tree: Tree) -> dict[str, Any]:
    """The values with the fingerprint of every photo, which may be given by its path alone."""
    photos = values.get("photos")
    if not isinstance(photos, list):
        return values
    problems, kept = [], []
    for i, photo in enumerate(photos):
        name = photo.get("file") if isinstance(photo, dict) else photo
        found = digest_of(folder, str(name))
        if found is None:
            problems.append(_no_photo(tree.where(("photos", i)), str(name)))
        kept.append({"file": str(name), "sha256": found})
    if problems:
        raise InputError(problems)
    return {**values, "photos": kept}


def digest_of(folder: Path, name: str) -> str | None:
    """Fingerprint of a file inside the job folder, or None."""
    path = (folder / name).resolve()
    if not path.is_relative_to(folder.resolve()) or not path.is_file():
        return None
    with path.open("rb") as stream:
        return hashlib.file_digest(stream, "sha256").hexdigest()


def doors_of(loaded: LoadedJob) -> tuple[tuple[str, str], ...]:
    """Baffle and opening of every trap door of the new pan."""
    return tuple(
        (baffle.name, opening.name)
        for baffle in loaded.job.new.baffles
        for opening in baffle.openings
        if opening.door is not None
    )


def _strangers(loaded: LoadedJob, record: Record, tree: Tree) -> list[Problem]:
    """Doors that the job does not have; of another revision nobody can say."""
    if not isinstance(record, DoorTest | Teardown) or record.part_hash != part_hash(loaded):
        return []
    known = doors_of(loaded)
    listed = ", ".join(f"{door} on {baffle}" for baffle, door in known) or "no trap door"
    return [
        Problem(
            "REC-307",
            tree.where(("doors", i)),
            f"{row.door} on {row.baffle}",
            f"a door of this pan: {listed}",
            "correct its name, or leave it out",
        )
        for i, row in enumerate(record.doors)
        if (row.baffle, row.door) not in known
    ]


def _unfound(folder: Path, record: Record, tree: Tree) -> list[Problem]:
    """Records that are to be set aside but are not there."""
    known = {filed.name for filed in load_records(folder).filed}
    return [
        Problem(
            "REC-308",
            tree.where(("set_aside", i)),
            name,
            "the file name of a record of this job",
            "see records/ for its name",
        )
        for i, name in enumerate(getattr(record, "set_aside", ()))
        if name not in known
    ]


def _no_form(form: Path) -> Problem:
    found = "a folder" if form.is_dir() else "no such file"
    do = "print one with --blank KIND, fill it in and name it"
    return Problem("CLI-403", str(form), found, "a filled-in form", do)


def _no_photo(where: str, name: str) -> Problem:
    needed = "a file in the job folder, by its path from there, such as records/photo-1.jpg"
    return Problem("REC-309", where, name, needed, "copy the picture into the job folder first")


def _there_already(path: Path) -> Problem:
    return Problem(
        "REC-310",
        str(path),
        "a record of that name",
        "a new name; records are never rewritten",
        "wait a second and file it again",
    )
