# SPDX-License-Identifier: Apache-2.0
"""What a check asks of the oil in motion: the targets, and every manoeuvre that the job names."""

from dataclasses import dataclass

from sumpwright.errors import Finding
from sumpwright.job.load import LoadedJob
from sumpwright.studies.asked import Asked, driven
from sumpwright.studies.bodies import Bodies
from sumpwright.studies.compartment import parted
from sumpwright.studies.drive import driven_run
from sumpwright.studies.drive_answer import drive_summary
from sumpwright.studies.drive_words import drive_assumptions
from sumpwright.studies.motion_hold_result import MotionHold
from sumpwright.studies.network import at_temperature, ready
from sumpwright.studies.result import Requirement
from sumpwright.studies.rule_drive import drive_lines
from sumpwright.studies.said_once import said_once
from sumpwright.studies.target import motion_hold


@dataclass(frozen=True)
class InMotion:
    """What the ledger learns of oil in motion."""

    hold: MotionHold | None = None
    lines: tuple[Requirement, ...] = ()
    """On the job's manoeuvres"""
    said: tuple[str, ...] = ()
    """What it takes for granted"""
    findings: tuple[Finding, ...] = ()


def in_motion(loaded: LoadedJob, bodies: Bodies) -> InMotion:
    """The new pan with its oil in motion; nothing is found without a pickup."""
    if loaded.job.new.pickup is None:
        return InMotion()
    found = parted(loaded.job, bodies, folder=loaded.folder)
    made = ready(loaded, bodies, found, loaded.job.oil.hot)
    hold = motion_hold(loaded, bodies, made)
    lines: list[Requirement] = []
    said: dict[str, tuple[str, ...]] = {}
    for section in loaded.job.manoeuvres:
        todo = driven(loaded, Asked(section.name))
        warm = at_temperature(made, loaded, todo.temperature)
        done = driven_run(loaded, bodies, warm, todo)
        lines += drive_lines(loaded.job, todo, drive_summary(loaded, bodies, done))
        said[section.name] = drive_assumptions(loaded.job, bodies, done)
    return InMotion(hold, tuple(lines), said_once(said), found.findings)
