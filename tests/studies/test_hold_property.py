# SPDX-License-Identifier: Apache-2.0
"""What must hold of every pan: mirrors, turns, sizes, origins, and more oil.

Exact values stand in test_hold.py and test_hold_outside.py; these say that nothing else counts.
"""

from dataclasses import dataclass, field, replace
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import brentq

from sumpwright.geometry.crank_sweep import CrankSweep
from sumpwright.geometry.frame import Pose
from sumpwright.geometry.mesh import Mesh
from sumpwright.geometry.rim import Rim
from sumpwright.job.model import Job
from sumpwright.studies.bodies import Bodies, PanBodies
from sumpwright.studies.check import check
from sumpwright.studies.hold import hold, situation
from sumpwright.studies.result import CheckResult, PanHold
from tests.studies.box_job import box_job, box_mesh
from tests.studies.rough_pan import rough_pan

SAME = 2 * 0.05 / 2**14  # g; two brackets of the study
FEW = settings(max_examples=12, deadline=None)  # a map of 2,305 levels each
seeds = st.integers(0, 10_000)


@dataclass(frozen=True)
class Setup:
    """A pan in space with its oil; everything a turn, a mirror or a size can be done to."""

    pan: Mesh
    centre: np.ndarray
    facing: np.ndarray
    crank: np.ndarray
    litres: float = 2.2
    flow: float = 6.0
    size: float = 1.0
    pose: Pose = field(default_factory=Pose)

    def parts(self) -> tuple[Job, Bodies]:
        rim = Rim.circle(self.centre, self.facing, radius=0.015 * self.size)
        body = PanBodies("new", "pan", self.pan, self.pan, None, rim)
        sweep = CrankSweep.between(*self.crank, radius=0.05 * self.size)
        job = Job.model_validate(
            {
                "job": "property",
                "new": {"cavity": "a.step", "pickup": {"centre": ["0 mm"] * 3, "diameter": "9 mm"}},
                "oil": {"fill": f"{self.litres!r} L", "cold": "20 degC", "hot": "20 degC"},
                "engine": {
                    "flow": [
                        {"rpm": "0 rpm", "flow": "0 L/min"},
                        {"rpm": "6000 rpm", "flow": f"{self.flow!r} L/min"},
                    ]
                },
            }
        )
        return job, Bodies(body, None, (), sweep, self.pose, ())

    def hold(self) -> PanHold:
        found = hold(*self.parts())
        assert found is not None
        return found


def setup_of(seed: int) -> Setup:
    rng = np.random.default_rng(seed)
    x, y = rng.uniform((0.06, -0.04), (0.2, 0.04))
    roll, pitch = rng.uniform(-0.1, 0.1, 2)
    return Setup(
        pan=rough_pan(rng),
        centre=np.array([x, y, -0.042]),
        facing=np.array([*rng.uniform(-0.2, 0.2, 2), -1.0]),
        crank=np.array([[0.0, rng.uniform(-0.02, 0.02), 0.04], [0.25, 0.0, 0.04]]),
        pose=Pose(roll=roll, pitch=pitch),
    )


def assert_same(one: PanHold, other: PanHold, order: np.ndarray | None = None) -> None:
    """Limits of `one` are those of `other`, whose directions come in `order`."""
    order = np.arange(72) if order is None else order
    for name in ("limit_g", "crank_limit_g", "rail_limit_g"):
        mine, its = np.array(getattr(one, name)), np.array(getattr(other, name))[order]
        np.testing.assert_allclose(mine, its, rtol=0, atol=SAME, err_msg=name)
    assert one.cover_at_rest_m == pytest.approx(other.cover_at_rest_m, abs=1e-12)


