# SPDX-License-Identifier: Apache-2.0
"""The words of a programme's pages: the overview in front, the sheets, the cautions behind."""

from datetime import datetime

from sumpwright.report.caution import cautions, motion_cautions
from sumpwright.report.content import Content, finding_lines, foot, provenance
from sumpwright.report.plan_bench_sheet import bench_sheets
from sumpwright.report.plan_sheet import (
    Sheet,
    cockpit_card,
    pressure_sheet,
    stage_sheets,
    warning_of,
)
from sumpwright.report.table import Table
from sumpwright.report.text import plain, told
from sumpwright.studies.plan_result import PlanResult, Stage
from sumpwright.units import shown

TOPICS = {"Track driving", "Hot oil", "Fire", "Filling", "Lifting and supports"}
DASH = "–"


def plan_content(result: PlanResult, *, made: datetime) -> Content:
    """The first page and the last."""
    dry = [s for s in result.stages if warning_of(s)]
    return Content(
        kind="Test programme",
        job=plain(result.job),
        revision=plain(result.revision),
        pan=plain(result.pan),
        state="not judged",
        verdict=f"{len(result.stages)} stages, slow before fast, both ways round",
        summary=summary_of(result),
        note=plain(result.note),
        failures=(),
        open=tuple((told(line), ()) for line in result.missing),
        key_figures=_figures(result, dry),
        figures=(),
        ledger=(),
        tables=(_overview(result),),
        assumptions=tuple(map(told, result.assumptions)),
        findings=finding_lines(result),
        cautions=tuple(
            dict.fromkeys((*motion_cautions()[1:2], *(c for c in cautions() if c.topic in TOPICS)))
        ),
        provenance=provenance(result, made),
        foot=foot(result),
    )


def sheets_of(result: PlanResult) -> tuple[Sheet, ...]:
    """Every page to print, in the order they are needed."""
    bench, stages = bench_sheets(result), stage_sheets(result)
    return (cockpit_card(result), pressure_sheet(result), *bench, *stages)


def summary_of(result: PlanResult) -> str:
    """Whether the model expects the whole programme to pass."""
    dry = [s for s in result.stages if warning_of(s)]
    runs = [r for s in result.stages for r in s.runs if r.forecast.outcome != "not computed"]
    if not runs:
        return "Nothing is foretold of cover: see what the job does not say."
    if not dry and any(map(_untold, result.stages)):
        return (
            "The model expects the pickup to stay covered in every run that it can foretell; of "
            "the others it says nothing. That is to be proven."
        )
    if not dry:
        return "The model expects the pickup to stay covered in every run. That is to be proven."
    first = dry[0]
    return (
        f"The model expects air at the pickup from stage {first.number} on: {first.name}. "
        "End the programme before it, or change the pan first."
    )


def _figures(result: PlanResult, dry: list[Stage]) -> tuple[tuple[str, str, str], ...]:
    def size(accel: float | None) -> str:
        return "off" if accel is None else f"{accel:.2f} g"

    told_of = [r for s in result.stages for r in s.runs if r.forecast.outcome != "not computed"]
    untold = [s for s in result.stages if _untold(s)]
    first = f"stage {dry[0].number}" if dry else "none" if told_of else "not foretold"
    beside = f"{len(dry)} of {len(result.stages)} stages" if dry else ""
    if told_of and untold:
        beside = f"{beside}; " if beside else ""
        beside += f"not foretold: stage {', '.join(str(s.number) for s in untold)}"
    return (
        ("Target, left", size(result.target_left_g), "in motion"),
        ("Target, right", size(result.target_right_g), "in motion"),
        ("Target, braking", size(result.target_brake_g), "in motion"),
        ("Target, accelerating", size(result.target_accelerate_g), "in motion"),
        ("First air foretold", first, beside),
    )


def _untold(stage: Stage) -> bool:
    """A stage with a run that the model says nothing of, though the oil moves in it."""
    return any(r.accel_g > 0.0 and r.forecast.outcome == "not computed" for r in stage.runs)


def _overview(result: PlanResult) -> Table:
    """The programme at a glance."""
    rows = tuple(
        (f"{s.number}  {s.name}", _most(s, result.units), _time(s), _outcome(s))
        for s in result.stages
    )
    head = ("Stage", "Fastest", "Time", "Pickup, says the model")
    return Table("programme", "The programme", head, rows, words=(0, 3))


def _most(stage: Stage, units: str) -> str:
    speeds = [r.speed_m_s for r in stage.runs if r.speed_m_s is not None]
    return shown(max(speeds), "speed", units) if speeds else DASH


def _time(stage: Stage) -> str:
    times = [r.repeats * r.duration_s for r in stage.runs if r.duration_s is not None]
    return shown(sum(times), "time", digits=0) if times else DASH


def _outcome(stage: Stage) -> str:
    said = {r.forecast.outcome for r in stage.runs}
    if "air" in said:
        ways = dict.fromkeys(r.turn for r in stage.runs if r.forecast.outcome == "air")
        return "AIR, " + " and ".join(ways)
    if _untold(stage):
        return "not foretold" if "covered" not in said else "covered; not all foretold"
    return "covered" if "covered" in said else DASH
