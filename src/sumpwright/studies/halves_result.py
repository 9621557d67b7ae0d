# SPDX-License-Identifier: Apache-2.0
"""A pan in two halves: frozen, SI, ready for JSON, as in result.py. Engine frame."""

from dataclasses import asdict, dataclass
from typing import Any, Literal

from sumpwright.errors import Finding
from sumpwright.studies.part import Part
from sumpwright.studies.size_words import sizes, sizes_to_buy
from sumpwright.units import shown

Cause = Literal["undercut", "too deep", "corner", "floor"]
CAUSES: tuple[Cause, ...] = ("undercut", "too deep", "corner", "floor")
CAUSE_WORDS = {
    "undercut": "seen in no set-up",
    "too deep": "the holder is in the way",
    "corner": "in an upright corner tighter than the cutters",
    "floor": "at a floor's edge, or where no cutter goes in",
}
Spot = tuple[float, float, float]


@dataclass(frozen=True)
class CutterReach:
    """What one cutter reaches of a half, from both sides."""

    name: str
    reached_m2: float
    missed_m2: float
    """Of what both sides see, left by it"""


@dataclass(frozen=True)
class MissedPlace:
    """A place that no cutter reaches."""

    cause: Cause
    area_m2: float
    at_m: Spot
    """Its middle"""


@dataclass(frozen=True)
class Reach:
    """What the shop's cutters reach of a half, and what they do not."""

    area_m2: float
    """Of the half's whole skin"""
    cell_m: float
    """Of the grid"""
    error_m: float
    """Metal left thinner than this is not told apart"""
    missed_m2: float
    """That no cutter reaches, all causes"""
    causes_m2: dict[Cause, float]
    cutters: tuple[CutterReach, ...]
    places: tuple[MissedPlace, ...]
    """The largest first"""
    spots: tuple[tuple[float, float, float, int], ...]
    """x, y, z [m] and number in `CAUSES` of points that are not reached"""
    spot_m2: float
    """Area that each spot stands for"""


@dataclass(frozen=True)
class OnMachine:
    """A half's blank on the milling machine, along its x, y and z."""

    needed_m: Spot
    has_m: Spot
    turned: bool
    """It lies across the table"""
    fits: bool


@dataclass(frozen=True)
class FromStock:
    """What a half is cut from."""

    blank_m: Spot
    """Box of the half and the allowance round it: x, y, height"""
    block: str | None
    """Name of the block on the shelf; None where none is large enough"""
    block_m: Spot | None
    shared: bool
    """Both halves come out of that block"""
    buy_m: Spot | None
    """Sides of the smallest block to be bought, where none is there"""
    mass_in_kg: float
    """Of the block, its share of it, or the one to be bought"""
    cost: float | None
    """Of that; None where the block has no price"""


@dataclass(frozen=True)
class Half:
    """One half, ready for welding."""

    key: str
    name: str
    volume_m3: float
    prepared: bool
    """Lip, rebate and groove are in that volume"""
    area_m2: float
    bounds_m: tuple[Spot, Spot]
    mass_kg: float
    chips_kg: float
    """Mass in less mass out"""
    stock: FromStock
    machine: OnMachine
    reach: Reach
    milling_s: float | None
    """From the shop's average removal rate alone; None where the job has none"""
    cost: float | None
    """Stock and milling, as far as the job has prices for both; else None"""


