# SPDX-License-Identifier: Apache-2.0
"""What a person asks of a drive, and the motion that it comes to."""

from dataclasses import dataclass, field

from sumpwright.errors import Finding
from sumpwright.studies.motion_result import Doors
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
    """``hot``, ``cold`` or the temperature as typed"""
    findings: tuple[Finding, ...] = ()
    assumptions: tuple[str, ...] = ()
    """Such as where the engine speed comes from"""
