# SPDX-License-Identifier: Apache-2.0
"""Fill and hold of the demo jobs and of random pans against a second way to every number.

Source of the references: manifold3d's plane trim, scipy's root finder, clouds of points and
rotations written out by hand; see outside.py.
"""

import shutil
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

import numpy as np
import pytest
from ruamel.yaml import YAML

from sumpwright.job.load import load_job
from sumpwright.studies.body_file import read_bodies
from sumpwright.studies.check import check
from sumpwright.studies.result import PanFill, PanHold
from tests.studies.box_job import box_job
from tests.studies.outside import LITRE, MM, Outside, up_in_turn, up_on_slope
from tests.studies.rough_pan import rough_pan

EXAMPLES = Path(__file__).parents[2] / "examples"
NEAR = {"abs": 2e-8}  # m; 7e-6 mm of the circle's points, and a hair under the opening
LITRES = {"rel": 1e-6}  # the hair's 1e-4 mm over an opening, and two programs' rounding
G = {"abs": 1e-5}  # g; 3e-6 of the study's bracket, the rest as above over some 10 mm a g
DEG = {"abs": 5e-4}  # 6e-5 of the study's bracket, the rest as G in degrees
WAYS = {"accelerate": 0.0, "left": 90.0, "brake": 180.0, "right": 270.0}
SLOPES = {"up": 0.0, "left": 90.0, "down": 180.0, "right": 270.0}


@dataclass(frozen=True, eq=False)
class Case:
    """One pan: what the studies say, and the second way."""

    fill: PanFill
    hold: PanHold
    other: Outside


def case_of(folder: Path, which: str) -> Case:
    loaded = load_job(folder)
    bodies, result = read_bodies(loaded), check(folder)
    job, assert_hold = loaded.job, result.hold
    assert assert_hold is not None
    new = which == "new"
    pan, body = (job.new, bodies.new) if new else (job.stock, bodies.stock)
    fill, hold = (result.fill, assert_hold) if new else (result.fill.stock, assert_hold.stock)
    assert pan is not None
    assert body is not None
    assert fill is not None
    assert hold is not None
    low = None if fill.low_m3 is None else fill.low_m3 * LITRE
    return Case(fill, hold, Outside(job, pan, body.cavity, fill.full_m3 * LITRE, low))


def rough_job(folder: Path, seed: int) -> Path:
    """A random pan, pose, pickup and dipstick."""
    rng = np.random.default_rng(seed)
    roll, pitch = rng.uniform(-6, 6, 2)
    x, y = rng.uniform((60, -40), (200, 40))
    text = f"""\
job: rough {seed}
new:
  cavity: {{file: geometry/cavity.stl, unit: mm}}
  pickup:
    centre: [{x} mm, {y} mm, -42 mm]
    diameter: 30 mm
    facing: [{rng.uniform(-0.2, 0.2)}, {rng.uniform(-0.2, 0.2)}, -1]
    place: {rng.choice(["floor", "free", "corner"])}
  dipstick: {{start: [{x} mm, {y} mm, 200 mm], direction: [0.08, -0.05, -1]}}
oil: {{fill: 2.6 L, low: 2.1 L, cold: 12 degC, hot: 110 degC, density_15: 861 kg/m^3}}
engine:
  rpm: 5200 rpm
  retained: [{{rpm: 1000 rpm, oil: 0.1 L}}, {{rpm: 6000 rpm, oil: 0.4 L}}]
  flow: [{{rpm: 1000 rpm, flow: 2 L/min}}, {{rpm: 6000 rpm, flow: 9 L/min}}]
  crank_sweep: {{height: 75 mm, side: 6 mm, radius: 62 mm, front: 270 mm, rear: -10 mm}}
  crankcase_height: 300 mm
pose:
  height: 240 mm
  roll: {roll} deg
  pitch: {pitch} deg
  yaw: {rng.choice([0.0, 90.0, -90.0, 173.0, 31.0])} deg
"""
    return box_job(folder, text, cavity=rough_pan(rng))


CASES = ["demo-a new", "demo-a stock", "demo-b new", *(f"rough {k}" for k in range(3))]


@pytest.fixture(scope="module", params=CASES)
def case(
    request: pytest.FixtureRequest,
    tmp_path_factory: pytest.TempPathFactory,
    warm: Callable[[str], Path],
) -> Case:
    name, which = request.param.split()
    folder = tmp_path_factory.mktemp(name) / "job"
    if name == "rough":
        return case_of(rough_job(folder, int(which)), "new")
    shutil.copytree(warm(name), folder)
    strip_inside(folder / "job.yaml")
    return case_of(folder, which)


def strip_inside(job: Path) -> None:
    """Takes out what stands in the new pan: the second way knows the cavity only."""
    yaml = YAML()
    tree = yaml.load(job.read_text(encoding="utf-8"))
    for key in ("baffles", "displacing"):
        tree["new"].pop(key, None)
    tree.pop("manoeuvres", None)
    with job.open("w", encoding="utf-8") as file:
        yaml.dump(tree, file)


pytestmark = pytest.mark.slow  # cuts each pan a few thousand times


