# SPDX-License-Identifier: Apache-2.0
"""What judging a log found, as the result that every face shows."""

import math
from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from sumpwright import __version__
from sumpwright.geometry.frame import STANDARD_GRAVITY
from sumpwright.job.load import LoadedJob
from sumpwright.job.revision import input_hash, part_hash
from sumpwright.logs.compare import rate_by_corner
from sumpwright.logs.dip import Dip
from sumpwright.logs.judge import Judgement, SideCount
from sumpwright.logs.lap import laps_of
from sumpwright.logs.log import Log
from sumpwright.logs.note import Note
from sumpwright.logs.stage import StageSpan, stages_of
from sumpwright.studies.foretold import hits_of, spells
from sumpwright.studies.read_result import (
    ChannelUse,
    Event,
    Gaps,
    HealthNote,
    Prediction,
    PressureCurve,
    ReadResult,
    ReadSummary,
    Side,
    Stage,
    Track,
    Turn,
    Ways,
)
from sumpwright.studies.read_words import confidence_text, low_readings, verdict_text, ways_of

Floats = NDArray[np.float64]

_RPM = 30.0 / math.pi
MOST_TRACK = 4000
SHOWN_STAGES = 4.0
"""s; shorter parts of a session are not listed, unless a dip falls in one."""
CURVE_RPM = tuple(range(1000, 8001, 500))


@dataclass(frozen=True, eq=False)
class Parts:
    """What the result is made of."""

    loaded: LoadedJob | None
    log: Log
    found: Judgement
    notes: tuple[Note, ...]
    prediction: Prediction | None
    assumptions: tuple[str, ...]
    files: tuple[tuple[str, str], ...]
    sided: bool = True
    """Whether anything in the log tells left from right"""


def read_result(p: Parts) -> ReadResult:
    """The whole answer."""
    spans = _spans(p)
    ways = ways_of(p.found, sided=p.sided)
    events = tuple(_event(d, spans, p, ways) for d in p.found.events)
    loaded = p.loaded
    return ReadResult(
        files=p.files,
        job="" if loaded is None else loaded.job.job,
        revision="" if loaded is None else loaded.job.revision,
        input_hash="" if loaded is None else input_hash(loaded),
        part_hash="" if loaded is None else part_hash(loaded),
        code_version=__version__,
        units="metric" if loaded is None else loaded.job.units,
        channels=tuple(_uses(p.log)),
        unused=p.log.unused,
        health=tuple(_note(n) for n in p.notes),
        events=events,
        stages=tuple(_stages(p, spans)),
        curve=_curve(p.found),
        summary=_summary(p.found, events, sided=p.sided),
        track=_track(p.found),
        prediction=p.prediction,
        assumptions=p.assumptions,
        findings=p.log.findings,
    )


def _uses(log: Log) -> Iterator[ChannelUse]:
    for c in log.channels.values():
        low, high = float(c.value.min()), float(c.value.max())
        yield ChannelUse(c.role, c.column, c.unit, c.how, c.rate, len(c.time), low, high)


def _note(n: Note) -> HealthNote:
    return HealthNote(n.channel, n.kind, n.text, n.start, n.end, n.matters)


def _spans(p: Parts) -> tuple[StageSpan, ...]:
    m = p.found.motion

    def on(role: str) -> Floats | None:
        if role not in p.log:
            return None
        c = p.log.channels[role]
        return np.asarray(np.interp(m.time, c.time, c.value))

    return stages_of(m.time, m.ax, m.ay, m.speed, on("speed"), on("yaw_rate"))


def _event(d: Dip, spans: tuple[StageSpan, ...], p: Parts, ways: Ways) -> Event:
    middle = 0.5 * (d.start + d.end)
    stage = next((s.name for s in spans if s.start <= middle <= s.end), "")
    return Event(
        start_s=d.start,
        end_s=d.end,
        kind=d.kind,
        turn=_turn(d.turn, ways),
        depth=d.depth,
        least_pa=d.least,
        expected_pa=d.expected,
        rpm=_number(d.speed * _RPM) or 0.0,
        ax_g=_number(d.ax / STANDARD_GRAVITY),
        ay_g=_number(d.ay / STANDARD_GRAVITY),
        direction_deg=_number(math.degrees(d.direction)),
        temperature_k=_number(d.temperature),
        stage=stage,
        cause="low reading" if p.found.motion.typed and d.kind == "dip" else d.cause,
        severity=d.severity,
        lost_pa_s=d.lost,
        beyond_noise=min(d.beyond_noise, 1e6),
        predicted=_foretold(d, p.prediction) if d.kind == "dip" else None,
    )


def _turn(turn: str, ways: Ways) -> Turn:
    """The way round, as far as the log tells it."""
    if ways == "not told":
        return "not known"
    if turn == "straight":
        return "straight"
    if ways != "told":
        return "turning"
    return "left" if turn == "left" else "right"


def _foretold(d: Dip, prediction: Prediction | None) -> bool | None:
    if prediction is None:
        return None
    told = prediction.original
    air = np.array([0.0 if a is None else a for a in told.air_fraction])
    return hits_of(((d.start, d.end),), spells(np.array(told.time_s), air))[0] == 1


