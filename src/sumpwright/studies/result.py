# SPDX-License-Identifier: Apache-2.0
"""What the studies answer: frozen, SI, ready for JSON. Every face shows these same objects.

Heights are signed distances from the engine frame's origin (on the pan rail) along up, against
effective gravity; depths count from the cavity's lowest point. Places are in the car frame.
`stock` holds the same answer for the stock pan, where there is one.
"""

from dataclasses import asdict, dataclass, field
from typing import Any, Literal

from sumpwright.errors import Finding
from sumpwright.studies.feed_result import Feed
from sumpwright.studies.motion_hold_result import MotionHold

Triple = tuple[float, float, float]
Verdict = Literal["met", "not met", "not judged"]
State = Literal["met", "not met", "not judged"]


@dataclass(frozen=True)
class FillCurve:
    """Volume over depth at the installed attitude, level ground."""

    depth_m: tuple[float, ...]
    volume_m3: tuple[float, ...]
    surface_area_m2: tuple[float, ...]


@dataclass(frozen=True)
class Graduation:
    """A line on the dipstick."""

    volume_m3: float
    along_m: float
    """From the dipstick's start."""


@dataclass(frozen=True)
class DipstickScale:
    """Where the oil wets the stick on level ground, cold."""

    full_along_m: float
    low_along_m: float | None
    low_end_along_m: float
    """Where the stick meets the cavity's floor, or its tip: no reading beyond."""
    graduations: tuple[Graduation, ...]


@dataclass(frozen=True)
class Parked:
    """The full fill, cold, with one side of the car uphill."""

    side: str
    """What points uphill: ``nose``, ``left side``, ``tail and right side``."""
    direction_deg: float
    slope_deg: float
    height_m: float
    crank_gap_m: float | None
    dipstick_along_m: float | None
    dipstick_reads_m3: float | None
    """What the scale, made for level ground, would say."""


@dataclass(frozen=True)
class PanFill:
    """What the pan holds and how high it stands."""

    name: str
    cavity_m3: float
    lowest_m: float
    curve: FillCurve
    full_m3: float
    full_height_m: float
    full_depth_m: float
    low_m3: float | None
    low_height_m: float | None
    low_depth_m: float | None
    service_fill_m3: float
    """Full mark plus the oil that never stands in the pan."""
    brim_m3: float
    """Volume at which the surface first reaches the rail."""
    brim_height_m: float
    usable_m3: float
    """Most oil, cold, whose hot surface keeps the crank gap asked for, or stays under the rail."""
    usable_by: str
    hot_m3: float
    hot_height_m: float
    hot_depth_m: float
    crank_gap_m: float | None
    """Hot, level ground."""
    expansion: float
    """Hot volume over cold volume."""
    dipstick: DipstickScale | None
    parked: tuple[Parked, ...]
    stock: "PanFill | None" = None


@dataclass(frozen=True)
class CaseGap:
    """The smallest gap in one case of engine movement; negative where the bodies overlap."""

    case: str
    gap_m: float
    on_pan_m: Triple
    on_obstacle_m: Triple


@dataclass(frozen=True)
class ObstacleGap:
    """One obstacle over all cases; the first case is the engine at rest."""

    obstacle: str
    needed_m: float | None
    cases: tuple[CaseGap, ...]
    worst: CaseGap


@dataclass(frozen=True)
class GuardLine:
    """The pan's lowest point against the crossmember's."""

    obstacle: str
    obstacle_lowest_m: float
    pan_lowest_m: float
    case: str
    margin_m: float
    """Positive: the crossmember hangs lower, as it should."""


@dataclass(frozen=True)
class Clearance:
    """Room round the pan's outside."""

    name: str
    obstacles: tuple[ObstacleGap, ...]
    lowest_point_m: Triple
    """At rest."""
    guard: GuardLine | None
    ground_m: float | None
    """Lowest over all cases of movement, at ride height."""
    ground_at_bump_m: float | None
    stock: "Clearance | None" = None


