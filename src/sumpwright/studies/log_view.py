# SPDX-License-Identifier: Apache-2.0
"""A log as a person looks at it: which column is taken for what, and every row of what was."""

from collections.abc import Mapping
from dataclasses import asdict, dataclass
from pathlib import Path
from typing import Any

from sumpwright.errors import InputError, Problem
from sumpwright.job.load import LoadedJob, load_job
from sumpwright.logs.channel_name import roles_of
from sumpwright.logs.dialect import HEAD, dialect_of
from sumpwright.logs.log import ROLES, Log
from sumpwright.logs.log_unit import log_unit, units_for
from sumpwright.logs.mdf import MAGIC, mdf_names
from sumpwright.logs.open_log import open_log

_SAMPLE = 3
_MEANINGS: Mapping[str, tuple[str, str]] = {"time": ("s", "time"), **ROLES}
NEEDED = ("time", "pressure", "rpm")
"""Without these nothing is judged."""


@dataclass(frozen=True)
class LogColumn:
    """One column of a file."""

    name: str
    unit: str
    """As the file says it; empty where it does not"""
    sample: tuple[str, ...]
    """Its first cells as written"""


@dataclass(frozen=True)
class LogRole:
    """What a column may be, and which one is taken for it."""

    role: str
    means: str
    needed: bool
    column: str | None
    how: str
    """``kept in the job``, ``by its name`` or empty"""
    unit: str
    """As the job keeps it, else as the file says it"""
    units: tuple[str, ...]
    """Those that are read"""


@dataclass(frozen=True)
class LogColumns:
    """A log before it is judged."""

    name: str
    layout: str
    columns: tuple[LogColumn, ...]
    roles: tuple[LogRole, ...]

    def as_json(self) -> dict[str, Any]:
        """Plain dict of it."""
        return asdict(self)


def log_columns(folder: Path, path: Path) -> LogColumns:
    """What a file's columns are called, and what each would be taken for; reads no more of it."""
    layout, columns = _columns(path)
    names, units = [c.name for c in columns], [c.unit for c in columns]
    guessed = {role: names[k] for role, k in roles_of(names, units).items()}
    kept_columns, kept_units = _kept(load_job(folder))
    said = {c.name: c.unit for c in columns}
    plain = {n.strip().lower(): n for n in names}
    roles = []
    for role, (si, means) in _MEANINGS.items():
        kept = plain.get(kept_columns.get(role, "").strip().lower())
        column = kept or guessed.get(role)
        how = "" if column is None else "kept in the job" if kept else "by its name"
        unit = kept_units.get(role) or said.get(column or "", "")
        roles.append(LogRole(role, means, role in NEEDED, column, how, unit, _choices(si)))
    return LogColumns(path.name, layout, columns, tuple(roles))


def opened_log(folder: Path, path: Path) -> Log:
    """Every row of a file's channels, by the names and units that the job keeps."""
    columns, units = _kept(load_job(folder))
    return open_log(path, channels=columns, units=units)


def _choices(si: str) -> tuple[str, ...]:
    """Units for an SI unit, each under the first of its spellings."""
    return tuple({log_unit(name, si): name for name in reversed(units_for(si))}.values())[::-1]


def _kept(loaded: LoadedJob) -> tuple[dict[str, str], dict[str, str]]:
    """Columns and units by role, as `read` has written them into the job."""
    logs = loaded.job.logs
    columns, units = logs.columns.model_dump(), logs.units.model_dump()
    return _given(columns), _given(units)


def _given(values: Mapping[str, str | None]) -> dict[str, str]:
    return {role: text for role, text in values.items() if text is not None}


def _columns(path: Path) -> tuple[str, tuple[LogColumn, ...]]:
    head = _head(path)
    if head.startswith(MAGIC) or path.suffix.lower() in (".mf4", ".mdf"):
        names, units = mdf_names(path)
        return "MDF4", tuple(
            LogColumn(n, u, ()) for n, u in zip(names, units, strict=True) if n.strip()
        )
    dialect = dialect_of(head, path.name)
    found = []
    for k, (name, unit) in enumerate(zip(dialect.names, dialect.units, strict=True)):
        cells = tuple(row[k] for row in dialect.sample[:_SAMPLE] if k < len(row))
        if name.strip():
            found.append(LogColumn(name, unit, cells))
    return str(dialect), tuple(found)


def _head(path: Path) -> bytes:
    try:
        with path.open("rb") as stream:
            return stream.read(HEAD)
    except OSError as err:
        found, needed = f"a file that cannot be read ({err.strerror})", "a log, CSV or MDF4"
        problem = Problem(
            "LOG-205", path.name, found, needed, "choose another, or allow reading it"
        )
        raise InputError([problem]) from err
