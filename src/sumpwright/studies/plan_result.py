# SPDX-License-Identifier: Apache-2.0
"""What `plan` answers: a test programme with numbers, and the bench checks before it; frozen, SI.

Accelerations are in g, as on a gauge. A time of None in a forecast means that the pickup stays
covered for as long as the model was followed.
"""

from dataclasses import asdict, dataclass
from typing import Any, Literal

from sumpwright.errors import Finding

Turn = Literal["left", "right", "both", "straight"]
Outcome = Literal["covered", "air", "not computed"]
Triple = tuple[float, float, float]


@dataclass(frozen=True)
class PressurePoint:
    """Oil pressure, as gauges show it, at one engine speed and oil temperature."""

    rpm: float
    temperature_k: float
    low_pa: float
    """Lowest that is expected"""
    high_pa: float | None
    """Highest that is expected; None where nothing says"""
    abort_pa: float
    """Lift off and stop the engine under this"""


@dataclass(frozen=True)
class PressurePlan:
    """The expected band and the abort line over engine speed and temperature."""

    points: tuple[PressurePoint, ...]
    """By temperature, then by speed"""
    band_source: str
    abort_source: str
    relief_pa: float | None
    hot_k: float


@dataclass(frozen=True)
class Forecast:
    """What the network of compartments says of one run."""

    outcome: Outcome
    first_air_s: float | None
    followed_s: float
    """How long the model was followed"""
    a_little_more_g: float | None = None
    first_air_a_little_more_s: float | None = None
    """The same at a little over the stage's g; the run lasts at least as long"""
    why: str = ""
    """Why there is none, or what it leaves out"""


@dataclass(frozen=True)
class Drive:
    """One run of a stage."""

    turn: Turn
    accel_g: float
    speed_m_s: float | None
    gear: int | None
    """From 1"""
    rpm: float | None
    laps: float | None
    lap_time_s: float | None
    duration_s: float | None
    repeats: int
    pressure: PressurePoint | None
    """At this run's engine speed, oil hot"""
    forecast: Forecast
    slowest_rpm: float | None = None
    """Where the engine's speed changes in the run: the least of it, `rpm` being the most"""
    slowest_pressure: PressurePoint | None = None
    """At that speed: the abort line moves with the engine"""
    distance_m: float | None = None
    """Of a straight run, while the speed changes: v^2 / (2 a)"""


@dataclass(frozen=True)
class Stage:
    """One page of the programme."""

    number: int
    name: str
    kind: str
    """``before``, ``warm-up``, ``circle``, ``figure-eight``, ``slalom``, ``launch``, ``brake`` or
    ``sustained``"""
    radius_m: float | None
    runs: tuple[Drive, ...]
    how: tuple[str, ...]
    after: tuple[str, ...]
    gate: tuple[str, ...]
    layout: tuple[tuple[str, float], ...] = ()
    """Further lengths of the course [m], such as the spacing of cones"""


@dataclass(frozen=True)
class FillStep:
    """Oil poured, cold, and where it stands."""

    volume_m3: float
    below_rail_m: float
    """Rail level, as on a bench; negative above the rail"""
    depth_m: float
    """Over the lowest point, at the installed angle"""
    along_dipstick_m: float | None
    mark: str
    """``full``, ``low`` or empty"""


@dataclass(frozen=True)
class FillTest:
    """Litres poured against height read."""

    steps: tuple[FillStep, ...]
    holds_m3: float
    full_m3: float
    low_m3: float | None
    service_fill_m3: float
    pitch_deg: float
    roll_deg: float
    """Of the pan as installed: positive pitch is nose down, positive roll right side down"""
    limit_m3: float | None
    """Litres and curve may differ by so much for `release`; None: it does not ask"""


@dataclass(frozen=True)
class TiltStep:
    """The pan tilted to stand for a steady acceleration."""

    way: str
    """``left`` turn, ``right`` turn, ``brake`` or ``accelerate``"""
    accel_g: float
    angle_deg: float
    """From level"""
    down_side: str
    """The side of the pan that points down: where the oil goes"""
    highest: Triple
    """Where the liquid line stands highest up from the floor toward the rail, engine frame"""
    lowest: Triple
    """Where it stands lowest"""
    over_rail: bool
    """Whether the line comes above the rail: an open pan spills"""


@dataclass(frozen=True)
class TiltTest:
    """Where the liquid line must lie on the walls."""

    volume_m3: float
    what: str
    """Which amount of oil that is"""
    frame_m: float
    """Height of the walls over the rail that the lines are for; 0: a plate on the rail"""
    limit_m: float | None
    """The line may lie off by so much for `release`; None: it does not ask"""
    steps: tuple[TiltStep, ...]
    cannot_show: tuple[str, ...]
    within_m3: float = 0.0
    """The pour may be off by so much: the lines read the same"""


@dataclass(frozen=True)
class DoorCheck:
    """One trap door to swing by hand."""

    baffle: str
    name: str
    stop_deg: float
    swings: str
    """Toward where it opens: ``the front``, ``the left`` ..."""
    hinge: str
    edge_gap_m: float


@dataclass(frozen=True)
class Bench:
    """Checks before the engine runs."""

    fill: FillTest
    tilt: TiltTest
    doors: tuple[DoorCheck, ...]
    leak: tuple[str, ...]


@dataclass(frozen=True)
class PlanResult:
    """The programme of a test day."""

    job: str
    revision: str
    input_hash: str
    code_version: str
    units: str
    pan: str
    note: str
    stages: tuple[Stage, ...]
    bench: Bench
    pressure: PressurePlan
    target_left_g: float | None
    target_right_g: float | None
    target_brake_g: float | None
    target_accelerate_g: float | None
    missing: tuple[str, ...]
    """What the job does not say, and what the programme goes without for it"""
    assumptions: tuple[str, ...]
    findings: tuple[Finding, ...]

    def as_json(self) -> dict[str, Any]:
        """Plain dict of the whole result, SI keys."""
        return asdict(self)