def test_levels_and_marks(case: Case) -> None:
    other, fill, up = case.other, case.fill, np.array([0.0, 0.0, 1.0])
    level = other.level(up, other.full)
    assert fill.full_height_m * MM == pytest.approx(level, abs=1e-5)
    assert fill.hot_m3 * LITRE == pytest.approx(other.full * other.expansion, **LITRES)
    assert fill.dipstick is not None
    start, direction = stick(other)
    drop = -direction[2]
    assert fill.dipstick.full_along_m * MM == pytest.approx((start[2] - level) / drop, abs=2e-5)
    for line in fill.dipstick.graduations[::5]:
        at = start + line.along_m * MM * direction
        assert other.below(up, at[2]) == pytest.approx(line.volume_m3 * LITRE, **LITRES)


def stick(other: Outside) -> tuple[np.ndarray, np.ndarray]:
    found = other.pan.dipstick
    assert found is not None
    direction = other.placed(found.direction)[0]
    return other.placed(found.start)[0], direction / np.linalg.norm(direction)


def test_crank_gap_and_what_the_pan_holds(case: Case) -> None:
    other, fill, up = case.other, case.fill, np.array([0.0, 0.0, 1.0])
    hot = other.level(up, other.full * other.expansion)
    crank = float(other.sweep[:, 2].min())
    assert fill.crank_gap_m == pytest.approx((crank - hot) / MM, **NEAR)
    asked = other.job.requirements.crank_gap
    assert isinstance(asked, float)
    highest = min(crank - asked * MM, float(other.rail[:, 2].min()))
    usable = other.below(up, highest) / other.expansion
    assert fill.usable_m3 * LITRE == pytest.approx(usable, rel=1e-6)
    assert fill.brim_m3 * LITRE == pytest.approx(
        other.below(up, float(other.rail[:, 2].min())), rel=1e-6
    )


def test_readings_parked_on_a_slope(case: Case) -> None:
    other = case.other
    start, direction = stick(other)
    for parked in case.fill.parked:
        up = up_on_slope(np.radians(parked.direction_deg), np.radians(parked.slope_deg))
        level = other.level(up, other.full)
        assert parked.height_m * MM == pytest.approx(level, abs=1e-5)
        crank = float((other.sweep @ up).min())
        assert parked.crank_gap_m == pytest.approx((crank - level) / MM, **NEAR)
        along = (level - start @ up) / (direction @ up)
        if parked.dipstick_along_m is None:
            continue  # beyond the stick; looked at with boxes in test_fill.py
        assert parked.dipstick_along_m * MM == pytest.approx(along, abs=2e-5)
        wet = start + along * direction
        reads = other.below(np.array([0.0, 0.0, 1.0]), wet[2])
        assert parked.dipstick_reads_m3 is not None
        assert parked.dipstick_reads_m3 * LITRE == pytest.approx(reads, **LITRES)


def test_hold_limits_each_way(case: Case) -> None:
    other, hold = case.other, case.hold
    oil = other.running(other.full)
    assert hold.oil_m3 * LITRE == pytest.approx(oil, rel=1e-9)
    for way, angle in WAYS.items():
        found = other.turn_limit(np.radians(angle), oil)
        assert getattr(hold, f"{way}_g") == pytest.approx(found, **G)
    for k in (7, 41):
        found = other.turn_limit(np.radians(hold.directions_deg[k]), oil)
        assert hold.limit_g[k] == pytest.approx(found, **G)
    if hold.low_mark is not None and other.low is not None:
        found = other.turn_limit(np.radians(90.0), other.running(other.low))
        assert hold.low_mark.left_g == pytest.approx(found, **G)


def test_cover_on_the_grid(case: Case) -> None:
    other, hold = case.other, case.hold
    oil = other.running(other.full)
    assert hold.drawdown_at_rest_m * MM == pytest.approx(other.drawdown(1.0), rel=1e-9)
    for k, j in ((0, 0), (3, 5), (20, 14), (33, 32), (54, 9), (70, 27)):
        found = other.turn_cover(np.radians(hold.directions_deg[k]), hold.magnitudes_g[j], oil)
        assert hold.cover_m[k][j] * MM == pytest.approx(found, abs=5e-5)


def test_slope_limits(case: Case) -> None:
    other, hold = case.other, case.hold
    oil = other.running(other.full)
    for side, angle in SLOPES.items():
        found = other.slope_limit(np.radians(angle), oil)
        assert getattr(hold, f"slope_{side}_deg") == pytest.approx(found, **DEG)


def test_oil_meets_rail_and_crank_where_the_plane_does(case: Case) -> None:
    other, hold = case.other, case.hold
    oil = other.running(other.full)
    assert hold.crank_limit_g is not None
    for k in (9, 30, 50):
        for limit, points in (
            (hold.rail_limit_g[k], other.rail),
            (hold.crank_limit_g[k], other.sweep),
        ):
            if limit in (0.0, 1.6):
                continue
            up = up_in_turn(np.radians(hold.directions_deg[k]), limit)
            spare = float((points @ up).min()) - other.level(up, oil)
            assert abs(spare) < 0.15  # mm; the study draws straight lines over 0.05 g
