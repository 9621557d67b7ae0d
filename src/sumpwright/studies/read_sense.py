# SPDX-License-Identifier: Apache-2.0
"""Which way a log's channels count: told by a person, held against each other, or taken as usual.

A logger that counts acceleration positive to the right swaps left and right in every answer.
"""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from itertools import combinations

import numpy as np

from sumpwright.errors import InputError, Problem
from sumpwright.logs.lateral import with_lateral
from sumpwright.logs.log import Channel, Floats, Log

TURNED = ("ax", "ay", "yaw_rate")
"""Roles that a minus before the column's name turns round."""
STRONG = 2.0
"""[m/s^2] from which both must push to be held against each other; [common-practice]."""
LEAST = 3.0
"""s of that: less says nothing; [common-practice]."""
AGAINST = 0.7
"""Share of that time with opposite signs: no slide or lag makes so much; [common-practice]."""
_STEP = 0.1


@dataclass(frozen=True, eq=False)
class _Push:
    """An acceleration, and the column a person can turn round."""

    role: str
    column: str
    words: str
    time: Floats
    value: Floats


def without_minus(columns: dict[str, str]) -> tuple[dict[str, str], tuple[str, ...]]:
    """Names of columns without the minus that turns them round, and the roles that had one."""
    round_ = tuple(r for r, name in columns.items() if r in TURNED and name.startswith("-"))
    return {r: name.removeprefix("-") if r in round_ else name for r, name in columns.items()}, (
        round_
    )


def turned(log: Log, roles: tuple[str, ...]) -> Log:
    """The log with those channels counted the other way."""
    changed = {
        role: replace(c, value=-c.value, column=f"-{c.column}") if role in roles else c
        for role, c in log.channels.items()
    }
    return replace(log, channels=changed)


def require_one_sense(log: Log) -> None:
    """InputError LOG-243 where two channels of a log turn opposite ways."""
    problems = []
    for pushes in (tuple(_sideways(log)), tuple(_along(log))):
        for one, other in combinations(pushes, 2):
            share, time = opposed(one.time, one.value, other.time, other.value)
            if time >= LEAST and share > AGAINST:
                problems.append(_problem(log, one, other, share, time))
    if problems:
        raise InputError(problems[:1])


def sense_words(log: Log) -> str:
    """What is taken for granted where nothing else in the log tells left from right."""
    ways = list(_sideways(log))
    if "ay" not in log or len(ways) > 1:
        return ""
    column = log["ay"].column
    return (
        f"{column} counts to the left, as in ISO 8855; nothing else in the log tells. If a "
        f"left-hander reads negative, turn it round: --channel ay={_other(column)}"
    )


def opposed(time: Floats, value: Floats, at: Floats, other: Floats) -> tuple[float, float]:
    """Share of the time with opposite signs, and that time, where both push hard.

    Parameters
    ----------
    time : (n,) [s]
        Rising.
    value : (n,) [m/s^2]
    at : (m,) [s]
        Rising.
    other : (m,) [m/s^2]

    Returns
    -------
    share : float [-]
        0 where they never push hard together.
    time : float [s]
    """
    if len(time) < 2 or len(at) < 2:
        return 0.0, 0.0
    both = np.arange(max(time[0], at[0]), min(time[-1], at[-1]), _STEP)
    a, b = np.interp(both, time, value), np.interp(both, at, other)
    hard = (np.abs(a) > STRONG) & (np.abs(b) > STRONG)
    if not hard.any():
        return 0.0, 0.0
    return float(np.mean(a[hard] * b[hard] < 0.0)), float(hard.sum() * _STEP)


def _sideways(log: Log) -> Iterator[_Push]:
    """Every way the log tells turns, each by itself."""
    if "ay" in log:
        c = log["ay"]
        yield _Push("ay", c.column, c.column, c.time, c.value)
    bare = {r: c for r, c in log.channels.items() if r != "ay"}
    if "yaw_rate" in bare and "speed" in bare:
        column = log["yaw_rate"].column
        made = _made(replace(log, channels=bare))
        if made is not None:
            yield _Push("yaw_rate", column, f"speed times {column}", made.time, made.value)
    track = {r: c for r, c in bare.items() if r != "yaw_rate"}
    if "latitude" in track and "longitude" in track:
        made = _made(replace(log, channels=track))
        if made is not None:
            yield _Push("", "", "the GPS track", made.time, made.value)


def _made(log: Log) -> Channel | None:
    found, _ = with_lateral(log)
    return found.channels.get("ay")


def _along(log: Log) -> Iterator[_Push]:
    """Acceleration forward as logged, and by how road speed changes over a second."""
    if "ax" not in log or "speed" not in log or len(log["speed"].time) < 2:
        return
    c, speed = log["ax"], log["speed"]
    yield _Push("ax", c.column, c.column, c.time, c.value)
    time = np.arange(speed.time[0] + 0.5, speed.time[-1] - 0.5, _STEP)
    after, before = (np.interp(time + d, speed.time, speed.value) for d in (0.5, -0.5))
    yield _Push("", "", f"the change of {speed.column}", time, np.asarray(after - before))


def _problem(log: Log, one: _Push, other: _Push, share: float, time: float) -> Problem:
    ways = [f"--channel {p.role}={_other(p.column)}" for p in (one, other) if p.role]
    way = "forward" if one.role == "ax" else "to the left"
    return Problem(
        "LOG-243",
        log.name,
        f"{one.words} and {other.words} have opposite signs in {share:.0%} of {time:.0f} s",
        f"both counted {way}, as in ISO 8855",
        f"find out which counts the other way and turn it round: {' or '.join(ways)}",
    )


def _other(column: str) -> str:
    name = column.removeprefix("-") if column.startswith("-") else f"-{column}"
    return f'"{name}"' if " " in name else name
