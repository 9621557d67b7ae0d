# SPDX-License-Identifier: Apache-2.0
"""A sheet to print and fill in: the stages of a programme, page by page, and the cockpit card."""

from collections.abc import Iterator
from dataclasses import dataclass

from sumpwright.report.text import told
from sumpwright.studies.plan_result import Drive, Forecast, PlanResult, PressurePoint, Stage
from sumpwright.units import shown, unit_name

Row = tuple[str, ...]

PASCAL = "pressure"
DASH = "–"
TURN = {"left": "left", "right": "right", "both": "both ways", "straight": "straight"}
OUTCOME = {"covered": "covered", "air": "AIR", "not computed": "not computed"}


@dataclass(frozen=True)
class Grid:
    """A table; empty cells are boxes to write in."""

    head: Row
    rows: tuple[Row, ...]
    note: str = ""


@dataclass(frozen=True)
class Part:
    """A heading with sentences, with boxes to tick where it asks for that, and a table."""

    title: str
    lines: tuple[str, ...] = ()
    ticks: bool = False
    grid: Grid | None = None


@dataclass(frozen=True)
class Sheet:
    """One page."""

    key: str
    kicker: str
    title: str
    parts: tuple[Part, ...]
    blanks: tuple[str, ...] = ("Date", "Driver or tester", "Revision on the part", "Signed")
    """Lines to write on"""
    warning: str = ""
    large: bool = False


def stage_sheets(result: PlanResult) -> tuple[Sheet, ...]:
    """One for each stage."""
    return tuple(_stage_sheet(result, stage) for stage in result.stages)


def _stage_sheet(result: PlanResult, stage: Stage) -> Sheet:
    parts = (
        *_numbers(result, stage),
        Part("Do", tuple(map(told, stage.how)), ticks=stage.kind == "before"),
        *_results(stage, result.units),
        *_checks(stage),
        Part(_gate_title(result, stage), stage.gate, ticks=True),
    )
    return Sheet(
        key=f"stage-{stage.number}",
        kicker=f"Stage {stage.number} of {len(result.stages)}",
        title=stage.name,
        parts=parts,
        warning=warning_of(stage),
    )


def _checks(stage: Stage) -> Iterator[Part]:
    if stage.after:
        grid = Grid(("Check", "Found", "OK"), _empty(stage.after, 2))
        yield Part("Check afterwards", grid=grid)


def _gate_title(result: PlanResult, stage: Stage) -> str:
    last = stage.number == len(result.stages)
    return "Passed only if" if last else "On to the next stage only if"


def warning_of(stage: Stage) -> str:
    """Where the model expects air."""
    dry = [r for r in stage.runs if r.forecast.outcome == "air"]
    if not dry:
        return ""
    said = ", ".join(f"{TURN[r.turn]} at {r.accel_g:.2f} g after {_after(r.forecast)}" for r in dry)
    return f"The model expects air at the pickup: {said}."


def _after(said: Forecast) -> str:
    assert said.first_air_s is not None
    return shown(said.first_air_s, "time")


def _numbers(result: PlanResult, stage: Stage) -> Iterator[Part]:
    if not stage.runs:
        return
    units = result.units
    unit = unit_name(PASCAL, units)
    head = (
        *("Way", "g", "Speed", "Gear", "rpm", "Laps", "Lap", "In all", "Runs"),
        *(f"Expected {unit}", f"STOP under {unit}", "Pickup, says the model"),
    )
    rows = tuple(_number_row(run, units) for run in stage.runs)
    hot = shown(result.pressure.hot_k, "temperature", units)
    note = f"Pressures at {hot} oil, on the gauge. {course(stage, units)}{_room(stage, units)}"
    said = {told(r.forecast.why) for r in stage.runs if r.forecast.why}
    yield Part("Numbers", tuple(sorted(said)), grid=Grid(head, rows, note.strip()))


def course(stage: Stage, units: str) -> str:
    """Radius and other lengths of the course."""
    sizes = [] if stage.radius_m is None else [f"radius {_metres(stage.radius_m, units)}"]
    sizes += [f"{name} {_metres(size, units)}" for name, size in stage.layout]
    return f"Course: {', '.join(sizes)}, of the car's middle." if sizes else ""


def _room(stage: Stage, units: str) -> str:
    """How far a change of speed goes, at the gentlest and the hardest."""
    far = [r for r in stage.runs if r.distance_m is not None]
    if not far:
        return ""
    ends = (far[0], far[-1]) if len(far) > 1 else (far[0],)
    said = (f"{_metres(r.distance_m or 0.0, units)} at {r.accel_g:.2f} g" for r in ends)
    return f"The change of speed takes {', '.join(said)}; run-in, reaction and room to stop on top."


def _metres(length: float, units: str) -> str:
    return f"{length:.1f} m" if units == "metric" else f"{length / 0.3048:.1f} ft"


def _number_row(run: Drive, units: str) -> Row:
    p = run.pressure
    return (
        TURN[run.turn],
        f"{run.accel_g:.2f}" if run.accel_g else DASH,
        DASH if run.speed_m_s is None else shown(run.speed_m_s, "speed", units, digits=1),
        DASH if run.gear is None else str(run.gear),
        rpm_text(run),
        DASH if run.laps is None else f"{run.laps:g}",
        DASH if run.lap_time_s is None else shown(run.lap_time_s, "time", digits=2),
        DASH if run.duration_s is None else shown(run.duration_s, "time"),
        str(run.repeats),
        band(p, units),
        stop_text(run, units),
        forecast(run.forecast),
    )


