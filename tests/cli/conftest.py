# SPDX-License-Identifier: Apache-2.0
"""A hand-made result to show, and the tool run as a person runs it."""

import os
import subprocess
import sys
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import pytest

from sumpwright.errors import Finding
from sumpwright.studies.result import (
    CaseGap,
    CheckResult,
    Clearance,
    DipstickScale,
    FillCurve,
    GuardLine,
    ObstacleGap,
    PanFill,
    PanHold,
    Requirement,
)

Run = Callable[..., "subprocess.CompletedProcess[str]"]


@pytest.fixture
def run() -> Run:
    """Runs `sumpwright` with arguments in a process of its own."""

    def started(*args: object, **more: object) -> "subprocess.CompletedProcess[str]":
        env = {k: v for k, v in os.environ.items() if k not in ("FORCE_COLOR", "COLUMNS")}
        return subprocess.run(
            [sys.executable, "-c", "from sumpwright.cli.main import run; run()", *map(str, args)],
            capture_output=True,
            encoding="utf-8",
            env={**env, "PYTHONIOENCODING": "utf-8"},
            stdin=subprocess.DEVNULL,
            check=False,
            **more,  # type: ignore[call-overload]
        )

    return started


def _fill(name: str, full: float, depth: float, dipstick: DipstickScale | None) -> PanFill:
    return PanFill(
        name=name, cavity_m3=9e-3, lowest_m=-0.115,
        curve=FillCurve((0.0, 0.115), (0.0, 9e-3), (0.05, 0.11)),
        full_m3=full, full_height_m=-0.04, full_depth_m=depth,
        low_m3=3.6e-3, low_height_m=-0.05, low_depth_m=0.065, service_fill_m3=full + 5e-4,
        brim_m3=8.9e-3, brim_height_m=0.0, usable_m3=5.6e-3, usable_by="crank gap",
        hot_m3=4.75e-3, hot_height_m=-0.038, hot_depth_m=0.077, crank_gap_m=0.0181,
        expansion=1.056, dipstick=dipstick, parked=(),
    )  # fmt: skip


def _hold(name: str, left: float, right: float) -> PanHold:
    return PanHold(
        name=name, rpm=6500.0, oil_m3=4.16e-3, flow_m3_s=7e-4,
        directions_deg=(0.0, 90.0, 180.0, 270.0), limit_g=(1.6, left, 0.25, right),
        held_to_end=(True, False, False, False),
        left_g=left, right_g=right, brake_g=0.25, accelerate_g=1.6,
        slope_up_deg=56.5, slope_down_deg=13.8, slope_left_deg=37.4, slope_right_deg=37.4,
        magnitudes_g=(0.0, 1.6), cover_m=((0.05, 0.01),) * 4,
        cover_at_rest_m=0.05, drawdown_at_rest_m=0.01, floor_gap_m=0.009,
        submergence_ratio=0.8,
        crank_limit_g=None, rail_limit_g=(0.6, 0.7, 0.6, 0.7), low_mark=None,
    )  # fmt: skip


def _room() -> Clearance:
    place = (0.2, 0.1, 0.15)
    cases = (
        CaseGap("at rest", 0.0142, place, place),
        CaseGap("full torque", 0.0068, place, place),
    )
    gap = ObstacleGap("crossmember", 0.010, cases, cases[1])
    return Clearance(
        "New pan", (gap,), place, GuardLine("crossmember", 0.13, 0.142, "sag", 0.012), 0.142, 0.072
    )


def _line(id: str, statement: str, kind: str, unit: str, **more: object) -> Requirement:
    value, limit = more.get("value"), more.get("limit")
    margin = value - limit if value is not None and limit is not None else None  # type: ignore[operator]
    state = "not judged" if margin is None else "met" if margin >= 0 else "not met"
    return Requirement(
        id=id, statement=statement, limit=limit, value=value, margin=margin, unit=unit,  # type: ignore[arg-type]
        kind=kind, source="common practice, no source", state=state, formula="",  # type: ignore[arg-type]
        reason=str(more.get("reason", "")),
    )  # fmt: skip


@pytest.fixture
def result() -> CheckResult:
    """A pan that fails at the crossmember and in a left turn, stock beside new."""
    stick = DipstickScale(0.1909, 0.1991, 0.2662, ())
    stock = _fill("Stock pan", 4.6e-3, 0.1256, None)
    return CheckResult(
        job="Bench engine", revision="B", input_hash="0" * 64, code_version="0.1.0",
        units="metric", verdict="not met", summary="2 requirements met, 2 not met, 2 not judged",
        requirements=(
            _line("capacity", "The pan holds the oil", "volume", "m3", value=5.6e-3, limit=4.6e-3),
            _line("clearance.crossmember", "The pan clears the crossmember", "length", "m",
                  value=0.0068, limit=0.010, reason="worst case: full torque"),
            _line("hold_left", "The pickup stays covered in a left turn, static", "acceleration",
                  "g", value=0.78, limit=1.58, reason="against the stock pan"),
            _line("slope_up", "The pickup stays covered, nose uphill", "angle", "deg",
                  value=56.5, limit=17.0),
            _line("target_left", "Covered in motion", "acceleration", "g", limit=1.2,
                  reason="needs baffles in motion"),
            _line("target_right", "Covered in motion", "acceleration", "g", limit=1.2,
                  reason="needs baffles in motion"),
        ),
        fill=replace(_fill("New pan", 4.6e-3, 0.0752, stick), stock=stock),
        clearance=_room(),
        hold=replace(_hold("New pan", 0.78, 0.81), stock=_hold("Stock pan", 1.58, 1.6)),
        assumptions=("No slosh.",),
        findings=(
            Finding("GEO-309", "pan.stl: near x 3 mm", "2 triangles without area", "", "note"),
        ),
    )  # fmt: skip


@pytest.fixture
def job(tmp_path: Path) -> Path:
    """A new full job in a folder with a space and another alphabet in its name."""
    from sumpwright.job.template import Answers, new_job

    folder = tmp_path / "Ölwanne 車"
    new_job(folder, Answers("Bench engine", "full"))
    return folder
