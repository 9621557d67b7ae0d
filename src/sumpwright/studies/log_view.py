# SPDX-License-Identifier: Apache-2.0
"""A log as a person looks at it: which column is taken for what, and every row of what was."""

from collections.abc import Mapping
from dataclasses import asdict, dataclass
from pathlib import Path
from typing import Any

from sumpwright.errors import InputError, Problem
from sumpwright.job.load import LoadedJob, load_job
from sumpwright.job.logging import Columns
from sumpwright.logs.channel_name import roles_of
from sumpwright.logs.dialect import HEAD, dialect_of
from sumpwright.logs.log import ROLES, Log
from sumpwright.logs.log_unit import log_unit, units_for
from sumpwright.logs.mdf import MAGIC, mdf_names
from sumpwright.logs.open_log import open_log
from sumpwright.studies.read_sense import TURNED, turned, without_minus

Texts = dict[str, str]

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
    turns: bool
    """Whether a column of it may count the other way round"""
    turned: bool
    """Whether the job says that it does"""
    kept_column: str | None
    """As the job keeps it, which need not be in this file; with a minus where it is turned"""
    kept_unit: str | None
    keeps: bool
    """Whether the job can keep a name for it"""


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
    kept = _kept(load_job(folder))
    found = tuple(_role(role, columns, guessed.get(role), kept) for role in _MEANINGS)
    return LogColumns(path.name, layout, columns, found)


def _role(
    role: str, columns: tuple[LogColumn, ...], guessed: str | None, kept: tuple[Texts, Texts]
) -> LogRole:
    """What is taken for a role: what the job keeps where this file has it, else the guess."""
    si, means = _MEANINGS[role]
    name, unit = kept[0].get(role), kept[1].get(role)
    bare, other_way = without_minus({} if name is None else {role: name})
    plain = {c.name.strip().lower(): c.name for c in columns}
    there = plain.get(bare.get(role, "").strip().lower())
    column = there or guessed
    said = next((c.unit for c in columns if c.name == column), "")
    return LogRole(
        role=role,
        means=means,
        needed=role in NEEDED,
        column=column,
        how="kept in the job" if there else "by its name" if column else "",
        unit=unit or said,
        units=_choices(si),
        turns=role in TURNED,
        turned=there is not None and role in other_way,
        kept_column=name,
        kept_unit=unit,
        keeps=role in Columns.model_fields,
    )


def opened_log(folder: Path, path: Path) -> Log:
    """Every row of a file's channels, by the names and units that the job keeps."""
    columns, units = _kept(load_job(folder))
    named, other_way = without_minus(columns)
    return turned(open_log(path, channels=named, units=units), other_way)


def _choices(si: str) -> tuple[str, ...]:
    """Units for an SI unit, each under the first of its spellings."""
    return tuple({log_unit(name, si): name for name in reversed(units_for(si))}.values())[::-1]


def _kept(loaded: LoadedJob) -> tuple[Texts, Texts]:
    """Columns and units by role, as `read` has written them into the job."""
    logs = loaded.job.logs
    columns, units = logs.columns.model_dump(), logs.units.model_dump()
    return _given(columns), _given(units)


def _given(values: Mapping[str, str | None]) -> Texts:
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
