# SPDX-License-Identifier: Apache-2.0
"""A whole CheckResult of the invented job, with the hold from the sample's own shapes."""

from dataclasses import replace
from functools import cache
from typing import Any

import numpy as np

from sumpwright.errors import Finding
from sumpwright.geometry.level import level_body, levels_of, volume_below
from sumpwright.geometry.mesh import Mesh
from sumpwright.studies.result import (
    CaseGap,
    CheckResult,
    Clearance,
    DipstickScale,
    FillCurve,
    Graduation,
    GuardLine,
    LowMark,
    ObstacleGap,
    PanFill,
    PanHold,
    Parked,
    Requirement,
)
from tests.report.sample import (
    DIRECTIONS,
    END,
    NEW_RIM,
    OIL,
    POSE,
    STOCK_RIM,
    limit_of,
    sample_scene,
)
from tests.report.sample_feed import sample_feed

UP = POSE.direction_to_engine(np.array([0.0, 0.0, 1.0]))


def _curve(cavity: Mesh, body: Any) -> FillCurve:
    low = float(cavity.bounds[0, 2])
    height = np.linspace(low, 0.0, 60)
    volume = volume_below(body, np.broadcast_to(UP, (60, 3)), height)
    area = np.gradient(volume, height)
    return FillCurve(tuple((height - low).tolist()), tuple(volume.tolist()), tuple(area.tolist()))


def _fill(name: str, cavity: Mesh, full: float, *, stick: bool) -> PanFill:
    body, low = level_body(cavity), float(cavity.bounds[0, 2])
    volumes = [full, full - 0.001, full * 1.056]
    full_h, low_h, hot_h = (float(levels_of(body, UP, v).height[0]) for v in volumes)
    marks = tuple(Graduation(full - 5e-4 * k, 0.375 + 0.0062 * k) for k in range(4))
    scale = DipstickScale(0.3750, 0.3874, 0.4014, marks) if stick else None
    parked = tuple(
        Parked(side, angle, 11.0, full_h + 0.004, 0.012, 0.371 + 0.002 * k, full - 2e-4 * k)
        for k, (side, angle) in enumerate(
            [("nose", 0.0), ("left", 90.0), ("tail", 180.0), ("right", 270.0)]
        )
    )
    return PanFill(
        name=name, cavity_m3=body.volume, lowest_m=low, curve=_curve(cavity, body),
        full_m3=full, full_height_m=full_h, full_depth_m=full_h - low,
        low_m3=full - 0.001, low_height_m=low_h, low_depth_m=low_h - low,
        service_fill_m3=full + 0.0005, brim_m3=body.volume * 0.985, brim_height_m=-0.001,
        usable_m3=full * 1.04, usable_by="crank gap of 20 mm, hot", hot_m3=full * 1.056,
        hot_height_m=hot_h, hot_depth_m=hot_h - low, crank_gap_m=-0.016 - hot_h, expansion=1.056,
        dipstick=scale, parked=parked if stick else (),
    )  # fmt: skip


def _hold(name: str, cavity: Mesh, rim: np.ndarray, oil: float) -> PanHold:
    body, directions = level_body(cavity), np.arange(0.0, 360.0, 15.0)
    limits = [limit_of(body, rim, d, oil) for d in directions]
    ways = {w: limits[round(d / 15.0)] for w, d in DIRECTIONS.items()}
    low = {f"{w}_g": limit_of(body, rim, d, oil - 0.001) for w, d in DIRECTIONS.items()}
    grid = np.linspace(0.0, END, 17)
    return PanHold(
        name=name, rpm=6200.0, oil_m3=oil, flow_m3_s=7e-4,
        directions_deg=tuple(directions.tolist()), limit_g=tuple(limits),
        held_to_end=tuple(v >= END for v in limits),
        left_g=ways["left"], right_g=ways["right"], brake_g=ways["brake"],
        accelerate_g=ways["accelerate"], slope_up_deg=31.0, slope_down_deg=26.4,
        slope_left_deg=29.8, slope_right_deg=30.6, magnitudes_g=tuple(grid.tolist()),
        cover_m=tuple((0.0,) * 17 for _ in directions), cover_at_rest_m=0.021,
        drawdown_at_rest_m=0.009, floor_gap_m=0.010, submergence_ratio=0.31,
        crank_limit_g=tuple([0.9] * 24),
        rail_limit_g=tuple((0.75 + 0.2 * np.cos(np.radians(directions)) ** 2).tolist()),
        low_mark=LowMark(oil - 0.001, **low),
    )  # fmt: skip


def _clearance(name: str) -> Clearance:
    pan, body = (1.8258, -0.004, 0.2008), (1.8353, -0.004, 0.165)
    rest = CaseGap("engine at rest", 0.0143, pan, body)
    roll = CaseGap("roll left 2°", 0.0062, (1.66, 0.182, 0.199), (1.66, 0.1905, 0.199))
    drop = CaseGap("mounts sagged 4 mm", 0.0117, pan, body)
    beam = ObstacleGap("Crossmember", 0.010, (rest, roll, drop), roll)
    near = CaseGap("engine at rest", 0.0206, (1.452, 0.03, 0.141), (1.394, 0.03, 0.155))
    far = tuple(replace(near, case=c.case) for c in (roll, drop))
    rack = ObstacleGap("Steering rack", 0.010, (near, *far), near)
    return Clearance(
        name=name, obstacles=(beam, rack), lowest_point_m=(1.47, 0.1, 0.1278),
        guard=GuardLine("Crossmember", 0.118, 0.1238, "mounts sagged 4 mm", 0.0058),
        ground_m=0.1238, ground_at_bump_m=0.0588,
    )  # fmt: skip