@FEW
@given(seeds)
def test_a_mirrored_engine_swaps_left_and_right(seed: int) -> None:
    here = setup_of(seed)
    flip = np.array([1.0, -1.0, 1.0])
    there = replace(
        here,
        pan=Mesh(here.pan.vertices * flip, here.pan.faces[:, ::-1]),
        centre=here.centre * flip,
        facing=here.facing * flip,
        crank=here.crank * flip,
        pose=Pose(roll=-here.pose.roll, pitch=here.pose.pitch),
    )
    one, other = here.hold(), there.hold()
    assert_same(one, other, -np.arange(72) % 72)
    assert one.left_g == pytest.approx(other.right_g, abs=SAME)
    # 1 deg a step of the slopes' grid
    assert one.slope_left_deg == pytest.approx(other.slope_right_deg, abs=2 / 2**14)
    assert one.slope_up_deg == pytest.approx(other.slope_up_deg, abs=2 / 2**14)


@FEW
@given(seeds, st.integers(-36, 36))
def test_a_turned_engine_meets_the_same_limits_from_turned_directions(seed: int, k: int) -> None:
    here = setup_of(seed)
    there = replace(here, pose=replace(here.pose, yaw=np.radians(5.0 * k)))
    # what came from the car's nose now comes from 5 k degrees to the left
    assert_same(here.hold(), there.hold(), (np.arange(72) + k) % 72)


@FEW
@given(seeds, st.floats(0.3, 3.0))
def test_only_shape_counts_when_flow_grows_with_size_to_five_halves(seed: int, size: float) -> None:
    # the draw-down goes with Q^0.4, so with Q as size^2.5 it grows like every other length
    here = setup_of(seed)
    there = replace(
        here,
        pan=here.pan.scaled(size),
        centre=here.centre * size,
        crank=here.crank * size,
        litres=here.litres * size**3,
        flow=here.flow * size**2.5,
        size=size,
    )
    one, other = here.hold(), there.hold()
    for name in ("limit_g", "crank_limit_g", "rail_limit_g"):
        np.testing.assert_allclose(getattr(one, name), getattr(other, name), rtol=0, atol=SAME)
    assert other.cover_at_rest_m == pytest.approx(one.cover_at_rest_m * size, rel=1e-9)


@FEW
@given(seeds, st.floats(1.2, 2.6), st.floats(0.0, 0.3))
def test_more_oil_never_covers_less(seed: int, litres: float, more: float) -> None:
    here = setup_of(seed)
    one = replace(here, litres=litres).hold()
    other = replace(here, litres=litres + more).hold()
    assert (np.array(other.cover_m) >= np.array(one.cover_m) - 1e-12).all()
    assert (np.array(other.limit_g) >= np.array(one.limit_g) - SAME).all()
    assert (np.array(other.rail_limit_g) <= np.array(one.rail_limit_g) + SAME).all()


@FEW
@given(seeds, st.floats(0.0, 12.0), st.floats(0.0, 12.0))
def test_more_flow_never_holds_longer(seed: int, flow: float, more: float) -> None:
    here = setup_of(seed)
    one, other = replace(here, flow=flow).hold(), replace(here, flow=flow + more).hold()
    assert (np.array(other.limit_g) <= np.array(one.limit_g) + SAME).all()


@FEW
@given(seeds, st.tuples(*[st.floats(-2.0, 2.0)] * 3))
def test_the_place_of_the_origin_does_not_count(
    seed: int, shift: tuple[float, float, float]
) -> None:
    here = setup_of(seed)
    by = np.array(shift)
    there = replace(
        here,
        pan=here.pan.moved(np.eye(3), by),
        centre=here.centre + by,
        crank=here.crank + by,
    )
    assert_same(here.hold(), there.hold())


def test_a_pickup_that_uncovers_between_two_grid_steps_is_found() -> None:
    # a rough pan in which one direction's cover falls, has its low point between 0.15 and 0.2 g,
    # and rises again; the oil is measured out so that the low point is 10 um under the demand. The
    # grid alone would say 0.44 g
    here, angle = setup_of(35), np.radians(295.0)
    sizes = np.linspace(0.0, 0.3, 3001)
    gravity = np.stack(
        [-sizes * np.cos(angle), -sizes * np.sin(angle), np.full(len(sizes), -1.0)], axis=1
    )

    def cover(litres: float) -> np.ndarray:
        job, bodies = replace(here, litres=litres, flow=4.0).parts()
        situated = situation(job, bodies, job.new, bodies.new)
        assert situated is not None
        return situated.cover(*situated.surfaces(gravity))

    litres = float(brentq(lambda x: cover(x).min() + 10e-6, 2.3, 2.8))
    found = cover(litres)
    assert (found[::500] > 0.0).all(), "on the grid of 0.05 g the pickup is always covered"
    first = float(sizes[(found < 0.0).argmax()])
    held = replace(here, litres=litres, flow=4.0).hold()
    assert held.limit_g[59] == pytest.approx(first, abs=1e-4)  # the step of `sizes`


