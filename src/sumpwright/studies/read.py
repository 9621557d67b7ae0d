# SPDX-License-Identifier: Apache-2.0
"""Did pressure fall short in a session, when, which way round, how badly; did the model say so?"""

import hashlib
from collections.abc import Callable
from dataclasses import dataclass, field, replace
from pathlib import Path

import numpy as np

from sumpwright.errors import InputError, Problem, RangeError
from sumpwright.geometry.frame import STANDARD_GRAVITY
from sumpwright.job.load import LoadedJob, load_job
from sumpwright.job.save import set_value
from sumpwright.logs.health import sensor_notes
from sumpwright.logs.judge import Judgement, judged
from sumpwright.logs.lateral import with_lateral
from sumpwright.logs.log import Channel, Log
from sumpwright.logs.note import Note
from sumpwright.logs.open_log import open_log
from sumpwright.logs.pressure_model import PressureRule
from sumpwright.logs.several import joined
from sumpwright.studies.body_file import read_bodies
from sumpwright.studies.foretold import Session, foretell
from sumpwright.studies.grade import grade_problems
from sumpwright.studies.read_answer import Parts, read_result
from sumpwright.studies.read_reach import with_reach
from sumpwright.studies.read_record import blind, file_record, filing_words
from sumpwright.studies.read_result import Prediction, ReadResult
from sumpwright.studies.read_sense import (
    require_one_sense,
    sense_words,
    turned,
    without_minus,
)

__all__ = ["Read", "ReadAsked", "file_record", "keep_names", "read_logs"]

Progress = Callable[[str, float], None]

STEP = 0.04
"""s between the samples that the network is driven by."""
_NO_SIDE = "tells left from right"
"""What is said of an acceleration to the side whose sign nothing in the log tells"""
READING_DOUBT = 0.35
"""Of a pressure that is scaled from the job's one reading; [common-practice]."""


@dataclass(frozen=True)
class ReadAsked:
    """What a person asks of which logs."""

    job: Path | None
    logs: tuple[Path, ...]
    columns: dict[str, str] = field(default_factory=dict)
    units: dict[str, str] = field(default_factory=dict)
    radius: float | None = None
    """[m]"""
    prediction: bool = True


@dataclass(frozen=True, eq=False)
class Read:
    """A result with what is to be filed of it."""

    result: ReadResult
    asked: ReadAsked
    loaded: LoadedJob | None
    judgement: Judgement
    notes: tuple[Note, ...]

    @property
    def folder(self) -> Path | None:
        """Of the job."""
        return None if self.loaded is None else self.loaded.folder


def read_logs(asked: ReadAsked, progress: Progress | None = None) -> Read:
    """The logs of one session, judged; writes nothing."""
    say = progress or (lambda _text, _share: None)
    loaded = None if asked.job is None else load_job(asked.job, (grade_problems,))
    say("reading the log", 0.05)
    log = joined([_opened(path, asked, loaded) for path in asked.logs])
    require_one_sense(log)
    sense = sense_words(log)
    log, how = with_lateral(log, radius=_radius(asked, loaded))
    say("judging pressure", 0.3)
    found = judged(log, rule=None if loaded is None else _rule(loaded))
    notes = sensor_notes(log)
    prediction, said = _prediction(asked, loaded, found, say)
    files = tuple((path.name, _digest(path)) for path in asked.logs)
    learnt = (_rule_words(loaded, found), _switch_words(found), _warmth_words(found))
    told = (how, sense, *learnt, *said)
    assumptions = tuple(s for s in told if s)
    sided = how is None or _NO_SIDE not in how
    parts = Parts(loaded, log, found, notes, prediction, assumptions, files, sided)
    result = with_reach(read_result(parts), loaded, found, notes)
    result = replace(result, filing=_filing(loaded, files, found, notes))
    say("judging pressure", 0.9)
    return Read(result, asked, loaded, found, notes)


def keep_names(read: Read) -> None:
    """Write the columns and units that a person gave into the job, for the next log."""
    if read.asked.job is None:
        return
    given = {f"logs.columns.{k}": v for k, v in read.asked.columns.items()}
    given |= {f"logs.units.{k}": v for k, v in read.asked.units.items()}
    for key, value in given.items():
        set_value(read.asked.job, key, value, (grade_problems,))


def _opened(path: Path, asked: ReadAsked, loaded: LoadedJob | None) -> Log:
    """A log with the names that the job keeps, and those given now before them."""
    columns, units = dict(asked.columns), dict(asked.units)
    if loaded is not None:
        kept = loaded.job.logs
        columns = {**_given(kept.columns.model_dump()), **columns}
        units = {**_given(kept.units.model_dump()), **units}
    named, round_ = without_minus(columns)
    log = open_log(path, channels=named, units=units)
    channels = {role: _kept(c, asked) for role, c in log.channels.items()}
    return turned(replace(log, channels=channels), round_)


