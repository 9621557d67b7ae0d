# SPDX-License-Identifier: Apache-2.0
"""A log's file as channels that are understood: CSV of any layout, or MDF4."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from sumpwright.errors import Finding, InputError, Problem
from sumpwright.geometry.frame import STANDARD_GRAVITY
from sumpwright.logs.channel_name import roles_of
from sumpwright.logs.clock import rising
from sumpwright.logs.csv_table import columns_of
from sumpwright.logs.dialect import HEAD, Dialect, dialect_of
from sumpwright.logs.log import ROLES, Channel, Log
from sumpwright.logs.log_unit import log_unit, units_for
from sumpwright.logs.mdf import MAGIC, mdf_channels, mdf_names
from sumpwright.logs.unit_guess import guessed_unit, step_unit

Floats = NDArray[np.float64]
Given = Mapping[str, str]

TYPED_ROWS, TYPED_STEP = 500, 1.0
"""Readings typed by hand: no more rows than this, no closer together than this [s]."""


def open_log(path: Path, *, channels: Given | None = None, units: Given | None = None) -> Log:
    """The log in a file, in SI, by role.

    Parameters
    ----------
    path : Path [-]
        CSV or MDF4.
    channels : mapping of str or None [-]
        Role, or ``time``, to the name of a column; stands before what is guessed.
    units : mapping of str or None [-]
        Role to unit, where the file does not say it.

    Returns
    -------
    log : Log [SI]

    Raises
    ------
    InputError
        LOG-201 to LOG-213, all at once where they can be.
    """
    head = _head(path)
    if head.startswith(MAGIC) or path.suffix.lower() in (".mf4", ".mdf"):
        return _mdf_log(path, channels or {}, units or {})
    dialect = dialect_of(head, path.name)
    asked = _Asked(path.name, dialect.names, dialect.units, channels or {}, units or {})
    places = asked.places()
    if "time" not in places:
        raise InputError([asked.lacking("time", "time")])
    order = list(places.values())
    values = dict(zip(places, columns_of(path, dialect, order, places["time"]), strict=True))
    return _csv_log(path, dialect, asked, places, values)


def _csv_log(
    path: Path,
    dialect: Dialect,
    asked: "_Asked",
    places: dict[str, int],
    values: dict[str, Floats],
) -> Log:
    said: list[Finding] = []
    unit = asked.unit("time", places["time"]) or step_unit(values["time"], path.name, said)
    factor = log_unit(unit, "s")
    scale = 1.0 if factor is None or _is_text(dialect, places["time"]) else factor[0]
    clock = rising(values.pop("time") * scale, path.name)
    series = {role: (clock.time, v[clock.rows]) for role, v in values.items()}
    found = _channels(asked, places, series, said)
    steps = np.diff(clock.time)
    typed = len(clock.time) <= TYPED_ROWS and float(np.median(steps)) >= TYPED_STEP
    findings = (*clock.findings, *said)
    return Log(path.name, found, asked.unused(places), str(dialect), findings, typed)


def _mdf_log(path: Path, channels: Given, units: Given) -> Log:
    names, said_units = mdf_names(path)
    asked = _Asked(path.name, names, said_units, channels, units)
    places = {role: k for role, k in asked.places().items() if role != "time"}
    raw = mdf_channels(path, {role: names[k] for role, k in places.items()})
    said: list[Finding] = []
    series = {}
    for role, (time, values) in raw.items():
        if len(time) > 1:
            clock = rising(time, f"{path.name}  {role}")
            series[role] = (clock.time + time[clock.rows[0]], values[clock.rows])
            said += clock.findings
    if not series:
        raise InputError([asked.lacking("pressure", ROLES["pressure"][1])])
    first = min(time[0] for time, _ in series.values())
    moved = {role: (time - first, values) for role, (time, values) in series.items()}
    found = _channels(asked, places, moved, said)
    return Log(path.name, found, asked.unused(places), "MDF4", tuple(said))


def _channels(
    asked: "_Asked",
    places: dict[str, int],
    series: dict[str, tuple[Floats, Floats]],
    said: list[Finding],
) -> dict[str, Channel]:
    found: dict[str, Channel] = {}
    problems: list[Problem] = []
    for role, (time, values) in series.items():
        sound = np.isfinite(values)
        if not sound.any():
            what = f"column {asked.names[places[role]]} without a number"
            said.append(Finding("LOG-226", asked.name, what, "not read", "error"))
            continue
        time, values = time[sound], values[sound]
        si, column = ROLES[role][0], asked.names[places[role]]
        unit = asked.unit(role, places[role])
        factor = log_unit(unit, si) if unit else None
        said += asked.overruled(role, places[role], si)
        if unit and factor is None:
            problems.append(asked.odd_unit(role, unit, column))
            continue
        if factor is None:
            unit = guessed_unit(role, values) or _unit_beside(role, series)
            factor = log_unit(unit, si) if unit else None
            if factor is None:
                problems.append(asked.no_unit(role, column))
                continue
            if si != "-" and role != "rpm":
                what = f"{column} without a unit"
                said.append(Finding("LOG-227", asked.name, what, f"read as {unit}", "note"))
        taken = values * factor[0] + factor[1]
        if role == "az":
            taken = _without_gravity(taken, asked.name, said)
        found[role] = Channel(role, column, unit, asked.how(role), time, taken)  # type: ignore[arg-type]
    if problems:
        raise InputError(problems)
    return found


def _unit_beside(role: str, series: Mapping[str, tuple[Floats, Floats]]) -> str:
    """A longitude near 0 is in degrees where the latitude beside it can be nothing else."""
    if role != "longitude" or "latitude" not in series:
        return ""
    beside = series["latitude"][1]
    beside = beside[np.isfinite(beside)]
    return guessed_unit("latitude", beside) if len(beside) else ""


def _without_gravity(values: Floats, name: str, said: list[Finding]) -> Floats:
    middle = float(np.median(values)) / STANDARD_GRAVITY
    if not 0.5 < abs(middle) < 1.5:
        return values
    found = f"the vertical channel has its middle at {middle:.2f} g: gravity is in it"
    repair = "1 g was taken off" if middle > 0.0 else "it was turned over and 1 g was taken off"
    said.append(Finding("LOG-228", name, found, repair, "note"))
    return float(np.sign(middle)) * values - STANDARD_GRAVITY


@dataclass(frozen=True)
class _Asked:
    """What a file's columns are called, and what a person says of them."""

    name: str
    names: Sequence[str]
    units: Sequence[str]
    channels: Given
    given_units: Given

    def places(self) -> dict[str, int]:
        """Place of each role's column: as given, else guessed."""
        given, problems = {}, []
        for role, column in self.channels.items():
            place = self._place(column)
            if place is None:
                problems.append(self._no_column(role, column))
            else:
                given[role] = place
        if problems:
            raise InputError(problems)
        guessed = roles_of(self.names, self.units)
        taken = set(given.values())
        rest = {r: k for r, k in guessed.items() if r not in given and k not in taken}
        return given | rest

    def unit(self, role: str, place: int) -> str:
        """As given, else as the file says."""
        return self.given_units.get(role, "") or self.units[place]

    def overruled(self, role: str, place: int, si: str) -> list[Finding]:
        """That a person's unit stands instead of another one that the file states."""
        given, own = self.given_units.get(role, ""), self.units[place]
        if not given or not own or log_unit(own, si) in (None, log_unit(given, si)):
            return []
        what = f"{self.names[place]} is in {own} by the log's own word"
        return [Finding("LOG-231", self.name, what, f"read as {given}, as told", "note")]

    def how(self, role: str) -> str:
        """Why a column is taken for a role."""
        return "given" if role in self.channels else "by its name"

    def unused(self, places: dict[str, int]) -> tuple[str, ...]:
        """Columns that nothing is made of."""
        used = set(places.values())
        return tuple(n for k, n in enumerate(self.names) if k not in used and n)

    def lacking(self, role: str, what: str) -> Problem:
        """No column for something that is needed."""
        do = f"say which it is: --channel {role}=NAME"
        return Problem("LOG-210", self.name, f"columns {self._listed()}", f"a column of {what}", do)

    def odd_unit(self, role: str, unit: str, column: str) -> Problem:
        """A unit of something else, or of nothing."""
        needed = f"a unit of {ROLES[role][1]}: {', '.join(units_for(ROLES[role][0])[:6])}"
        do = f"say it: --unit {role}=UNIT, or name another column: --channel {role}=NAME"
        return Problem("LOG-212", f"{self.name}  {column}", f"unit '{unit[:40]}'", needed, do)

    def no_unit(self, role: str, column: str) -> Problem:
        """Numbers that could be several things."""
        needed = f"its unit, one of {', '.join(units_for(ROLES[role][0])[:6])}"
        do = f"say it: --unit {role}=UNIT"
        found = "numbers without a unit that could be several"
        return Problem("LOG-213", f"{self.name}  {column}", found, needed, do)

    def _place(self, column: str) -> int | None:
        plain = [n.strip().lower() for n in self.names]
        wanted = column.strip().lower()
        return plain.index(wanted) if wanted in plain else None

    def _no_column(self, role: str, column: str) -> Problem:
        do = f"name one of them for {role}"
        found = f"no column '{column[:60]}'"
        return Problem("LOG-211", self.name, found, f"one of {self._listed()}", do)

    def _listed(self) -> str:
        names = [n[:40] for n in self.names if n]
        return ", ".join(names[:12]) + (", ..." if len(names) > 12 else "")


def _is_text(dialect: Dialect, place: int) -> bool:
    return any(":" in row[place] for row in dialect.sample if place < len(row))


def _head(path: Path) -> bytes:
    if path.is_dir():
        found, do = "a folder", "name the log's file"
        raise InputError([Problem("LOG-205", str(path), found, "a log, CSV or MDF4", do)])
    try:
        with path.open("rb") as stream:
            head = stream.read(HEAD)
    except FileNotFoundError as err:
        found, do = "no file of that name", "check the path"
        raise InputError([Problem("LOG-205", str(path), found, "a log, CSV or MDF4", do)]) from err
    except OSError as err:
        found = f"a file that cannot be read ({err.strerror})"
        do = "allow reading it"
        raise InputError([Problem("LOG-205", str(path), found, "a log, CSV or MDF4", do)]) from err
    if not head:
        found, do = "an empty file", "export the log again"
        raise InputError([Problem("LOG-202", path.name, found, "a log with rows", do)])
    return head