def rpm_text(run: Drive) -> str:
    """One engine speed, or the least and the most of a run in which it changes."""
    if run.rpm is None:
        return DASH
    most = f"{run.rpm:.0f}"
    return most if run.slowest_rpm is None else f"{run.slowest_rpm:.0f} to {most}"


def stop_text(run: Drive, units: str) -> str:
    """The abort line, or where it moves from and to with the engine's speed."""
    if run.pressure is None:
        return DASH
    most, low = number(run.pressure.abort_pa, units), run.slowest_pressure
    return most if low is None else f"{number(low.abort_pa, units)} to {most}, with rpm"


def number(pressure: float, units: str) -> str:
    """A pressure without its unit."""
    return shown(pressure, PASCAL, units).removesuffix(f" {unit_name(PASCAL, units)}")


def band(point: PressurePoint | None, units: str) -> str:
    """``232 to 314``, or ``over 232``."""
    if point is None:
        return DASH
    low = number(point.low_pa, units)
    return f"over {low}" if point.high_pa is None else f"{low} to {number(point.high_pa, units)}"


def forecast(said: Forecast) -> str:
    """Covered or not, and how long; also at a little more."""
    if said.outcome == "not computed":
        return "no forecast"
    first = (
        f"covered, {shown(said.followed_s, 'time', digits=0)}"
        if said.first_air_s is None
        else f"AIR after {_after(said)}"
    )
    later = said.first_air_a_little_more_s
    if later is None or said.a_little_more_g is None or said.first_air_s is not None:
        return first
    return f"{first}; AIR after {shown(later, 'time')} at {said.a_little_more_g:.2f} g"


def _results(stage: Stage, units: str) -> Iterator[Part]:
    """A row to fill in for each run, with a box for each repeat."""
    if not stage.runs:
        return
    least, most = f"Least {unit_name(PASCAL, units)}", max(r.repeats for r in stage.runs)
    tries = tuple(f"{least}, {n + 1}" for n in range(most)) if most > 1 else (least,)
    round_ = any(r.lap_time_s is not None for r in stage.runs)
    head = ("Run", *tries, "at rpm", "Oil temp.", *(("Lap time",) if round_ else ()), "OK")
    names = tuple(
        f"{TURN[r.turn]} {r.accel_g:.2f} g" if r.accel_g else TURN[r.turn] for r in stage.runs
    )
    yield Part("Found", grid=Grid(head, _empty(names, len(head) - 1)))


def _empty(names: Row, boxes: int) -> tuple[Row, ...]:
    return tuple((name, *("",) * boxes) for name in names)


def cockpit_card(result: PlanResult) -> Sheet:
    """What the driver keeps in sight."""
    units, hot = result.units, result.pressure.hot_k
    unit = unit_name(PASCAL, units)
    at_hot = [p for p in result.pressure.points if abs(p.temperature_k - hot) < 0.5]
    rows = tuple((f"{p.rpm:.0f}", number(p.abort_pa, units), band(p, units)) for p in at_hot)
    head = ("rpm", f"STOP under [{unit}]", f"expected [{unit}]")
    stop = (
        "Under the line, the warning light, a new noise, smoke, a smell of oil: lift off, "
        "straighten, clutch in, engine off when it is safe to.",
        "Never restart to look. Never go on to a faster stage after a stop.",
        "Left and right at each speed before any faster one.",
    )
    note = f"Oil at {shown(hot, 'temperature', units)}. Abort line: " + told(
        result.pressure.abort_source
    )
    parts = (Part("Stop", stop), Part("Oil pressure", grid=Grid(head, rows, note)))
    return Sheet("cockpit", "Cockpit card", "Stop under this pressure", parts, (), large=True)


def pressure_sheet(result: PlanResult) -> Sheet:
    """The abort line over engine speed and temperature."""
    units, points = result.units, result.pressure.points
    warm = sorted({p.temperature_k for p in points})
    speeds = sorted({p.rpm for p in points})
    at = {(p.rpm, p.temperature_k): p for p in points}
    head = ("rpm", *(shown(t, "temperature", units) for t in warm))
    rows = tuple(
        (
            f"{r:.0f}",
            *(f"{number(at[r, t].abort_pa, units)}  ({band(at[r, t], units)})" for t in warm),
        )
        for r in speeds
    )
    sources = (
        "Expected: " + told(result.pressure.band_source) + ".",
        "Abort line: " + told(result.pressure.abort_source) + ".",
    )
    unit = unit_name(PASCAL, units)
    title = f"Stop under, and expected in brackets [{unit}, gauge]"
    grid = Grid(head, rows, _relief(result))
    return Sheet(
        "pressure",
        "Abort line",
        "Oil pressure over speed and temperature",
        (Part(title, grid=grid), Part("Where it comes from", sources)),
        (),
    )


def _relief(result: PlanResult) -> str:
    relief = result.pressure.relief_pa
    if relief is None:
        return ""
    text = shown(relief, PASCAL, result.units)
    return f"The relief valve opens at {text}; real ones let pressure rise some tenths above that."