@dataclass(frozen=True)
class Joint:
    """The weld joint."""

    height_m: float
    weld_m: float
    """Length: the outer outline at the split"""
    exact: bool
    """Measured on the CAD kernel's edges, not on chords"""
    wall_least_m: float
    wall_least_at_m: tuple[float, float]
    wall_middle_m: float
    """Half of the outline has a thicker wall"""
    thick_m: float
    """Length of outline where the wall is over twice as thick: a boss, or a floor"""
    groove_depth_m: float
    groove_angle: float
    groove_leg_m: float
    root_face_m: float
    """Left of the wall at its thinnest"""
    gap_m: float
    lip_height_m: float | None
    lip_thickness_m: float | None
    lip_clearance_m: float | None
    lip_on: str | None
    modelled: bool
    """Lip, rebate and groove are in the solids"""
    section_m2: float
    deposit_m3: float
    deposit_kg: float
    cone: float
    """rad; half angle of the torch's free cone where it is least"""
    cone_at_m: tuple[float, float]
    cone_needed: float
    tight_m: float
    """Length of weld with less than that"""
    overhang_m: float | None
    """From the weld, there, to the metal that leaves the torch least room above; None: nothing"""
    oil_over_m: float | None
    """Most oil over the weld at rest, hot, full; negative: the weld is dry. None: fill not known"""
    wet: float | None
    """Share of the weld below the oil"""
    draw_m: tuple[float, float]
    """Shrinkage across the weld, which draws the flange down: least and most"""
    shorten_x_m: tuple[float, float]
    """Shrinkage along, over the pan's length"""
    shorten_y_m: tuple[float, float]
    skim_m: float
    """Left on the flange for after welding"""
    welding_s: float | None
    welding_cost: float | None


@dataclass(frozen=True)
class Candidate:
    """A height looked at for the split, on a coarser grid than the answer."""

    height_m: float
    ring: bool
    """Two halves, and one plain ring between them"""
    machine: bool
    """Both halves fit the machine"""
    missed_m2: float
    """Of both halves, by all cutters together"""
    bought: int
    """Halves for which no block is on the shelf"""
    weld_m: float
    cone: float
    """As in the joint; rad"""
    wall_least_m: float
    wet: float | None
    mass_in_kg: float
    chosen: bool = False


@dataclass(frozen=True)
class HalvesResult:
    """The two halves of a pan, judged."""

    job: str
    revision: str
    input_hash: str
    code_version: str
    units: str
    verdict: Literal["met", "not met"]
    lacks: tuple[str, ...]
    """Why not met; empty where it is"""
    advice: tuple[str, ...]
    """Ways out of what lacks"""
    material: str
    height_m: float
    proposed: bool
    """The job left the height open"""
    why: str
    candidates: tuple[Candidate, ...]
    """Empty where the job gives the height"""
    body_m3: float
    """Of the pan's metal before it is parted"""
    upper: Half
    lower: Half
    joint: Joint
    sealing: tuple[str, ...]
    """Order of work on the sealing faces"""
    cautions: tuple[str, ...]
    assumptions: tuple[str, ...]
    findings: tuple[Finding, ...]
    currency: str
    made_from: Literal["solids", "meshes"]

    def as_json(self) -> dict[str, Any]:
        """Plain dict of the whole result, SI keys."""
        return asdict(self)

    def parts(self) -> tuple[Part, ...]:
        """Both halves for the parts list, and the welding that makes them one."""
        long = shown(self.joint.weld_m, "length", self.units, finer=-1)
        welding = Part(
            key="welding",
            name="welding both halves",
            how="welded",
            material=self.material,
            cost=self.joint.welding_cost,
            note=f"{long} all round at the split",
        )
        return (*(_part(half, self) for half in (self.upper, self.lower)), welding)


def _part(half: Half, result: HalvesResult) -> Part:
    ending = "step" if result.made_from == "solids" else "stl"
    return Part(
        key=half.key,
        name=half.name,
        how="machined",
        material=result.material,
        mass=half.mass_kg,
        stock=stock_words(half.stock, result.units),
        stock_mass=half.stock.mass_in_kg,
        cost=half.cost,
        files=(f"{half.key}.{ending}",),
        note="flange skimmed and drilled after welding" if half.key == "upper-half" else "",
    )


def stock_words(stock: FromStock, units: str = "metric") -> str:
    """``plate 40 (450 x 350 x 40 mm)``, or what has to be bought."""
    size = stock.buy_m if stock.block_m is None else stock.block_m
    assert size is not None, "a half is cut from a block or from one to be bought"
    if stock.block is None:
        return f"a block to be bought, at least {sizes_to_buy(size, units)}"
    shared = ", shared by both halves" if stock.shared else ""
    return f"{stock.block} ({sizes(size, units)}{shared})"
