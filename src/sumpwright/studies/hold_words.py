# SPDX-License-Identifier: Apache-2.0
"""What the hold maps take for granted, as sentences for the report."""

from sumpwright.job.model import Job
from sumpwright.studies.drive_words import of_surfaces
from sumpwright.vehicle.manoeuvre import JERK


def hold_map_assumptions(job: Job) -> tuple[str, ...]:
    """Every sentence that applies."""
    return (
        "Each point starts settled on level ground with the engine at its speed; the acceleration "
        f"comes on at {JERK:g} m/s³, as a quick driver brings it on, and stays. Time counts from "
        "where it begins to rise.",
        "A point counts as held for good where the oil has come to rest with the pickup covered.",
        *of_surfaces(),
        *(() if job.new.baffles else ("The pan has no baffles: all four maps are the same pan.",)),
    )
