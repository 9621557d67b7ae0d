# SPDX-License-Identifier: Apache-2.0
"""The weld joint: sizes, metal, access, how it pulls; and both halves made ready for it."""

from dataclasses import dataclass
from typing import Any

import numpy as np

from sumpwright.errors import Finding, SolveError
from sumpwright.geometry.cad_joint import grooved, lipped, rebated
from sumpwright.geometry.cad_measure import mesh_of
from sumpwright.geometry.cad_split import Ring, Weighed, ring_at
from sumpwright.geometry.solid import shared_volume
from sumpwright.metal.weld import (
    Groove,
    deposit,
    longitudinal_shrinkage,
    pull,
    transverse_shrinkage,
)
from sumpwright.metal.weld_access import CONE, Access
from sumpwright.studies.halves_cut import THICK, MeshCut, section_area
from sumpwright.studies.halves_making import Making
from sumpwright.studies.halves_problem import thin_wall
from sumpwright.studies.halves_result import Joint

LEAST_GROOVE = 1e-4
"""m; less is none."""
CHORD = 5e-5
"""m; of the triangles by which it is seen whether the halves run into each other."""


@dataclass(frozen=True)
class JointSize:
    """What is taken out of the wall, and what is left."""

    groove: Groove
    root_face: float
    """Left at the thinnest place [m]"""


@dataclass(frozen=True, eq=False)
class Prepared:
    """Both halves, ready for welding where that could be modelled."""

    upper: Weighed
    lower: Weighed
    weld: float
    """Length of the outer outline, on the kernel's edges [m]"""
    modelled: bool
    findings: tuple[Finding, ...]


def joint_size(made: Making, cut: MeshCut) -> JointSize:
    """The joint's sizes; InputError where the wall is too thin for them."""
    split, wall = made.split, cut.wall
    thin = int(wall.argmin())
    least, at = float(wall[thin]), cut.points[0][thin]
    spot = float(at[0]), float(at[1])
    lip = split.lip
    taken = 0.0 if lip is None else lip.thickness + lip.clearance
    if taken >= least:
        raise thin_wall(made.loaded, "lip", taken, least, spot)
    depth = split.groove_depth
    if depth is None:
        depth = max(least - taken - split.root_face, 0.0)
    elif taken + depth >= least:
        key = "groove_depth"
        raise thin_wall(made.loaded, key, taken + depth, least, spot)
    depth = depth if depth >= LEAST_GROOVE else 0.0
    return JointSize(Groove(depth, split.groove_angle, split.gap), least - taken - depth)


def prepared(
    made: Making, upper: Weighed, lower: Weighed, height: float, size: JointSize
) -> Prepared:
    """Lip, rebate and groove in the solids; without them, and a note, where the kernel fails."""
    rings = ring_at(upper.solid, height), ring_at(lower.solid, height)
    either = rings[1] if rings[1] is not None else rings[0]
    weld = 0.0 if either is None else either.outer
    try:
        if rings[0] is None or rings[1] is None:
            raise SolveError("a face of the pan lies in the split")
        both = rings[0], rings[1]
        halves = _grooved((upper, lower), both, size.groove)
        halves = _stepped(made, halves, both)
        return Prepared(*halves, weld, True, ())
    except SolveError as err:
        return Prepared(upper, lower, weld, False, (_unprepared(str(err)),))


def _grooved(
    halves: tuple[Weighed, Weighed], rings: tuple[Ring, Ring], groove: Groove
) -> tuple[Weighed, Weighed]:
    if groove.depth == 0.0:
        return halves
    upper, lower = (
        grooved(half, ring, depth=groove.depth, leg=groove.leg)
        for half, ring in zip(halves, rings, strict=True)
    )
    return upper, lower


def _stepped(
    made: Making, halves: tuple[Weighed, Weighed], rings: tuple[Ring, Ring]
) -> tuple[Weighed, Weighed]:
    """The lip on one half, its rebate in the other."""
    lip = made.split.lip
    if lip is None:
        return halves
    own, other, way = (1, 0, 1.0) if lip.on == "lower" else (0, 1, -1.0)
    done = list(halves)
    done[own] = lipped(halves[own], rings[own], thickness=lip.thickness, tall=way * lip.height)
    wide, tall = lip.thickness + lip.clearance, way * (lip.height + lip.clearance)
    done[other] = rebated(halves[other], rings[other], thickness=wide, tall=tall)
    shared = shared_volume(*(mesh_of(half.solid, tolerance=CHORD) for half in done))
    if shared > CHORD * lip.height * rings[own].inner:
        raise SolveError("lip and rebate run into each other")
    return done[0], done[1]