def _filing(
    loaded: LoadedJob | None,
    files: tuple[tuple[str, str], ...],
    found: Judgement,
    notes: tuple[Note, ...],
) -> str:
    if loaded is None:
        return ""
    why = blind(found.motion.typed, notes)
    return filing_words(loaded, {digest for _, digest in files}, why)


def _kept(channel: Channel, asked: ReadAsked) -> Channel:
    """A channel that was not given now, but before, says so."""
    if channel.how != "given" or channel.role in asked.columns:
        return channel
    return replace(channel, how="kept in the job")


def _given(values: dict[str, str | None]) -> dict[str, str]:
    return {k: v for k, v in values.items() if v is not None}


def _radius(asked: ReadAsked, loaded: LoadedJob | None) -> float | None:
    if asked.radius is not None or loaded is None:
        return asked.radius
    return loaded.job.logs.radius


def _rule(loaded: LoadedJob) -> PressureRule | None:
    """From the job's one reading, as far as pressure goes with speed; else the usual rule."""
    pump = loaded.job.engine.pump
    if pump is None or pump.reading is None:
        return None
    slope = pump.reading.pressure / pump.reading.rpm
    return PressureRule(slope=slope, relief=pump.relief, doubt=READING_DOUBT)


def _rule_words(loaded: LoadedJob | None, found: Judgement) -> str:
    known = loaded is not None and _rule(loaded) is not None
    rule = "the job's reading of its pressure" if known else "10 psi per 1000 rpm (common practice)"
    if found.model.fit is None:
        return f"Too little driving to learn from: pressure is held against {rule}."
    calm = found.model.learnt_time
    easy = f"{calm:.0f} s of straight and gentle driving" if calm >= 1.0 else "no gentle driving"
    return (
        f"What pressure should be was learnt from {easy}, from hard driving at a tenth of the "
        f"weight and without what looks like dips, and from {rule} where there was none."
    )


def _warmth_words(found: Judgement) -> str:
    """What cannot be told apart where nobody logged how warm the oil was."""
    if found.model.fit is None or found.model.warm or found.motion.typed:
        return ""
    return (
        "No temperature: pressure that falls slowly over the session is taken for oil that "
        "warms, and would hide a slow loss; log the oil's temperature."
    )


def _switch_words(found: Judgement) -> str:
    """That a pump with two stages was seen, and what is not judged because of it."""
    switch = found.model.switch
    if switch is None:
        return ""
    up, down = (round(v * 30.0 / np.pi, -1) for v in (switch.up, switch.down))
    at = f"from about {up:.0f} rpm up" + (f", down again at {down:.0f}" if down < up else "")
    lost = float(found.switching.sum() * found.motion.step)
    return (
        f"The pump gives more pressure {at}: {lost:.0f} s near that speed were not judged, for a "
        "small loss there is not told from the switch."
    )


def _prediction(
    asked: ReadAsked, loaded: LoadedJob | None, found: Judgement, say: Progress
) -> tuple[Prediction | None, tuple[str, ...]]:
    if loaded is None or not asked.prediction:
        return None, ()
    if loaded.job.new.pickup is None:
        return None, ("Nothing is foretold: the job has no `new.pickup`.",)
    seen = _session(loaded, found)
    if seen is None:
        return None, ("Nothing is foretold: the log has no acceleration to the side.",)
    try:
        say("reading geometry", 0.4)
        return foretell(loaded, read_bodies(loaded), seen, say)
    except RangeError as err:
        return None, (f"Nothing is foretold: {' '.join(str(err).split())}.",)


def _session(loaded: LoadedJob, found: Judgement) -> Session | None:
    m = found.motion
    if not np.isfinite(m.ay).any() or m.typed:
        return None
    time = np.arange(m.time[0], m.time[-1], STEP)

    def on(values: object) -> np.ndarray[tuple[int, ...], np.dtype[np.float64]]:
        return np.asarray(np.interp(time, m.time, np.nan_to_num(np.asarray(values, dtype=float))))

    warm = m.temperature[np.isfinite(m.temperature) & found.judged]
    missing = np.clip(1.0 - m.pressure / np.maximum(m.expected, 1.0), 0.0, 1.0)
    known = np.interp(time, m.time, found.judged.astype(float)) > 0.5
    return Session(
        time=time,
        ax_g=on(m.ax) / STANDARD_GRAVITY,
        ay_g=on(m.ay) / STANDARD_GRAVITY,
        rpm=on(m.speed) * 30.0 / np.pi,
        temperature=float(np.median(warm)) if len(warm) else loaded.job.oil.hot,
        dips=tuple((d.start, d.end) for d in found.dips),
        missing=np.where(known, on(missing), np.nan),
    )


def _digest(path: Path) -> str:
    try:
        with path.open("rb") as stream:
            return hashlib.file_digest(stream, "sha256").hexdigest()
    except OSError as err:
        found = f"a file that cannot be read ({err.strerror})"
        raise InputError(
            [Problem("LOG-205", str(path), found, "a log", "allow reading it")]
        ) from err
