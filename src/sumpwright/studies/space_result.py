# SPDX-License-Identifier: Apache-2.0
"""What `space` answers: frozen, SI, ready for JSON. Places are in the engine frame."""

from dataclasses import asdict, dataclass
from typing import Any

from sumpwright.errors import Finding
from sumpwright.studies.result import Triple, Verdict

SIDES = ("both", "left", "right", "front", "rear")


@dataclass(frozen=True)
class LitreTable:
    """What the space holds down to a depth, grown so far beyond the opening and no further."""

    depths_m: tuple[float, ...]
    growths_m: tuple[float, ...]
    volumes_m3: dict[str, tuple[tuple[float, ...], ...]]
    """By side: an entry for each growth; both (left and right) has a row for each depth, the others
    one for the last"""

    def at(self, side: str, growth: float) -> float:
        """Down to the last depth."""
        return self.volumes_m3[side][-1][self.growths_m.index(growth)]


@dataclass(frozen=True)
class Taken:
    """What one obstacle alone takes of the room that rail, sides and ground leave."""

    obstacle: str
    needed_m: float | None
    """None where the job turned its requirement off: only not to run into it"""
    lost_m3: float
    """Over all cases of movement"""
    at_rest_m3: float
    worst_case: str
    """The case that alone takes most"""
    worst_m3: float
    middle_m: Triple | None
    """Of what is lost"""


@dataclass(frozen=True)
class Lowest:
    """A limit on how low the pan may be, over the ground."""

    name: str
    height_m: float
    binds: bool


@dataclass(frozen=True)
class StickOut:
    """Where the present new pan leaves the space."""

    volume_m3: float
    by_m: float
    """How far at most"""
    at_m: Triple
    """Where that is"""


@dataclass(frozen=True)
class PanUse:
    """The present new pan's inside against the space."""

    name: str
    volume_m3: float
    inside_m3: float
    """In the space"""
    share: float
    """Of the space that it uses"""
    out: tuple[StickOut, ...]


@dataclass(frozen=True)
class FillFits:
    """Whether the job's fill fits."""

    fill_m3: float
    """Cold, at the full mark"""
    most_m3: float
    """Cold, whose hot surface keeps the crank gap and stays under the rail"""
    by: str
    fits: bool


@dataclass(frozen=True)
class SpaceResult:
    """The free space below the rail, with what limits it."""

    job: str
    revision: str
    input_hash: str
    code_version: str
    units: str
    verdict: Verdict
    summary: str
    opening: str
    """Where the opening is from"""
    wall_m: float
    wall_from: str
    radius_m: float
    radius_from: str
    flange_m: float
    left_m: float
    right_m: float
    front_m: float
    rear_m: float
    inside_m3: float
    error_m3: float
    """Of `inside_m3`, at most: its change from a grid of twice the step"""
    outside_m3: float
    """With the wall round it"""
    deepest_m: float
    """Below the rail"""
    lowest: tuple[Lowest, ...]
    step_m: float
    curve_depth_m: tuple[float, ...]
    curve_m3: tuple[float, ...]
    table: LitreTable
    taken: tuple[Taken, ...]
    pan: PanUse
    fill: FillFits | None
    sentences: tuple[str, ...] = ()
    assumptions: tuple[str, ...] = ()
    findings: tuple[Finding, ...] = ()
    note: str | None = None

    def as_json(self) -> dict[str, Any]:
        """Plain dict of the whole result, SI keys."""
        return asdict(self)
