# SPDX-License-Identifier: Apache-2.0
"""Does the pump get oil, cold and hot? Pressure left at its inlet over temperature and speed.

Steady flow of oil without air, the car on level ground. `feed_state.py` asks the formulas,
`feed_range.py` says how far is looked, `feed_words.py` what should not be overlooked.
"""

from collections.abc import Callable
from dataclasses import fields, replace
from pathlib import Path
from typing import Any

import numpy as np
from numpy.typing import NDArray

from sumpwright import __version__
from sumpwright.errors import InputError, Problem, RangeError
from sumpwright.job.load import LoadedJob, load_job
from sumpwright.job.model import Job, Pan
from sumpwright.job.revision import input_hash
from sumpwright.oil.atmosphere import isa_pressure
from sumpwright.oil.pipe import LAMINAR_END, TURBULENT_START
from sumpwright.oil.suction import CONTINUOUS, INTERMITTENT
from sumpwright.studies.bodies import Bodies, PanBodies
from sumpwright.studies.body_file import read_bodies
from sumpwright.studies.feed_range import speeds, temperatures
from sumpwright.studies.feed_result import (
    LOSSES,
    AllowedSpeed,
    AltitudePoint,
    Feed,
    FeedPoint,
    FeedResult,
    Regime,
    Table,
)
from sumpwright.studies.feed_state import FeedLine, FeedState, cold_lacks, feed_lacks, feed_line
from sumpwright.studies.feed_words import assumptions_of, cautions_of
from sumpwright.studies.first_loss import first_loss
from sumpwright.studies.grade import grade_problems
from sumpwright.studies.ledger import ledger, summary_of, verdict_of
from sumpwright.studies.rule import Evidence
from sumpwright.studies.rule_feed import feed_rules

Floats = NDArray[np.float64]
Progress = Callable[[str, float], None]

RPM = 30.0 / np.pi
ALTITUDES = {
    "metric": np.arange(0.0, 3001.0, 500.0),
    "us": 0.3048 * np.arange(0.0, 10001.0, 2000.0),
}
"""m; the highest passes of most countries, round in the person's units."""


def feed(job: Job, bodies: Bodies) -> Feed | None:
    """Feed of the new pan, with the stock pan's beside it; None where the job lacks what it needs.

    `feed_lacks` says what that is. Raises InputError where a suction line is none that the
    formulas cover.
    """
    new = _pan_feed(job, bodies, job.new, bodies.new)
    if new is None or job.stock is None or bodies.stock is None:
        return new
    return replace(new, stock=_pan_feed(job, bodies, job.stock, bodies.stock))


def feed_of(folder: Path, progress: Progress | None = None) -> FeedResult:
    """Feed of the job in `folder`, judged; InputError with what is missing where it has none."""
    say = progress or (lambda _text, _share: None)
    loaded = load_job(folder, (grade_problems,))
    _refuse_lacking(loaded)
    say("reading geometry", 0.0)
    bodies = read_bodies(loaded, progress)
    say("feed", 0.6)
    found = feed(loaded.job, bodies)
    assert found is not None, "what a feed needs is there"
    lines = ledger(Evidence(loaded.job, None, None, None, found), feed_rules())
    say("feed", 1.0)
    return FeedResult(
        job=loaded.job.job,
        revision=loaded.job.revision,
        input_hash=input_hash(loaded),
        code_version=__version__,
        units=loaded.job.units,
        verdict=verdict_of(lines),
        summary=summary_of(lines),
        requirements=lines,
        feed=found,
        findings=bodies.findings,
        note=loaded.job.note,
    )


def _refuse_lacking(loaded: LoadedJob) -> None:
    if not (lacks := feed_lacks(loaded.job)):
        return
    keys = ("new", "suction") if loaded.job.new.suction is None else ("engine",)
    if "oil" in lacks:
        keys = ("oil",)
    problem = Problem(
        code="JOB-156",
        where=loaded.where(*keys),
        found="a job that does not say how the pump gets its oil",
        needed=lacks.removeprefix("needs "),
        do="add it; docs/job-file.md has an example of each key",
    )
    raise InputError([problem])


def hot_limit(job: Job) -> float:
    """Pressure that the inlet needs for as long as one likes [Pa]."""
    limit = job.requirements.inlet_hot
    return limit if isinstance(limit, float) else CONTINUOUS


def cold_limit(job: Job) -> float:
    """Pressure that the inlet needs for a short time [Pa]."""
    limit = job.requirements.inlet_cold
    return limit if isinstance(limit, float) else INTERMITTENT


def _pan_feed(job: Job, bodies: Bodies, pan: Pan, body: PanBodies) -> Feed | None:
    line = feed_line(job, bodies, pan, body)
    if line is None:
        return None
    try:
        return _answer(line)
    except RangeError as err:
        raise InputError([_uncovered(bodies.where(body.key, "suction"), str(err))]) from err


def _uncovered(where: str, why: str) -> Problem:
    return Problem(
        code="JOB-155",
        where=where,
        found=why,
        needed="a suction line, a pump and curves that the formulas cover",
        do="check sizes and their units; `sumpwright feed` then says the rest",
    )


