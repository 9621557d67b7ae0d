# SPDX-License-Identifier: Apache-2.0
"""The cautions every report carries; their words are in caution.csv."""

import csv
from dataclasses import dataclass
from functools import cache
from pathlib import Path


@dataclass(frozen=True)
class Caution:
    """One thing that can hurt someone or an engine."""

    topic: str
    text: str


@cache
def cautions() -> tuple[Caution, ...]:
    """All cautions, in order."""
    lines = (Path(__file__).parent / "caution.csv").read_text(encoding="utf-8").splitlines()
    rows = csv.DictReader(line for line in lines if not line.startswith("#"))
    return tuple(Caution(row["topic"], row["text"]) for row in rows)