def _line(key: str, statement: str, limit: Any, value: Any, kind: str, **more: Any) -> Requirement:
    units = {"length": "m", "volume": "m^3", "angle": "deg", "acceleration": "g"}
    judged = value is not None and limit is not None
    margin = value - limit if judged else None
    state: Any = ("met" if value - limit >= 0.0 else "not met") if judged else "not judged"
    texts = {
        "source": "common practice, no source",
        "formula": "least over all cases",
        "reason": "",
    }
    return Requirement(
        id=key, statement=statement, limit=limit, value=value, margin=margin, unit=units[kind],
        kind=kind, state=state, **{**texts, **more},
    )  # fmt: skip


def _ledger(new: PanHold, stock: PanHold) -> tuple[Requirement, ...]:
    rows = [
        _line("capacity", "The pan holds at least as much as the stock pan", 0.0041, 0.00426,
              "volume", reason="up to the crank gap of 20 mm, hot", formula="volume below it"),
        _line("crank_gap", "Hot oil at rest stays below the crank sweep", 0.020, 0.0226, "length"),
        _line("clearance:Crossmember", "Gap to the crossmember", 0.010, 0.0062, "length",
              reason="roll left 2°"),
        _line("clearance:Steering rack", "Gap to the steering rack", 0.010, 0.0206, "length"),
        _line("guard", "The crossmember hangs lower than the pan", 0.0, 0.0058, "length",
              reason="mounts sagged 4 mm"),
        _line("ground", "Pan over the ground at ride height", 0.1, 0.1238, "length"),
        _line("ground_at_bump", "Pan over the ground at full bump", 0.04, 0.0588, "length"),
    ]  # fmt: skip
    for way, words in [("left", "in a left turn"), ("right", "in a right turn"),
                       ("brake", "under braking"), ("accelerate", "accelerating")]:  # fmt: skip
        limit, value = getattr(stock, f"{way}_g"), getattr(new, f"{way}_g")
        rows.append(_line(f"hold_{way}", f"Static hold {words}, as the stock pan", limit, value,
                          "acceleration", source="[DRAWDOWN] draw-down height"))  # fmt: skip
    rows.append(_line("slope_up", "Pickup covered, nose uphill", 17.0, 31.0, "angle"))
    rows.append(_line("slope_side", "Pickup covered, either side uphill", 11.0, 29.8, "angle"))
    for way, words, limit in [("left", "left turn", 1.2), ("brake", "braking", 1.1)]:
        rows.append(_line(f"target_{way}", f"Hold in motion, {words}", limit, None, "acceleration",
                          reason="needs baffles in motion"))  # fmt: skip
    return tuple(rows)


@cache
def sample_result() -> CheckResult:
    scene = sample_scene()
    assert scene.stock is not None
    new = _hold(scene.new.name, scene.new.cavity, NEW_RIM, OIL)
    stock = _hold("Stock pan", scene.stock.cavity, STOCK_RIM, OIL)
    fill = _fill(scene.new.name, scene.new.cavity, OIL, stick=True)
    rows = _ledger(new, stock)
    failed = sum(r.state == "not met" for r in rows)
    return CheckResult(
        job="Low pan for the Tarn six in the Otter coupé", revision="B",
        input_hash="9f2c4be17a60d3815c2e", code_version="0.1.0", units="metric",
        verdict="not met", summary=f"{failed} of {len(rows)} requirements are not met.",
        requirements=rows,
        fill=replace(fill, stock=_fill("Stock pan", scene.stock.cavity, OIL, stick=False)),
        clearance=replace(_clearance(scene.new.name), stock=_clearance("Stock pan")),
        hold=replace(new, stock=stock),
        assumptions=(
            "Oil stands still under a steady acceleration: no sloshing, no baffles, no doors.",
            "0.4 L of oil is up in the engine at 6200 rpm, as the job says.",
            "The pump draws 42 L/min at 6200 rpm; the pickup's floor bounds the flow on one side.",
        ),
        findings=(
            Finding("MESH-104", "new.step near x 112 mm", "two faces overlap", "", "note"),
        ),
        note="Kick-outs widened by 15 mm after the first fitting.", feed=sample_feed(),
    )  # fmt: skip


def bare_result() -> CheckResult:
    """The result of a job with a cavity and a fill only."""
    full = sample_result()
    fill = replace(
        full.fill, stock=None, dipstick=None, parked=(), low_m3=None, low_height_m=None,
        low_depth_m=None, crank_gap_m=None, usable_by="the pan rail, hot",
    )  # fmt: skip
    rows = tuple(
        replace(r, value=None, margin=None, state="not judged", reason="not in the job")
        for r in full.requirements
    )
    return replace(
        full, requirements=rows, fill=fill, clearance=None, hold=None, findings=(), note=None,
        verdict="not judged", summary="Nothing could be judged.", feed=None,
    )  # fmt: skip