def _answer(line: FeedLine) -> Feed:
    job = line.job
    speed, t = speeds(job), temperatures(job, line.oil)
    state = line.at(speed, t[:, None])
    continuous, short = (
        _allowed(line, speed, t, state, needed) for needed in (hot_limit(job), cold_limit(job))
    )
    hot = _point(line, job.oil.hot, float(speed[-1]), hot_limit(job))
    found = Feed(
        name=line.body.name,
        temperature_k=_row(t),
        rpm=_row(speed * RPM),
        viscosity_m2_s=_row(state.viscosity[:, 0]),
        density_kg_m3=_row(state.density[:, 0]),
        ambient_pa=line.ambient,
        flow_m3_s=_table(state.flow),
        cover_m=None if state.spare_cover is None else _table(state.spare_cover),
        continuous=continuous,
        short=short,
        hot=hot,
        cold=_cold(line),
        worst=_worst(line, float(speed[0]), short),
        altitudes=(),
        cautions=(),
        assumptions=assumptions_of(line),
        **_tables(state),
    )
    found = replace(found, altitudes=_altitudes(line, found))
    return replace(found, cautions=cautions_of(line, found))


def _tables(state: FeedState) -> dict[str, Any]:
    """The budget's items as tables."""
    budget = state.budget
    items = {f"{name}_pa": _table(getattr(budget, name)) for name in ("inlet", "head", *LOSSES)}
    face = None if np.isnan(budget.face_speed).any() else _table(budget.face_speed)
    return {
        **items,
        "speed_m_s": _table(budget.speed),
        "reynolds": _table(budget.reynolds),
        "face_speed_m_s": face,
    }


def _allowed(
    line: FeedLine, speed: Floats, t: Floats, state: FeedState, needed: float
) -> AllowedSpeed:
    grid = state.budget.inlet - needed
    at_all = grid[:, 0] >= 0.0
    if len(speed) == 1:
        limit, held = np.full(len(t), speed[0]), at_all
    else:
        limit, held = first_loss(
            lambda k, asked: line.at(asked, t[k]).budget.inlet - needed, speed, grid
        )
    rpm = tuple(float(s) * RPM if ok else None for s, ok in zip(limit, at_all, strict=True))
    coldest, full = (_coldest(line, float(speed[k]), t, needed, grid[::-1, k]) for k in (0, -1))
    return AllowedSpeed(needed, rpm, tuple(bool(h) for h in held), coldest, full)


def _coldest(
    line: FeedLine, speed: float, t: Floats, needed: float, from_hot: Floats
) -> float | None:
    """Coldest oil [K] with which the inlet keeps its pressure at a speed, coming from hot."""
    if from_hot[0] < 0.0:
        return None
    cooler = t[-1] - t[::-1]
    if len(cooler) == 1:
        return float(t[-1])
    lost, _ = first_loss(
        lambda _, by: line.at(speed, t[-1] - by).budget.inlet - needed, cooler, from_hot[None]
    )
    return float(t[-1] - lost[0])


def _cold(line: FeedLine) -> FeedPoint | None:
    if cold_lacks(line.job):
        return None
    return _point(line, line.job.oil.cold, line.job.engine.cold_rpm, cold_limit(line.job))


def _worst(line: FeedLine, idle: float, short: AllowedSpeed) -> FeedPoint:
    """The coldest oil that the short-time limit allows at all, as fast as it allows there."""
    speed = idle if short.rpm[0] is None else short.rpm[0] / RPM
    t = line.job.oil.hot if short.coldest_k is None else short.coldest_k
    return _point(line, t, speed, cold_limit(line.job))


def _point(line: FeedLine, t: float, speed: float, needed: float) -> FeedPoint:
    state = line.at(speed, t)
    budget = state.budget
    face = float(budget.face_speed)
    return FeedPoint(
        temperature_k=t,
        rpm=speed * RPM,
        flow_m3_s=float(state.flow),
        viscosity_m2_s=float(state.viscosity),
        density_kg_m3=float(state.density),
        needed_pa=needed,
        regime=regime(float(budget.reynolds)),
        face_speed_m_s=None if np.isnan(face) else face,
        speed_m_s=float(budget.speed),
        reynolds=float(budget.reynolds),
        surface_m=float(state.surface),
        oil_m3=float(state.oil),
        cover_m=_number(state.cover),
        drawdown_m=_number(state.drawdown),
        film_m=_number(state.film),
        **{
            f"{item.name}_pa": float(getattr(budget, item.name))
            for item in fields(budget)
            if item.name in ("ambient", "head", "inlet", *LOSSES)
        },
    )


def regime(reynolds: float) -> Regime:
    """How oil runs at a Reynolds number in a tube."""
    if reynolds == 0.0:
        return "at rest"
    if reynolds <= LAMINAR_END:
        return "laminar"
    return "turbulent" if reynolds >= TURBULENT_START else "between"


def _altitudes(line: FeedLine, found: Feed) -> tuple[AltitudePoint, ...]:
    """Everything but the air above stays as it is, so only that is exchanged."""
    if line.job.air is not None and line.job.air.pressure is not None:
        return ()
    heights = ALTITUDES[line.job.units]
    pressures = isa_pressure(heights)
    return tuple(
        AltitudePoint(
            altitude_m=float(height),
            ambient_pa=float(air),
            hot_pa=found.hot.inlet_pa + float(air) - line.ambient,
            cold_pa=None if found.cold is None else found.cold.inlet_pa + float(air) - line.ambient,
        )
        for height, air in zip(heights, pressures, strict=True)
    )


def _row(values: Floats) -> tuple[float, ...]:
    return tuple(float(v) for v in values)


def _table(values: Floats) -> Table:
    return tuple(_row(row) for row in values)


def _number(value: Floats | None) -> float | None:
    return None if value is None else float(value)
