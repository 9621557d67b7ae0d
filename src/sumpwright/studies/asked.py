# SPDX-License-Identifier: Apache-2.0
"""What a person asks of a drive, and the motion that it comes to."""

from dataclasses import dataclass, field

from sumpwright.errors import Finding, InputError, Problem, RangeError
from sumpwright.job.load import LoadedJob
from sumpwright.studies.chosen import chosen
from sumpwright.studies.engine_turn import engine_turned
from sumpwright.studies.manoeuvre import motion_of
from sumpwright.studies.motion_result import Doors
from sumpwright.units import shown
from sumpwright.vehicle.motion import Motion


@dataclass(frozen=True)
class Asked:
    """One drive as it was asked for; quantities of `options` and `oil` are still text."""

    manoeuvre: str
    """A name in the job, a kind, or the path of a CSV file"""
    options: dict[str, str] = field(default_factory=dict)
    """Keys of a manoeuvre in the job file, such as ``radius``, with their values as typed"""
    oil: str | None = None
    """``hot``, ``cold`` or a temperature; None leaves it to the manoeuvre, else hot"""
    doors: Doors = "working"
    start: tuple[tuple[str, float], ...] | None = None
    """Compartments and their oil [m^3]; None starts settled"""
    chance: int = 0
    """Samples for the chance that a requirement fails; 0 asks for none"""
    seed: int = 1


@dataclass(frozen=True)
class Driven:
    """A manoeuvre ready to be driven."""

    name: str
    kind: str
    """As in the job file, such as ``circle``"""
    motion: Motion
    """With engine speed, where anything says one"""
    temperature: float
    """[K] of the oil"""
    oil: str
    """``hot``, ``cold`` or a temperature"""
    findings: tuple[Finding, ...] = ()
    assumptions: tuple[str, ...] = ()
    """Such as where the engine speed comes from"""


def driven(loaded: LoadedJob, asked: Asked) -> Driven:
    """The manoeuvre that is asked for as a motion; InputError with every problem there is."""
    choice = chosen(loaded, asked.manoeuvre, asked.options, asked.oil)
    try:
        laid = motion_of(choice.section, choice.log)
        motion, engine = engine_turned(laid.motion, choice.section, loaded.job)
    except RangeError as err:
        raise InputError([_undrivable(err, choice.where)]) from err
    oil = choice.section.oil
    job_oil = loaded.job.oil
    temperature = {"hot": job_oil.hot, "cold": job_oil.cold}.get(str(oil), oil)
    return Driven(
        name=choice.name,
        kind=choice.section.kind,
        motion=motion,
        temperature=float(temperature),
        oil=oil if isinstance(oil, str) else shown(oil, "temperature", loaded.job.units),
        findings=laid.findings,
        assumptions=(*laid.assumptions, *engine),
    )


def _undrivable(err: RangeError, where: str) -> Problem:
    found, _, do = str(err).partition(": ")
    needed = "a manoeuvre that can be driven"
    return Problem("DRIVE-502", where, found, needed, do or "change its numbers")
