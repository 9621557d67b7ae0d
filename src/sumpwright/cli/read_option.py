# SPDX-License-Identifier: Apache-2.0
"""Options of `read` as the study takes them; what cannot be taken is said, all of it at once."""

from pathlib import Path

from sumpwright.errors import InputError, Problem
from sumpwright.logs.log import ROLES
from sumpwright.studies.read import ReadAsked
from sumpwright.units import to_si

_ROLES = ("time", *ROLES)


def asked(
    paths: list[Path],
    channel: list[str] | None,
    unit: list[str] | None,
    radius: str | None,
    *,
    prediction: bool,
) -> ReadAsked:
    """What is asked of which files; the first path is the job's where it is a job."""
    problems: list[Problem] = []
    columns, units = _pairs("--channel", channel, problems), _pairs("--unit", unit, problems)
    size = _radius(radius, problems)
    job = paths[0] if paths and _is_job(paths[0]) else None
    logs = tuple(paths[1:] if job is not None else paths)
    if not logs:
        do = "name the log behind the job: sumpwright read JOB tests/day.csv"
        problems.append(Problem("LOG-241", str(paths[0]), "a job and no log", "a log", do))
    if problems:
        raise InputError(problems)
    return ReadAsked(job, logs, columns, units, size, prediction)


def _is_job(path: Path) -> bool:
    return path.is_dir() or path.suffix.lower() in (".yaml", ".yml")


def _pairs(option: str, given: list[str] | None, problems: list[Problem]) -> dict[str, str]:
    found: dict[str, str] = {}
    for text in given or ():
        role, mark, value = text.partition("=")
        if not mark or not value.strip() or role.strip() not in _ROLES:
            needed = f"a role and what it is: {option} pressure=NAME"
            do = f"roles are {', '.join(_ROLES)}"
            problems.append(Problem("LOG-242", option, text, needed, do))
        found[role.strip()] = value.strip()
    return found


def _radius(text: str | None, problems: list[Problem]) -> float | None:
    if text is None:
        return None
    try:
        size = to_si(text, "m")
    except ValueError:
        size = 0.0
    if 3.0 <= size <= 500.0:
        return size
    do = "write number, point, unit: '30 m'"
    problems.append(Problem("LOG-242", "--radius", text, "3 m to 500 m", do))
    return None
