# SPDX-License-Identifier: Apache-2.0
"""What `plan` answers, as a person reads it: the stages in short, and where to stop."""

import textwrap
from collections.abc import Iterator
from pathlib import Path

from sumpwright.cli.check_text import CAUTION
from sumpwright.cli.ledger_text import WIDTH, wrapped
from sumpwright.report.plan_content import summary_of
from sumpwright.report.plan_sheet import TURN, forecast, number
from sumpwright.report.text import told
from sumpwright.studies.plan_result import Drive, PlanResult, Stage
from sumpwright.units import shown, unit_name


def plan_text(result: PlanResult, pages: tuple[Path, ...]) -> str:
    """The programme in the job's units, at most 80 columns."""
    return "\n".join(_lines(result, pages))


def _lines(result: PlanResult, pages: tuple[Path, ...]) -> Iterator[str]:
    units, count = result.units, len(result.stages)
    yield f"{count} stages  {result.job}, revision {result.revision}"
    yield from textwrap.wrap(summary_of(result), WIDTH)
    unit = unit_name("pressure", units)
    yield f"\n{'':13}{'g':>5}{'speed':>11}{'gear':>5}{'rpm':>6}{'time':>9}  stop under {unit}"
    for stage in result.stages:
        yield f"{stage.number:>2} {stage.name}"
        for run in stage.runs:
            yield from _run(run, units)
        yield from _moving(stage, units)
    yield "\nBench, before the engine runs"
    yield from _bench(result)
    if result.missing:
        yield ""
    for line in result.missing:
        yield from wrapped(told(line), "Missing: ")
    yield from _sources(result)
    for finding in result.findings:
        yield from wrapped(f"{finding.place}: {finding.found} [{finding.code}]", "Noticed: ")
    if pages:
        yield "\nSheets  " + "\n        ".join(map(str, pages))
    yield ""
    yield from textwrap.wrap(CAUTION, WIDTH)


def _run(run: Drive, units: str) -> Iterator[str]:
    speed = "-" if run.speed_m_s is None else shown(run.speed_m_s, "speed", units)
    time = "-" if run.duration_s is None else shown(run.duration_s, "time")
    rpm = "-" if run.rpm is None else f"{run.rpm:.0f}"
    stop = "-" if run.pressure is None else number(run.pressure.abort_pa, units)
    size = f"{run.accel_g:.2f}" if run.accel_g else "-"
    line = f"   {TURN[run.turn]:10}{size:>5}{speed:>11}{run.gear or '-':>5}{rpm:>6}{time:>9}"
    yield f"{line}{stop:>6}  {_outcome(run)}".rstrip()
    later = forecast(run.forecast)
    if ";" in later:
        yield f"{'':13}{later}"


def _moving(stage: Stage, units: str) -> Iterator[str]:
    """Where the abort line moves with the engine's speed."""
    low = min(
        (r.slowest_pressure for r in stage.runs if r.slowest_pressure is not None),
        key=lambda p: p.rpm,
        default=None,
    )
    if low is not None:
        stop = number(low.abort_pa, units)
        yield f"{'':13}the line goes with the engine's speed: {stop} at {low.rpm:.0f} rpm"


def _outcome(run: Drive) -> str:
    if run.forecast.outcome == "not computed":
        return ""
    if run.forecast.outcome == "covered":
        return "covered"
    return f"AIR after {shown(run.forecast.first_air_s or 0.0, 'time')}"


def _bench(result: PlanResult) -> Iterator[str]:
    test, units = result.bench, result.units
    full, holds = (shown(v, "volume", units) for v in (test.fill.full_m3, test.fill.holds_m3))
    yield f"   fill test     {len(test.fill.steps)} heights, full mark at {full}, holds {holds}"
    for way in dict.fromkeys(s.way for s in test.tilt.steps):
        last = [s for s in test.tilt.steps if s.way == way][-1]
        yield f"   tilt {way:10} to {last.angle_deg:.1f} deg for {last.accel_g:.2f} g"
    doors = ", ".join(d.name for d in test.doors) or "none"
    yield from wrapped(doors, "   trap doors    ")
    yield "   leak test     to your own limit"


def _sources(result: PlanResult) -> Iterator[str]:
    yield ""
    yield from wrapped(told(result.pressure.band_source), "Expected: ")
    yield from wrapped(told(result.pressure.abort_source), "Abort line: ")
