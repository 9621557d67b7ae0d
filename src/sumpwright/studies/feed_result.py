# SPDX-License-Identifier: Apache-2.0
"""Whether the pump gets oil, cold and hot: frozen, SI, ready for JSON, as in result.py.

A table has a row for each of `temperature_k` and a column for each of `rpm`. Pressures are
absolute. A pressure below zero means that the pump cannot draw that flow at all.
"""

from dataclasses import asdict, dataclass, field
from typing import TYPE_CHECKING, Any, Literal

from sumpwright.errors import Finding

if TYPE_CHECKING:  # which holds a feed itself
    from sumpwright.studies.result import Requirement, Verdict

Row = tuple[float, ...]
Table = tuple[Row, ...]
Regime = Literal["at rest", "laminar", "between", "turbulent"]
LOSSES = ("screen", "mouth", "friction", "bends", "steps", "motion")
"""Items of a budget that take pressure away; `head` gives or takes."""


@dataclass(frozen=True)
class FeedPoint:
    """Where the pressure goes at one temperature and one engine speed."""

    temperature_k: float
    rpm: float
    flow_m3_s: float
    """Through the pickup"""
    viscosity_m2_s: float
    density_kg_m3: float
    ambient_pa: float
    """On the oil's surface"""
    head_pa: float
    """From the surface to the pump; negative where the pump is higher"""
    screen_pa: float
    mouth_pa: float
    friction_pa: float
    bends_pa: float
    steps_pa: float
    motion_pa: float
    """Held in the oil's speed at the pump"""
    inlet_pa: float
    """Left at the pump: ambient and head less all the rest"""
    needed_pa: float
    """What the inlet is held against here"""
    speed_m_s: float
    """Fastest in any tube"""
    reynolds: float
    """Of the narrowest tube"""
    regime: Regime
    face_speed_m_s: float | None
    """Over the screen's whole face; None without a screen"""
    surface_m: float
    """Height of the oil at rest, this much of it in the pan"""
    oil_m3: float
    """In the pan: the fill at this temperature less what the engine holds up"""
    cover_m: float | None
    """Oil over the rim's highest point; None without a pickup"""
    drawdown_m: float | None
    """Cover that the flow demands, swirl and viscosity left out"""
    film_m: float | None
    """What thick oil needs on top to run to the mouth; None where the mouth's gap is not known"""


@dataclass(frozen=True)
class AllowedSpeed:
    """Largest engine speed up to which the inlet keeps a pressure, over `temperature_k`."""

    needed_pa: float
    rpm: tuple[float | None, ...]
    """None: not even at the lowest speed looked at"""
    held_to_end: tuple[bool, ...]
    """True where it still keeps it at the highest speed looked at; `rpm` is then that"""
    coldest_k: float | None
    """Coldest at which it keeps it at the lowest speed: the coldest looked at, where it does
    there; None where not even hot"""
    full_speed_k: float | None
    """As `coldest_k`, at the highest speed"""


@dataclass(frozen=True)
class AltitudePoint:
    """The two judged points at another height above sea level, weather left out."""

    altitude_m: float
    ambient_pa: float
    hot_pa: float
    cold_pa: float | None


@dataclass(frozen=True)
class Feed:
    """What pressure is left at the pump's inlet of one pan, over temperature and engine speed."""

    name: str
    temperature_k: Row
    rpm: Row
    viscosity_m2_s: Row
    density_kg_m3: Row
    ambient_pa: float
    inlet_pa: Table
    head_pa: Table
    screen_pa: Table
    mouth_pa: Table
    friction_pa: Table
    bends_pa: Table
    steps_pa: Table
    motion_pa: Table
    flow_m3_s: Table
    speed_m_s: Table
    reynolds: Table
    face_speed_m_s: Table | None
    cover_m: Table | None
    """Oil over the rim less the draw-down height and the film head, as far as they are known"""
    continuous: AllowedSpeed
    """For as long as one likes: the hot limit"""
    short: AllowedSpeed
    """For a short time: the cold limit"""
    hot: FeedPoint
    """Hot, at the highest speed"""
    cold: FeedPoint | None
    """At `oil.cold`, at the cold speed; None where the oil is too thick to say"""
    worst: FeedPoint
    """Coldest that the short-time limit allows at the lowest speed, as fast as it allows there; hot
    where it allows nothing"""
    altitudes: tuple[AltitudePoint, ...]
    """Empty where the crankcase's own pressure is given"""
    cautions: tuple[str, ...]
    assumptions: tuple[str, ...]
    stock: "Feed | None" = None


@dataclass(frozen=True)
class FeedResult:
    """The feed with what the ledger makes of it."""

    job: str
    revision: str
    input_hash: str
    code_version: str
    units: str
    verdict: "Verdict"
    summary: str
    requirements: "tuple[Requirement, ...]"
    feed: Feed
    findings: tuple[Finding, ...] = field(default=())
    note: str | None = None

    def as_json(self) -> dict[str, Any]:
        """Plain dict of the whole result, SI keys."""
        return asdict(self)