JOB = """\
job: origin
new:
  cavity: {{file: geometry/cavity.stl, unit: mm}}
  outside: {{file: geometry/cavity.stl, unit: mm}}
  pickup: {{centre: [{p[0]} mm, {p[1]} mm, {p[2]} mm], diameter: 20 mm}}
  dipstick: {{start: [{d[0]} mm, {d[1]} mm, {d[2]} mm], direction: [0.1, 0.05, -1]}}
oil: {{fill: 2.4 L, low: 2 L, density_15: 870 kg/m^3}}
engine:
  crank_sweep: {{height: {c[2]} mm, side: {c[1]} mm, radius: 50 mm, front: {f} mm, rear: {c[0]} mm}}
  crankcase_height: 90 mm
pose: {{x: {o[0]} mm, y: {o[1]} mm, height: {o[2]} mm, roll: 3 deg, pitch: -4 deg, yaw: 90 deg}}
ride: {{bump_travel: 40 mm}}
movement: [{{name: torque, roll: 4 deg, shift: [0 mm, 3 mm, -2 mm]}}]
obstacles: [{{name: beam, file: geometry/beam.stl, unit: mm, guard: true}}]
"""


def with_origin_at(folder: Path, by: np.ndarray) -> CheckResult:
    """The same car and engine, with the engine's zero moved by `by` [mm] in the engine."""
    r, p = np.radians(3.0), np.radians(-4.0)
    # yaw 90 deg takes (x, y) to (-y, x); roll and pitch as ISO 8855 turns them
    x, y, z = by
    y, z = y * np.cos(r) - z * np.sin(r), y * np.sin(r) + z * np.cos(r)
    x, z = x * np.cos(p) + z * np.sin(p), -x * np.sin(p) + z * np.cos(p)
    origin = np.add([-200.0, 40.0, 400.0], [-y, x, z])
    text = JOB.format(
        p=np.array([150.0, 10.0, -90.0]) - by,
        d=np.array([120.0, 5.0, 200.0]) - by,
        c=np.array([0.0, 4.0, 70.0]) - by,
        f=300.0 - by[0],
        o=origin,
    )
    low, high = np.array([[0.0, -100.0, -100.0], [300.0, 100.0, 0.0]]) - by
    cavity = box_mesh(tuple(low / 1e3), tuple(high / 1e3))
    beam = box_mesh((0.05, -0.5, 0.2), (0.1, 0.8, 0.35))
    return check(box_job(folder, text, cavity=cavity, beam=beam))


def test_a_whole_job_may_count_from_anywhere_in_the_engine(tmp_path: Path) -> None:
    one = with_origin_at(tmp_path / "a", np.zeros(3))
    other = with_origin_at(tmp_path / "b", np.array([83.0, -21.0, 37.0]))
    for mine, its in zip(one.requirements, other.requirements, strict=True):
        assert (mine.id, mine.state) == (its.id, its.state)
        if mine.value is not None:
            # 1e-8: g and degrees from brackets that round alike, lengths about a metre from zero
            assert its.value == pytest.approx(
                mine.value, abs=SAME if mine.unit in "g deg" else 1e-8
            )
    for a, b in zip(one.fill.parked, other.fill.parked, strict=True):
        assert a.dipstick_along_m == pytest.approx(b.dipstick_along_m, abs=1e-9)
        assert a.crank_gap_m == pytest.approx(b.crank_gap_m, abs=1e-9)
    assert one.clearance is not None
    assert other.clearance is not None
    np.testing.assert_allclose(
        one.clearance.lowest_point_m, other.clearance.lowest_point_m, atol=1e-9
    )
