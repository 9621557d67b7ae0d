# SPDX-License-Identifier: Apache-2.0
"""What reading a log answers: frozen, SI, ready for JSON, as in result.py.

Times are those of the log, from its first row. Accelerations are the car's in g: forward, left.
"""

from dataclasses import asdict, dataclass, field
from typing import Any, Literal

from sumpwright.errors import Finding
from sumpwright.studies.result import Requirement

Series = tuple[float, ...]
Gaps = tuple[float | None, ...]
Turn = Literal["left", "right", "straight", "turning", "not known"]
"""``turning``: left or right, nothing tells which. ``not known``: nothing tells turns either."""
Ways = Literal["told", "left or right not told", "not told"]
Standing = Literal["met", "not met", "not proven", "not judged"]
"""``not proven``: no dip, but the job asks for more g than was held without one."""
Kind = Literal["dip", "shift", "sensor", "engine off", "idle", "relief"]
"""Only ``dip`` says that oil was short; the others say what a loss of pressure was instead."""


@dataclass(frozen=True)
class ChannelUse:
    """What a channel was taken for."""

    role: str
    column: str
    unit: str
    how: str
    rate_hz: float
    samples: int
    low: float
    high: float
    """SI"""


@dataclass(frozen=True)
class HealthNote:
    """Something wrong with a sensor or the way it was logged."""

    channel: str
    kind: str
    """``dropout``, ``stuck``, ``clipped``, ``spikes``, ``drift``, ``offset``, ``slow`` or
    ``rate``"""
    text: str
    """One sentence: what was found, and what to do"""
    start_s: float | None = None
    end_s: float | None = None
    matters: bool = False
    """Dips that count can have been missed or made up because of it"""


@dataclass(frozen=True)
class Event:
    """An interval in which pressure was lower than it should have been."""

    start_s: float
    end_s: float
    kind: Kind
    turn: Turn
    depth: float
    """Largest share of the expected pressure that was missing, 0 to 1"""
    least_pa: float
    expected_pa: float
    """Where `depth` was found"""
    rpm: float
    ax_g: float | None
    ay_g: float | None
    """Middle values over the event"""
    direction_deg: float | None
    """Of that acceleration, from forward toward left"""
    temperature_k: float | None
    stage: str
    """Part of the session it fell in; may be empty"""
    cause: str
    """Likely: ``starvation``, ``aeration``, ``shift transient``, ``sensor``, ..."""
    severity: float
    """0 to 1: depth, duration and load together"""
    lost_pa_s: float
    """Missing pressure over time"""
    beyond_noise: float
    """Depth over the model's own uncertainty there"""
    predicted: bool | None = None
    """Whether the network takes air or runs short at that moment; None: not asked"""


@dataclass(frozen=True)
class Stage:
    """A part of the log: a steady circle, an eight, a straight, a stop."""

    name: str
    start_s: float
    end_s: float
    turn: Turn
    ay_g: float | None
    """Middle of it"""
    rpm: float | None
    laps: int | None = None
    lap_s: float | None = None
    dips: int = 0


@dataclass(frozen=True)
class PressureCurve:
    """What pressure should have been: as learnt, and where from."""

    source: str
    """``this log``, ``the job's rule`` or ``both``"""
    rpm: Series
    temperature_k: Series
    expected_pa: tuple[Series, ...]
    """[temperature][rpm]"""
    uncertainty_pa: tuple[Series, ...]
    """One standard deviation, noise and model together"""
    learnt_share: tuple[Series, ...]
    """1 where the log alone speaks, 0 where the rule does"""
    relief_pa: float | None
    lag_s: float
    noise_pa: float
    learnt_from_s: float
    """Time of straight, gentle driving it was learnt from"""


