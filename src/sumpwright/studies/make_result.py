# SPDX-License-Identifier: Apache-2.0
"""What goes into a pack: everything that the shop makes, buys and inspects. SI."""

from dataclasses import asdict, dataclass
from typing import TYPE_CHECKING, Any, Literal

from sumpwright.errors import Finding, Problem
from sumpwright.studies.part import Part

if TYPE_CHECKING:
    from sumpwright.job.load import LoadedJob
    from sumpwright.studies.bodies import Bodies
    from sumpwright.studies.halves import Halved
    from sumpwright.studies.housing_result import HousingResult
    from sumpwright.studies.make_whole import WholeBody
    from sumpwright.studies.prints_result import PrintsResult
    from sumpwright.studies.rail_result import RailResult
    from sumpwright.studies.result import CheckResult
    from sumpwright.studies.sheet_part_result import SheetsResult


@dataclass(frozen=True)
class NotMade:
    """A part of the pack that is not there."""

    what: str
    why: str
    key: str
    """Of the job file: what would bring it"""


@dataclass(frozen=True)
class BoltTurn:
    """One bolt in the order of tightening."""

    turn: int
    name: str
    at_m: tuple[float, float]


@dataclass(frozen=True)
class LeakTest:
    """A leak test by pressure decay, with the numbers of this pan."""

    volume_m3: float
    """Inside of the pan to the rail, closed by a plate, with hose and cover where given"""
    pressure_pa: float
    """Over the air outside"""
    settle_s: float
    time_s: float
    limit_m3_s: float
    """Of air, at 0 degC and 1 atm"""
    given: bool
    """The job's own limit; otherwise what stands for a drop of hot oil"""
    drop_pa: float
    """At the limit, temperature steady"""
    resolution_pa: float
    """Of the gauge: a tenth of that"""
    drift_pa: float
    """What a tenth of a kelvin looks like"""
    viscosity_pa_s: float | None
    """Of the hot oil; None where the limit is given"""
    head_pa: float | None
    """Of the hot oil over the deepest place of the pan"""


@dataclass(frozen=True)
class WeldLine:
    """One weld."""

    kind: Literal["split", "boss", "sheet"]
    where: str
    length_m: float
    thickness_m: float
    """Of the thinner metal"""
    metal: str
    prepared: str
    note: str
    name: str = ""


@dataclass(frozen=True)
class BoltPitch:
    """How far the flange's bolts stand apart, against its thickness."""

    bolt: str
    flange_m: float
    widest_m: float
    between: tuple[str, str]
    """Names of the holes that stand farthest apart"""
    least_m: float
    most_m: dict[str, float]
    """By kind of gasket: the most that a guide for pressure vessels allows"""
    grows: float
    """By what a flange's moment counts larger where bolts stand so wide"""
    usual_m: tuple[float, float] | None
    """Usual for the bolt; None where nothing is"""


@dataclass(frozen=True)
class Measure:
    """One line of the inspection sheet: what is asked, how it is found."""

    what: str
    asked: str
    how: str


@dataclass(frozen=True, eq=False)
class Made:
    """All answers that the pack is written from."""

    loaded: "LoadedJob"
    bodies: "Bodies"
    check: "CheckResult"
    part_hash: str
    rail: "RailResult | None"
    halved: "Halved | None"
    housing: "HousingResult | None"
    sheets: "SheetsResult | None"
    prints: "PrintsResult | None"
    whole: "tuple[WholeBody, ...]"
    parts: tuple[Part, ...]
    bolts: tuple[BoltTurn, ...]
    leak: LeakTest
    welds: tuple[WeldLine, ...]
    weld_notes: tuple[str, ...]
    """What is joined otherwise"""
    pitch: BoltPitch | None
    measures: tuple[Measure, ...]
    not_made: tuple[NotMade, ...]
    against: tuple[Problem, ...]
    """What speaks against making it; empty, or the person made it all the same"""
    findings: tuple[Finding, ...]

    @property
    def currency(self) -> str:
        """Of all prices."""
        shop = self.loaded.job.shop
        return "EUR" if shop is None else shop.prices.currency


@dataclass(frozen=True)
class PackedFile:
    """A file of the pack."""

    path: str
    size: int
    sha256: str


@dataclass(frozen=True)
class Pack:
    """What was written: the manifest says the same."""

    job: str
    revision: str
    part_hash: str
    input_hash: str
    code_version: str
    made: str
    verdict: str
    """``met``; ``not met`` where it was made although something speaks against it"""
    against: tuple[str, ...]
    not_made: tuple[NotMade, ...]
    warnings: tuple[str, ...]
    files: tuple[PackedFile, ...]

    def as_json(self) -> dict[str, Any]:
        """Plain dict of it, SI."""
        return {"schema": 1, **asdict(self)}