@dataclass(frozen=True)
class OilApart:
    """Oil in pools that do not touch the pickup's [m^3], at rest and at each limit.

    One level is taken for all of them, though nothing holds them level.
    """

    at_rest_m3: float = 0.0
    left_m3: float = 0.0
    right_m3: float = 0.0
    brake_m3: float = 0.0
    accelerate_m3: float = 0.0
    slope_up_m3: float = 0.0
    slope_down_m3: float = 0.0
    slope_left_m3: float = 0.0
    slope_right_m3: float = 0.0
    low_at_rest_m3: float = 0.0


@dataclass(frozen=True)
class PanHold:
    """At what steady acceleration, and which way, the pickup uncovers."""

    name: str
    rpm: float | None
    oil_m3: float
    """Really in the pan: hot fill less the oil retained up in the engine at `rpm`."""
    flow_m3_s: float
    directions_deg: tuple[float, ...]
    limit_g: tuple[float, ...]
    held_to_end: tuple[bool, ...]
    """True where the pickup was still covered at the largest g looked at; limit_g is then that."""
    left_g: float
    right_g: float
    brake_g: float
    accelerate_g: float
    slope_up_deg: float
    slope_down_deg: float
    slope_left_deg: float
    """Left side uphill."""
    slope_right_deg: float
    magnitudes_g: tuple[float, ...]
    cover_m: tuple[tuple[float, ...], ...]
    """Oil over the rim's highest point less the draw-down height; one row per direction."""
    cover_at_rest_m: float
    drawdown_at_rest_m: float
    floor_gap_m: float | None
    """From the rim of a downward mouth to the floor; None for one that faces another way."""
    submergence_ratio: float | None
    """Oil over the rim at rest to the HI 9.8 submergence: a risk index, never a verdict."""
    crank_limit_g: tuple[float, ...] | None
    """Where the surface's plane first reaches the crank sweep."""
    rail_limit_g: tuple[float, ...]
    """Where oil first climbs to the rail."""
    low_mark: "LowMark | None"
    apart: OilApart = field(default_factory=OilApart)
    oil_left_out_m3: float = 0.0
    """Oil beyond what the pan and the crankcase given hold; not in `oil_m3`."""
    stock: "PanHold | None" = None


@dataclass(frozen=True)
class LowMark:
    """The same limits with the oil at the low mark."""

    oil_m3: float
    left_g: float
    right_g: float
    brake_g: float
    accelerate_g: float


@dataclass(frozen=True)
class Requirement:
    """One line of the ledger."""

    id: str
    statement: str
    limit: float | None
    value: float | None
    margin: float | None
    """Positive is to the good."""
    unit: str
    kind: str
    """How to show it: a key of units.SYSTEMS."""
    source: str
    state: State
    formula: str
    reason: str
    """What it turns on: the worst case, or why it is not judged."""
    at_most: bool = False
    """The value is to stay under the limit, not over it."""


@dataclass(frozen=True)
class CheckResult:
    """The verdict with its evidence."""

    job: str
    revision: str
    input_hash: str
    code_version: str
    units: str
    verdict: Verdict
    """``not judged`` where no requirement could be."""
    summary: str
    requirements: tuple[Requirement, ...]
    fill: PanFill
    clearance: Clearance | None
    hold: PanHold | None
    assumptions: tuple[str, ...]
    findings: tuple[Finding, ...] = field(default=())
    note: str | None = None
    feed: Feed | None = None
    motion: MotionHold | None = None
    """None where the job has no suction line, or lacks what it needs."""

    def as_json(self) -> dict[str, Any]:
        """Plain dict of the whole result, SI keys."""
        return asdict(self)


@dataclass(frozen=True)
class LevelReading:
    """A plane liquid surface in a body."""

    volume_m3: float
    height_m: float
    surface_area_m2: float
    centroid_m: Triple | None
    """None where there is no liquid."""


@dataclass(frozen=True)
class MeasureResult:
    """What one geometry file holds."""

    file: str
    unit: str
    volume_m3: float
    area_m2: float
    bounds_m: tuple[Triple, Triple]
    watertight: bool
    triangles: int
    bodies: int
    findings: tuple[Finding, ...]
    level: LevelReading | None

    def as_json(self) -> dict[str, Any]:
        """Plain dict of the whole result, SI keys."""
        return asdict(self)
