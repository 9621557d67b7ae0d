# SPDX-License-Identifier: Apache-2.0
"""The cautions that pages carry; their words are in caution.csv, caution_motion.csv and
caution_make.csv."""

import csv
from dataclasses import dataclass
from functools import cache
from pathlib import Path

IN_MOTION = ("Track driving", "Hot oil", "Fire", "Filling")
"""Those of every report that a page on oil in motion repeats."""


@dataclass(frozen=True)
class Caution:
    """One thing that can hurt someone or an engine."""

    topic: str
    text: str


@cache
def cautions() -> tuple[Caution, ...]:
    """All cautions of a report, in order."""
    return _read("caution.csv")


@cache
def motion_cautions() -> tuple[Caution, ...]:
    """Those of a page on oil in motion: its own, then what holds for any test drive."""
    kept = (c for c in cautions() if c.topic in IN_MOTION)
    return (*_read("caution_motion.csv"), *kept)


@cache
def make_cautions() -> tuple[Caution, ...]:
    """Those of a pack that a shop works from."""
    return _read("caution_make.csv")


def _read(name: str) -> tuple[Caution, ...]:
    lines = (Path(__file__).parent / name).read_text(encoding="utf-8").splitlines()
    rows = csv.DictReader(line for line in lines if not line.startswith("#"))
    return tuple(Caution(row["topic"], row["text"]) for row in rows)