@dataclass(frozen=True)
class Side:
    """One way round."""

    turn: Turn
    time_s: float
    """Judged: engine running, warm or not, pressure to be judged"""
    over_g: float | None
    """Largest size held for a second or more"""
    dips: int
    dip_s: float
    per_minute: float
    low_per_minute: float
    high_per_minute: float
    """95 % interval of that rate"""


@dataclass(frozen=True)
class Reach:
    """How far one way round was held without a dip, beside what the job asks to be proved."""

    turn: Literal["left", "right", "brake"]
    held_g: float | None
    """Largest size held for long enough; None where none was, or where the log cannot show it"""
    asked_g: float | None
    """None where the job asks for nothing"""
    proven: bool


@dataclass(frozen=True)
class ReadSummary:
    """The answer in a few numbers."""

    verdict: str
    """``passes left; fails right: 6 dips in 41 s against 0 in 39 s``"""
    confidence: str
    """One sentence on left against right"""
    duration_s: float
    judged_s: float
    sides: tuple[Side, ...]
    dips: int
    worst: int | None
    """Place of the severest dip in `events`"""
    left_right_p: float | None
    """Chance of so uneven a split if both sides were alike, of the two-sided exact test"""
    ways: Ways = "told"
    """Whether the log tells turns from straights, and left from right"""
    low_readings: int | None = None
    """Of gauges typed by hand, how many were low; None for a log"""
    readings: int | None = None
    standing: Standing = "not judged"
    headline: str = ""
    """The verdict, or without a dip how far that proves: ``no dip up to 0.83 g left (1.20 g
    asked)``"""


@dataclass(frozen=True)
class Track:
    """Channels over time, thinned for pictures."""

    time_s: Series
    pressure_pa: Gaps
    expected_pa: Gaps
    band_pa: Gaps
    """Below this it counts as missing"""
    rpm: Gaps
    ax_g: Gaps
    ay_g: Gaps
    temperature_k: Gaps


@dataclass(frozen=True)
class Fitted:
    """One uncertain parameter of the network, before and after fitting it to the log."""

    name: str
    """``retained oil``, ``returns lag``, ``discharge`` or ``door gap``"""
    before: float
    """As a factor on the job's own value: 1"""
    after: float
    low: float
    high: float
    """95 % interval"""
    known: str
    """``yes``, or why the log says little about it"""


@dataclass(frozen=True)
class Foretold:
    """The network over the logged motion."""

    time_s: Series
    cover_m: Gaps
    air_fraction: Gaps
    inlet_pa: Gaps
    hits: int
    misses: int
    false_alarms: int
    quiet_s: float
    """Time in which neither log nor network had a dip"""


@dataclass(frozen=True)
class Prediction:
    """Prediction against measurement; the original and the fitted are both kept."""

    original: Foretold
    fitted: Foretold | None
    parameters: tuple[Fitted, ...]
    text: str
    """One sentence: how well they agree"""


@dataclass(frozen=True)
class ReadResult:
    """One or more logs, judged."""

    files: tuple[tuple[str, str], ...]
    """Name and SHA-256 of each"""
    job: str
    revision: str
    input_hash: str
    part_hash: str
    """These four are empty where a log is read without a job"""
    code_version: str
    units: str
    channels: tuple[ChannelUse, ...]
    unused: tuple[str, ...]
    health: tuple[HealthNote, ...]
    events: tuple[Event, ...]
    stages: tuple[Stage, ...]
    curve: PressureCurve | None
    summary: ReadSummary
    track: Track
    prediction: Prediction | None = None
    requirements: tuple[Requirement, ...] = ()
    assumptions: tuple[str, ...] = ()
    findings: tuple[Finding, ...] = field(default=())
    reach: tuple[Reach, ...] = ()
    """Each way that the job asks to be proved, or that was held; empty without a job"""
    filing: str = ""
    """Why it is not filed under records/, or not as a proof; empty where nothing is against it"""

    def as_json(self) -> dict[str, Any]:
        """Plain dict of the whole result, SI keys."""
        return asdict(self)