def _stages(p: Parts, spans: tuple[StageSpan, ...]) -> Iterator[Stage]:
    m, laps = p.found.motion, laps_of(p.log)
    middles = np.sort([0.5 * (d.start + d.end) for d in p.found.dips])
    for s in spans:
        here = slice(*np.searchsorted(m.time, [s.start, s.end]))
        dips = int(np.diff(np.searchsorted(middles, [s.start, s.end]))[0])
        if s.end - s.start < SHOWN_STAGES and not dips:
            continue
        inside = [lap for lap in laps if s.start <= lap.start and lap.end <= s.end]
        yield Stage(
            name=s.name,
            start_s=s.start,
            end_s=s.end,
            turn=s.turn,
            ay_g=_middle(m.ay[here] / STANDARD_GRAVITY),
            rpm=_middle(m.speed[here] * _RPM),
            laps=len(inside) or None,
            lap_s=float(np.median([lap.duration for lap in inside])) if inside else None,
            dips=dips,
        )


def _curve(found: Judgement) -> PressureCurve:
    model, m = found.model, found.motion
    warm = m.temperature[np.isfinite(m.temperature) & found.judged]
    some = np.percentile(warm, [10.0, 90.0]) if len(warm) else np.array([np.nan])
    speed = np.array(CURVE_RPM) / _RPM
    rows = [model.static(speed, np.full(len(speed), t)) for t in some]
    share = np.array([r[2] for r in rows])
    source = "the rule" if share.max() < 0.01 else "this log" if share.min() > 0.99 else "both"
    return PressureCurve(
        source=source,
        rpm=tuple(map(float, CURVE_RPM)),
        temperature_k=tuple(float(t) for t in some if np.isfinite(t)),
        expected_pa=tuple(tuple(map(float, r[0])) for r in rows),
        uncertainty_pa=tuple(tuple(map(float, r[1])) for r in rows),
        learnt_share=tuple(tuple(map(float, r[2])) for r in rows),
        relief_pa=model.relief,
        lag_s=model.lag,
        noise_pa=model.noise,
        learnt_from_s=model.learnt_time,
    )


def _summary(found: Judgement, events: tuple[Event, ...], *, sided: bool) -> ReadSummary:
    m, dips = found.motion, [k for k, e in enumerate(events) if e.kind == "dip"]
    ways, typed = ways_of(found, sided=sided), low_readings(found)
    return ReadSummary(
        verdict=verdict_text(found, sided=sided),
        confidence=confidence_text(found, sided=sided),
        duration_s=float(m.time[-1] - m.time[0]),
        judged_s=float(found.judged.sum() * m.step),
        sides=tuple(_sides(found, ways)),
        dips=len(dips),
        worst=max(dips, key=lambda k: events[k].severity) if dips else None,
        left_right_p=found.chance if ways == "told" else None,
        ways=ways,
        low_readings=None if typed is None else typed[0],
        readings=None if typed is None else typed[1],
    )


def _sides(found: Judgement, ways: Ways) -> Iterator[Side]:
    """Left, right and straight on, as far as the log tells them apart."""
    left, right, straight = found.sides
    if ways == "told":
        yield from (_side(s.turn, s) for s in found.sides)
    elif ways == "not told":
        yield _side("not known", left, right, straight)
    else:
        yield _side("turning", left, right)
        yield _side("straight", straight)


def _side(turn: Turn, *counts: SideCount) -> Side:
    """One way, or several that the log does not tell apart."""
    time, dips = sum(c.time for c in counts), sum(c.dips for c in counts)
    overs = [c.over for c in counts if math.isfinite(c.over)]
    over = max(overs) / STANDARD_GRAVITY if overs else None
    each = tuple(k for c in counts for k in c.each)
    low, high = rate_by_corner(each, time) if time > 0.0 else (0.0, math.inf)
    rate = dips / time if time > 0.0 else 0.0
    lasted = sum(c.dip_time for c in counts)
    return Side(turn, time, over, dips, lasted, rate * 60.0, low * 60.0, min(high * 60.0, 1e9))


def _track(found: Judgement) -> Track:
    """Every so many rows the one with the lowest pressure, so that no dip is lost."""
    m = found.motion
    wide = max(1, -(-len(m.time) // MOST_TRACK))
    whole = len(m.time) // wide * wide
    low = np.nan_to_num(m.pressure[:whole], nan=np.inf).reshape(-1, wide).argmin(axis=1)
    rows = low + wide * np.arange(len(low))
    g = STANDARD_GRAVITY
    return Track(
        time_s=tuple(map(float, m.time[rows])),
        pressure_pa=_gaps(m.pressure[rows]),
        expected_pa=_gaps(m.expected[rows]),
        band_pa=_gaps(found.band[rows]),
        rpm=_gaps(m.speed[rows] * _RPM),
        ax_g=_gaps(m.ax[rows] / g),
        ay_g=_gaps(m.ay[rows] / g),
        temperature_k=_gaps(m.temperature[rows]),
    )


def _gaps(values: Floats) -> Gaps:
    return tuple(_number(v) for v in values)


def _number(value: float) -> float | None:
    return float(value) if math.isfinite(value) else None


def _middle(values: Floats) -> float | None:
    sound = values[np.isfinite(values)]
    return float(np.median(sound)) if len(sound) else None
