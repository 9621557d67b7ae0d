# SPDX-License-Identifier: Apache-2.0
"""What a log's columns measure, guessed from their names."""

import csv
import re
import unicodedata
from collections.abc import Mapping, Sequence
from functools import cache
from pathlib import Path

from sumpwright.logs.log import ROLES
from sumpwright.logs.log_unit import is_unit, log_unit

_BRACKETS = re.compile(r"^(?P<name>.*?)\s*[\[(](?P<unit>[^\])]*)[\])]\s*$")
_OTHER = {
    "fuel", "brake", "coolant", "water", "boost", "manifold", "map", "air", "intake", "gearbox",
    "diff", "differential", "turbo", "tyre", "tire", "clutch", "target", "min", "max", "avg",
    "average", "limit", "warning", "alarm", "status", "raw", "voltage", "slip", "date", "ignition",
    "injection", "beacon", "kraftstoff", "bremse", "wasser", "front", "rear", "stamp",
}  # fmt: skip
"""Words of another quantity: with one of them a name is only taken where a row has it too."""
_PUSH = {"acc", "accel", "acceleration", "force", "g"}
_NOT = {"lap": {"time", "distance"}, "gear": {"oil", "ratio"}, "latitude": _PUSH,
        "longitude": _PUSH, "speed": {"engine", "turbine", "fan"},
        "time": {"lap", "split"}}  # fmt: skip
"""More of them, of one role."""


def name_and_unit(cell: str) -> tuple[str, str]:
    """A column's name and the unit in it, if any: ``Oil P [bar]``, ``oil_p_bar``, ``Oil P (bar)``.

    A unit that is also a quantity's name stays in it: ``Eng RPM`` is not only ``Eng``.

    Parameters
    ----------
    cell : str [-]
        Of the row of names.

    Returns
    -------
    name, unit : str [-]
    """
    text = cell.strip().strip('"').strip()
    if match := _BRACKETS.match(text):
        return match["name"].strip(), match["unit"].strip()
    for mark in ("_", " ", ",", "/"):
        head, found, tail = text.rpartition(mark)
        if found and head and (len(tail) > 1 or mark == "_") and is_unit(tail):
            is_name = len(tail) > 1 and any(_words(tail) in rows for rows in _rows().values())
            return text if is_name else head.strip(), tail.strip()
    return text, ""


def roles_of(names: Sequence[str], units: Sequence[str]) -> dict[str, int]:
    """Place of the best column for each role that any name speaks of; time is a role here.

    Parameters
    ----------
    names : sequence of str [-]
    units : sequence of str [-]
        Beside them; a unit of another quantity rules a column out.

    Returns
    -------
    place : dict of int [-]
    """
    best: dict[str, tuple[float, int]] = {}
    for k, (name, unit) in enumerate(zip(names, units, strict=True)):
        for role, score in _scores(name).items():
            si = "s" if role == "time" else ROLES[role][0]
            if unit and log_unit(unit, si) is None and not (role == "time" and ":" in unit):
                if is_unit(unit):
                    continue
                score -= 0.5
            if unit and log_unit(unit, si) is not None:
                score += 0.3
            if score > best.get(role, (0.0, 0))[0]:
                best[role] = (score, k)
    return _apart(best)


def _apart(best: dict[str, tuple[float, int]]) -> dict[str, int]:
    """Each column for one role only, the one it fits best."""
    taken: dict[int, tuple[float, str]] = {}
    for role, (score, k) in best.items():
        if k not in taken or score > taken[k][0]:
            taken[k] = (score, role)
    return {role: k for k, (_, role) in taken.items()}


def _scores(name: str) -> dict[str, float]:
    words = _words(name)
    found: dict[str, float] = {}
    for role, rows in _rows().items():
        for rank, row in enumerate(rows):
            rest = set(words) - set(row)
            short = len(row) == 1 and len(row[0]) == 1
            other = _OTHER | _NOT.get(role, set())
            if not set(row) <= set(words) or rest & other or (short and rest):
                continue
            score = 1.0 + 0.5 * len(row) / max(len(words), 1) + 0.2 * len(row) - 0.001 * rank
            found[role] = max(found.get(role, 0.0), score)
    return found


def _words(name: str) -> tuple[str, ...]:
    split = re.sub(r"(?<=[a-zäöü])(?=[A-Z])", " ", name)
    return tuple(re.findall(r"[^\W\d_]+", _bare(split)))


def _bare(text: str) -> str:
    """Small letters without accents, which some exports drop."""
    parts = unicodedata.normalize("NFKD", text.lower())
    return "".join(c for c in parts if not unicodedata.combining(c))


@cache
def _rows() -> Mapping[str, tuple[tuple[str, ...], ...]]:
    lines = Path(__file__).with_name("channel_name.csv").read_text(encoding="utf-8").splitlines()
    found: dict[str, list[tuple[str, ...]]] = {}
    for row in csv.DictReader(line for line in lines if not line.startswith("#")):
        found.setdefault(row["role"], []).append(tuple(_bare(row["words"]).split()))
    return {role: tuple(rows) for role, rows in found.items()}
