# SPDX-License-Identifier: Apache-2.0
"""Requirements on one manoeuvre: no air at the pickup, and pressure left at the pump."""

from collections.abc import Iterator

from sumpwright.job.model import Job
from sumpwright.studies.asked import Driven
from sumpwright.studies.ledger import judged_line
from sumpwright.studies.motion_result import DriveSummary
from sumpwright.studies.result import Requirement
from sumpwright.studies.rule import PRACTICE, Answer, Judged, Unjudged
from sumpwright.studies.rule_feed import CANNOT
from sumpwright.units import shown

AIR_FORMULA = (
    "longest time on end in which the surface over the rim, tilted and swinging in its own "
    "compartment, stands lower than the draw-down height"
)
INLET_FORMULA = (
    "air on the oil and height of the moving surface, less the losses of the suction line"
)


def drive_lines(job: Job, driven: Driven, summary: DriveSummary) -> tuple[Requirement, ...]:
    """The ledger's lines on one drive."""
    return tuple(_lines(job, driven, summary))


def _lines(job: Job, driven: Driven, summary: DriveSummary) -> Iterator[Requirement]:
    limits = job.requirements
    if limits.dry_spell != "off":
        yield judged_line(
            id=f"dry_spell.{driven.name}",
            statement=f"The pickup takes no air in '{driven.name}'",
            kind="time",
            source=_source(job, "dry_spell", "[Lubin-Springer-1967] draw-down"),
            answer=_air(job, summary),
            formula=AIR_FORMULA,
        )
    hot = driven.temperature > 0.5 * (job.oil.cold + job.oil.hot)
    key = "inlet_hot" if hot else "inlet_cold"
    if getattr(limits, key) != "off" and job.new.suction is not None:
        yield judged_line(
            id=f"inlet.{driven.name}",
            statement=f"The pump's inlet keeps its pressure in '{driven.name}'",
            kind="inlet_pressure",
            source=_source(job, key, "[White-2011], [Rennels-2012]"),
            answer=_inlet(job, summary, float(getattr(limits, key))),
            formula=INLET_FORMULA,
        )


def _air(job: Job, summary: DriveSummary) -> Answer:
    limit = job.requirements.dry_spell
    assert isinstance(limit, float)
    if summary.least_cover_m is None:
        lacks = "`new.pickup`" if job.new.pickup is None else "what the pump draws"
        return Unjudged(f"needs {lacks}", limit)
    least = shown(summary.least_cover_m, "length", job.units)
    where = f"least cover {least} at {summary.least_cover_s:.1f} s"
    if summary.first_air_s is not None:
        where = f"first air at {summary.first_air_s:.1f} s; {where}"
    return Judged(summary.longest_dry_s, limit, where, at_most=True)


def _inlet(job: Job, summary: DriveSummary, limit: float) -> Answer:
    if summary.least_inlet_pa is None:
        return Unjudged("needs `new.pickup`", limit)
    cannot = f", {CANNOT}" if summary.least_inlet_pa < 0.0 else ""
    return Judged(summary.least_inlet_pa, limit, f"at {summary.least_inlet_s:.1f} s{cannot}")


def _source(job: Job, key: str, formula: str) -> str:
    typed = key in job.requirements.model_fields_set
    return f"{formula}; limit: {'the job file' if typed else PRACTICE}"
