# SPDX-License-Identifier: Apache-2.0
"""The first line of a logged trace: which column is which."""

import re
from collections.abc import Sequence

from sumpwright.errors import Problem

NEEDED = ("time", "ax", "ay")
CHANNELS = (*NEEDED, "az", "rpm")
_UNITS = {
    "time": ("s", "sec"),
    "ax": ("g",),
    "ay": ("g",),
    "az": ("g",),
    "rpm": ("1/min", "rpm", "min-1", "min^-1"),
}
_OTHER_UNITS = ("ms", "us", "min", "m/s^2", "m/s2", "m/s²", "mg", "rad/s", "hz")
_NAME = re.compile(r"(?P<name>[a-z]+)(?:[ _]*[\[(](?P<inside>[^\])]*)[\])]|[ _]+(?P<behind>.+))?")
_WHAT = {"time": "time in s", "ax": "forward acceleration in g", "ay": "acceleration left in g"}
_MOST_NAMED = 8


def trace_header(cells: Sequence[str], where: str) -> tuple[dict[str, int], list[Problem]]:
    """Place of each channel among the columns, from 0, and what is wrong with the line.

    A name may carry its unit: ``ax``, ``ax_g``, ``ax [g]`` and ``AX (g)`` are the same.

    Parameters
    ----------
    cells : sequence of str [-]
        Of the first line.
    where : str [-]
        File and line, for messages.

    Returns
    -------
    place : dict of int [-]
        By names of `CHANNELS`; other columns are passed over.
    problems : list of Problem [-]
        LOG-101, LOG-102 and LOG-103.
    """
    place: dict[str, int] = {}
    problems: list[Problem] = []
    for i, cell in enumerate(cells):
        channel, unit = _channel(cell)
        if channel is None:
            continue
        if unit and unit not in _UNITS[channel]:
            problems.append(_wrong_unit(channel, cell, where))
        elif channel in place:
            found = f"{channel} in columns {place[channel] + 1} and {i + 1}"
            do = "take one out, or give it another name"
            problems.append(Problem("LOG-102", where, found, f"one column {channel}", do))
        place.setdefault(channel, i)
    missing = [name for name in NEEDED if name not in place]
    return place, problems + ([_missing(missing, cells, where)] if missing else [])


def _channel(cell: str) -> tuple[str | None, str]:
    """Channel that a column's name stands for, if any, and the unit in it, if any."""
    match = _NAME.fullmatch(cell.strip().lower())
    if match is None or match["name"] not in CHANNELS:
        return None, ""
    inside, behind = ((match[group] or "").strip() for group in ("inside", "behind"))
    if behind and behind not in (*_UNITS[match["name"]], *_OTHER_UNITS):
        return None, ""  # another channel, such as `ax filtered`
    return match["name"], inside or behind


def _wrong_unit(channel: str, cell: str, where: str) -> Problem:
    needed = f"{channel} in {_UNITS[channel][0]}"
    do = f"export it in {_UNITS[channel][0]}, or change the numbers and the column's name"
    return Problem("LOG-103", where, cell.strip(), needed, do)


def _missing(missing: Sequence[str], cells: Sequence[str], where: str) -> Problem:
    names = [cell.strip() for cell in cells if cell.strip()]
    listed = ", ".join(names[:_MOST_NAMED]) + (", ..." if len(names) > _MOST_NAMED else "")
    needed = "first a line of names with time, ax and ay; az and rpm may be there too"
    if all(_is_number(name) for name in names):
        return Problem("LOG-101", where, f"numbers: {listed}", needed, "put a line of names first")
    do = "name the column of " + " and of ".join(f"{_WHAT[name]} `{name}`" for name in missing)
    found = f"no {' and no '.join(missing)} among: {listed}"
    return Problem("LOG-101", where, found, needed, do)


def _is_number(text: str) -> bool:
    return re.fullmatch(r"[-+]?\d+([.,]\d*)?(e[-+]?\d+)?", text, re.IGNORECASE) is not None
