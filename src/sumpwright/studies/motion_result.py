# SPDX-License-Identifier: Apache-2.0
"""What the studies of oil in motion answer: frozen, SI, ready for JSON, as in result.py.

Series run over `time_s`, one value for each time. A surface's height is that of the oil in its own
compartment, at the compartment's middle, along up as in result.py.
"""

from dataclasses import asdict, dataclass, field
from typing import Any, Literal

from sumpwright.errors import Finding
from sumpwright.studies.result import Requirement, Triple

Series = tuple[float, ...]
Gaps = tuple[float | None, ...]
"""A series that may have nothing to say."""
Doors = Literal["working", "stuck open", "stuck shut", "no baffles"]
DOORS: tuple[Doors, ...] = ("working", "stuck open", "stuck shut", "no baffles")


@dataclass(frozen=True)
class WayOut:
    """A way for oil out of a compartment."""

    to: str
    """Name of the other compartment"""
    panel: str
    opening: str
    """Name of the window or door; empty for what a panel leaves open, and for gaps"""
    kind: str
    """``window``, ``door``, ``open``, ``gap`` or ``leak`` (round a shut door)"""
    area_m2: float
    passes: str
    """``both ways``, ``out`` or ``in``"""


@dataclass(frozen=True)
class Compartment:
    """What the program understood of one compartment."""

    name: str
    where: str
    """Such as ``front left``; may be empty"""
    volume_m3: float
    """To its top, panels and displacing bodies taken off"""
    at_rest_m3: float | None
    """Of the hot fill, engine off"""
    has_pickup: bool
    ways: tuple[WayOut, ...]


@dataclass(frozen=True)
class CompartmentsResult:
    """How the baffles part the new pan."""

    job: str
    revision: str
    input_hash: str
    code_version: str
    units: str
    compartments: tuple[Compartment, ...]
    panel_m3: float
    displaced_m3: float
    findings: tuple[Finding, ...]

    def as_json(self) -> dict[str, Any]:
        """Plain dict of the whole result, SI keys."""
        return asdict(self)


@dataclass(frozen=True)
class CompartmentCourse:
    """The oil of one compartment over time."""

    name: str
    where: str
    capacity_m3: float
    volume_m3: Series
    surface_height_m: Series
    tilt: tuple[Triple, ...]
    """Unit normal of its surface, engine frame; at rest it is up"""


@dataclass(frozen=True)
class DoorCourse:
    """One trap door over time; 0 is shut."""

    name: str
    stop_deg: float
    angle_deg: Series


@dataclass(frozen=True)
class PickupCourse:
    """The pickup over time."""

    compartment: str | None
    cover_m: Gaps
    """Oil over the rim's highest point less the draw-down height; below 0 it takes air"""
    air_fraction: Gaps


@dataclass(frozen=True)
class PumpCourse:
    """The pump over time."""

    flow_m3_s: Series
    """All that it draws, oil and air"""
    inlet_pa: Gaps
    """Absolute, at the pump where the suction line is known, else at the pickup's mouth"""
    pressure_pa: Gaps
    """Gauge, in the gallery, where the job gives a reading; air counts as lost"""


@dataclass(frozen=True)
class ErrorReport:
    """How far the numbers of a run can be trusted as numbers."""

    mass: float
    """Oil lost or won over the run, of the fill"""
    tolerance_m: float
    """Allowed error of a surface's height in one step"""
    level_table_m: float
    """Largest difference of the tabulated levels from exact ones, as sampled"""
    worst_step_m: float
    """Largest error of an accepted step as the integrator estimates it"""
    steps: int
    rejected: int


@dataclass(frozen=True)
class DriveSummary:
    """A run in numbers."""

    duration_s: float
    first_air_s: float | None
    """None: it never takes air"""
    aerated_s: float
    """Time with any air at the pickup"""
    longest_dry_s: float
    """Longest time on end with any air at the pickup"""
    air_drawn_m3: float
    least_cover_m: float | None
    least_cover_s: float | None
    least_inlet_pa: float | None
    least_inlet_s: float | None
    least_pressure_pa: float | None
    most_retained_m3: float
    largest_g: float
    mass_error: float
    """As `error.mass`"""


@dataclass(frozen=True)
class DriveResult:
    """One manoeuvre, from a settled start."""

    job: str
    revision: str
    input_hash: str
    code_version: str
    units: str
    manoeuvre: str
    kind: str
    temperature_k: float
    doors_are: Doors
    time_s: Series
    accel_g: tuple[Triple, ...]
    """Of the car: forward, left, up"""
    rpm: Gaps
    speed_m_s: Gaps
    compartments: tuple[CompartmentCourse, ...]
    doors: tuple[DoorCourse, ...]
    pickup: PickupCourse
    pump: PumpCourse
    retained_m3: Series
    summary: DriveSummary
    error: ErrorReport
    requirements: tuple[Requirement, ...]
    assumptions: tuple[str, ...]
    findings: tuple[Finding, ...] = field(default=())
    spans: tuple[tuple[str, float, float], ...] = field(default=())
    """Named parts of the manoeuvre, start and end [s]"""
    chances: "tuple[Chance, ...]" = field(default=())

    def as_json(self) -> dict[str, Any]:
        """Plain dict of the whole result, SI keys."""
        return asdict(self)


@dataclass(frozen=True)
class HoldTimes:
    """How long the pickup stays covered from a settled start, for one state of the doors."""

    doors: Doors
    time_s: tuple[tuple[tuple[float | None, ...], ...], ...]
    """[rpm][direction][g]; None: covered to the end of the look, `horizon_s`"""


@dataclass(frozen=True)
class Asymmetry:
    """Left against right at one rpm."""

    rpm: float
    doors: Doors
    left_g: float
    right_g: float
    """Largest g looked at that holds for `hold_time_s`, and every smaller one too"""


@dataclass(frozen=True)
class HoldLimit:
    """How much g is held at one rpm, each way."""

    rpm: float
    doors: Doors
    left_g: float
    right_g: float
    brake_g: float
    accelerate_g: float
    """As in `Asymmetry`; 0 where not even the smallest looked at holds"""


@dataclass(frozen=True)
class HoldMapResult:
    """Four maps of the time to first air: doors working, stuck open, stuck shut, no baffles."""

    job: str
    revision: str
    input_hash: str
    code_version: str
    units: str
    temperature_k: float
    directions_deg: Series
    magnitudes_g: Series
    rpm: Series
    horizon_s: float
    hold_time_s: float
    maps: tuple[HoldTimes, ...]
    asymmetries: tuple[Asymmetry, ...]
    error: ErrorReport
    assumptions: tuple[str, ...]
    findings: tuple[Finding, ...] = field(default=())
    limits: tuple[HoldLimit, ...] = field(default=())

    def as_json(self) -> dict[str, Any]:
        """Plain dict of the whole result, SI keys."""
        return asdict(self)


@dataclass(frozen=True)
class Chance:
    """How often a requirement fails when what is uncertain is drawn at random."""

    requirement: str
    fails: float
    """Share of the samples"""
    low: float
    high: float
    """95 % interval of that share, from the number of samples"""
    samples: int
    seed: int
    drawn: tuple[str, ...]
    """What was varied, and how far"""
