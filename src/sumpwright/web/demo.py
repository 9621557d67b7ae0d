# SPDX-License-Identifier: Apache-2.0
"""The demo jobs that come with the program, copied to where a person may do as they like."""

import os
import shutil
from pathlib import Path

from sumpwright.atomic import write_problem
from sumpwright.errors import InputError, Problem
from sumpwright.job.name import JOB_FILE

DEMOS = ("demo-a", "demo-b", "demo-c")
THE_DEMO = "demo-b"
"""Which one is meant where none is named"""
_PACKED = Path(__file__).parents[1] / "demo"
"""Where an installed package has them"""
_CHECKOUT = Path(__file__).parents[3] / "examples"
_NOT_COPIED = ("out", "*.sumpwright-part")
_MOST_TRIES = 1000


def demo_path(name: str) -> Path:
    """Where the demo job `name` lies; it is read only."""
    if name not in DEMOS:
        needed = " or ".join(DEMOS)
        raise InputError([Problem("CLI-401", "demo", name[:80], needed, f"write {needed}")])
    places = (_PACKED / name, _CHECKOUT / name)
    return next((p for p in places if (p / JOB_FILE).is_file()), places[0])


def copied_demo(parent: Path, name: str) -> Path:
    """A fresh copy of the demo job `name` in `parent`: whole, or not there at all."""
    source, folder = demo_path(name), _free(parent, f"sumpwright-{name}")
    part = folder.with_name(f".{folder.name}.{os.getpid()}.sumpwright-part")
    try:
        shutil.copytree(source, part, ignore=shutil.ignore_patterns(*_NOT_COPIED))
        _unlock(part)
        os.rename(part, folder)
    except OSError as err:
        shutil.rmtree(part, ignore_errors=True)
        raise InputError([write_problem(folder, err)]) from err
    return folder


def demo_says(name: str) -> str:
    """What the demo job's note says of it."""
    from sumpwright.job.load import read_text
    from sumpwright.job.tree import read_tree

    tree = read_tree(read_text(demo_path(name) / JOB_FILE), JOB_FILE)
    return str(tree.data.get("note", ""))


def _free(parent: Path, name: str) -> Path:
    numbers = range(2, _MOST_TRIES)
    names = (name, *(f"{name}-{n}" for n in numbers))
    return next(p for n in names if not os.path.lexists(p := parent / n))


def _unlock(folder: Path) -> None:
    """Files of an installed package may be write-protected; a copy is its owner's."""
    for base, _, files in os.walk(folder):
        os.chmod(base, os.stat(base).st_mode | 0o700)
        for file in files:
            path = Path(base, file)
            os.chmod(path, os.stat(path).st_mode | 0o600)