def joint_of(
    made: Making, cut: MeshCut, size: JointSize, ready: Prepared | None, access: Access
) -> Joint:
    """All that is said of the joint."""
    groove = size.groove
    weld = cut.weld if ready is None or ready.weld == 0.0 else ready.weld
    metal = deposit(groove, weld)
    return Joint(
        height_m=cut.height,
        weld_m=weld,
        exact=ready is not None and ready.weld > 0.0,
        groove_depth_m=groove.depth,
        groove_angle=groove.angle,
        groove_leg_m=groove.leg,
        root_face_m=size.root_face,
        gap_m=groove.gap,
        modelled=ready is not None and ready.modelled,
        section_m2=groove.section,
        deposit_m3=metal,
        deposit_kg=metal * made.material.density,
        skim_m=made.split.skim,
        **_lip(made),
        **_wall(cut),
        **_access(access, cut),
        **_oil(made, cut),
        **_pull(made, groove, float(np.median(cut.wall))),
        **_work(made, weld),
    )


def _lip(made: Making) -> dict[str, Any]:
    lip = made.split.lip
    return {
        "lip_height_m": None if lip is None else lip.height,
        "lip_thickness_m": None if lip is None else lip.thickness,
        "lip_clearance_m": None if lip is None else lip.clearance,
        "lip_on": None if lip is None else lip.on,
    }


def _wall(cut: MeshCut) -> dict[str, Any]:
    wall, middle = cut.wall, float(np.median(cut.wall))
    thin = int(wall.argmin())
    return {
        "wall_least_m": float(wall[thin]),
        "wall_least_at_m": _flat(cut.points[0][thin]),
        "wall_middle_m": middle,
        "thick_m": cut.weld * float((wall > THICK * middle).mean()),
    }


def _access(access: Access, cut: MeshCut) -> dict[str, Any]:
    tight = int(access.cone.argmin())
    near = float(access.near[tight])
    return {
        "cone": float(access.cone[tight]),
        "cone_at_m": _flat(access.points[tight]),
        "cone_needed": float(CONE),
        "tight_m": cut.weld * float((access.cone < CONE).mean()),
        "overhang_m": near if np.isfinite(near) else None,
    }


def _oil(made: Making, cut: MeshCut) -> dict[str, Any]:
    over = made.over_weld(cut)
    return {
        "oil_over_m": None if over is None else float(over.max()),
        "wet": None if over is None else float((over > 0.0).mean()),
    }


def _pull(made: Making, groove: Groove, wall: float) -> dict[str, Any]:
    """Shrinkage as of steel, times what the metal pulls over that."""
    draw = transverse_shrinkage(groove.section, wall, groove.gap)
    x, y = (_shortening(made, groove, axis) for axis in (0, 1))
    least, most = pull(made.material.family)
    names = {"draw_m": draw, "shorten_x_m": x, "shorten_y_m": y}
    return {name: (least * value, most * value) for name, value in names.items()}


def _work(made: Making, weld: float) -> dict[str, Any]:
    shop = made.loaded.job.shop
    prices = None if shop is None else shop.prices
    time = weld / prices.weld_rate if prices is not None and prices.weld_rate else None
    hour = None if prices is None else prices.weld_hour
    cost = None if time is None or hour is None else time / 3600.0 * hour
    return {"welding_s": time, "welding_cost": cost}


def _shortening(made: Making, groove: Groove, axis: int) -> float:
    """How much two runs of weld shorten the pan along x (0) or y (1), steel [m]."""
    bounds = made.metal.mesh.bounds
    middle = float(bounds[:, axis].mean())
    metal = section_area(made.metal.mesh, axis, middle)
    length = float(np.ptp(bounds[:, axis]))
    return longitudinal_shrinkage(length, 2.0 * groove.section, metal)


def _flat(point: Any) -> tuple[float, float]:
    return float(point[0]), float(point[1])


def _unprepared(why: str) -> Finding:
    return Finding(
        code="HALF-511",
        place="the weld joint",
        found=f"{why}; the halves are written without lip and groove",
        repair="",
        severity="note",
    )
