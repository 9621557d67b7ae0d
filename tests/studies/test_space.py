# SPDX-License-Identifier: Apache-2.0
"""The free space of boxes in a box-shaped car: closed forms, order, invariance, plain problems."""

from dataclasses import dataclass
from pathlib import Path

import numpy as np
import pytest

from sumpwright.errors import InputError
from sumpwright.geometry.clearance import smallest_gap
from sumpwright.geometry.free_space import Space, opened
from sumpwright.geometry.free_space_skin import inner_skin
from sumpwright.geometry.inside import SkinTree, inside
from sumpwright.geometry.mesh import Mesh
from sumpwright.job.load import LoadedJob, load_job
from sumpwright.job.model import Job, Pan
from sumpwright.job.shape import Shape
from sumpwright.studies.bodies import Bodies
from sumpwright.studies.body_file import read_bodies
from sumpwright.studies.space import Room, Spaced, room_of, space_of, space_with_bodies
from sumpwright.studies.space_ask import SpaceAsked
from sumpwright.studies.space_scene import space_scene
from tests.studies.box_job import JOB, box_job, box_mesh

# the opening is the box's top, 300 mm by 200 mm; the rail is 250 mm over the ground
POSE = "pose: {height: 250 mm, x: 1000 mm}\n"
BEAM = "obstacles:\n  - {name: beam, file: geometry/beam.stl, unit: mm%s}\n"
# under the middle of the pan, from side to side, its top 90 mm below the rail
UNDER = ((1.1, -0.4, 0.1), (1.2, 0.4, 0.16))
ASKED = SpaceAsked(left=0.0, right=0.0, wall=0.003, step=0.005)
FLOOR = 0.250 - 0.100 - 0.003
"""Depth of the inside: 100 mm of ground, a wall of 3 mm"""


def asked(folder: Path, text: str = JOB + POSE, ask: SpaceAsked = ASKED, **bodies: Mesh) -> Spaced:
    return space_with_bodies(box_job(folder, text, **bodies), ask)


def beam_job(more: str = "", tail: str = "") -> str:
    return JOB + POSE + BEAM % more + tail


@dataclass(frozen=True)
class Bare:
    """The space alone, without its table and comparisons."""

    bodies: Bodies
    room: Room
    space: Space


def space_alone(folder: Path, text: str, ask: SpaceAsked = ASKED) -> Bare:
    """Over a beam; the same steps as the study's own."""
    loaded = load_job(box_job(folder, text, beam=box_mesh(*UNDER)))
    return space_in(loaded, ask, [])


def space_in(loaded: LoadedJob, ask: SpaceAsked, said: list[str]) -> Bare:
    bodies = read_bodies(loaded)
    room = room_of(loaded, bodies, ask, lambda text, _: said.append(text))
    space = opened(room.parts(ask.growth), room.grid, room.radius, beyond=room.wall)
    return Bare(bodies, room, space)


@pytest.fixture(scope="module")
def bare(tmp_path_factory: pytest.TempPathFactory) -> Spaced:
    """Without obstacles."""
    return asked(tmp_path_factory.mktemp("bare"))


@pytest.fixture(scope="module")
def beamed(tmp_path_factory: pytest.TempPathFactory) -> Spaced:
    """Over a beam that asks for the usual gap."""
    return asked(tmp_path_factory.mktemp("beamed"), beam_job(), beam=box_mesh(*UNDER))


def volume(folder: Path, text: str) -> float:
    return space_alone(folder, text).space.mesh.volume


def test_without_obstacles_it_is_the_box_over_the_ground(bare: Spaced) -> None:
    found = bare.result
    assert found.deepest_m == pytest.approx(FLOOR, abs=1e-5)
    # the cutter's 6 mm along the floor's edges and upright corners is 0.3 % of it
    assert found.inside_m3 == pytest.approx(0.3 * 0.2 * FLOOR, rel=0.006)
    assert found.inside_m3 < 0.3 * 0.2 * FLOOR
    assert any("no obstacles" in said for said in found.assumptions)
    assert [n.name for n in found.lowest if n.binds] == ["the ground at ride height"]


def test_the_table_has_the_litres_of_boxes(bare: Spaced) -> None:
    table = bare.result.table
    for depth, row in zip(table.depths_m, table.volumes_m3["both"], strict=True):
        for growth, found in zip(table.growths_m, row, strict=True):
            want = 0.06 * depth + 2 * growth * 0.3 * (depth - 0.030)
            # 1 %: edges at the flange and at the largest growth are rounded
            assert found == pytest.approx(want, rel=0.01)
    assert table.at("left", 0.012) == pytest.approx(table.at("right", 0.012), rel=1e-3)


def test_the_outside_is_larger_by_the_wall(bare: Spaced) -> None:
    found = bare.result
    grown = 0.306 * 0.206 * (FLOOR + 0.003)
    # 1 %: outside the edges are round by cutter and wall
    assert found.outside_m3 == pytest.approx(grown, rel=0.01)


def test_a_beam_takes_itself_its_gap_and_the_wall(tmp_path: Path) -> None:
    beam = box_mesh(*UNDER)
    found = asked(tmp_path, beam_job(", clearance: 12 mm"), beam=beam).result
    gap, high = 0.015, 0.160
    low = 0.250 - FLOOR
    # the gap goes round the beam's two upper edges as quarter circles; only below the floor's
    # height is its lower end
    area = (0.1 + 2 * gap) * (high - low) + 0.1 * gap + np.pi * gap**2 / 2
    (taken,) = found.taken
    assert taken.lost_m3 == pytest.approx(0.2 * area, rel=0.01)  # the grid's linear cells
    assert taken.worst_case == "at rest"
    assert taken.middle_m is not None
    assert taken.middle_m[0] == pytest.approx(0.15, abs=1e-3)


def test_a_case_that_sags_takes_more(beamed: Spaced, tmp_path: Path) -> None:
    tail = "movement: [{name: sag, shift: [0 mm, 0 mm, -10 mm]}]\n"
    still = beamed.result
    found = asked(tmp_path, beam_job(tail=tail), beam=box_mesh(*UNDER)).result
    assert found.deepest_m == pytest.approx(FLOOR - 0.010, abs=1e-5)
    assert found.taken[0].worst_case == "sag"
    assert found.inside_m3 < still.inside_m3


@pytest.mark.slow
def test_more_clearance_and_more_cases_never_leave_more(tmp_path: Path) -> None:
    gaps = [volume(tmp_path / str(g), beam_job(f", clearance: {g} mm")) for g in (5, 10, 20)]
    assert gaps[0] > gaps[1] > gaps[2]
    one = "movement:\n  - {name: roll, roll: 3 deg}\n"
    two = one + "  - {name: back, shift: [-12 mm, 0 mm, 0 mm]}\n"
    cases = [volume(tmp_path / f"c{k}", beam_job(tail=t)) for k, t in enumerate(("", one, two))]
    assert cases[0] > cases[1] > cases[2]


@pytest.mark.slow
def test_moving_everything_together_changes_nothing(tmp_path: Path) -> None:
    roll = "movement: [{name: roll, roll: 3 deg}]\n"
    here = volume(tmp_path / "a", beam_job(tail=roll))
    away = np.array([0.7, -0.3, 0.0])
    text = beam_job(tail=roll).replace("x: 1000 mm", "x: 1700 mm, y: -300 mm")
    beam = box_mesh(*(tuple(p + away) for p in UNDER))
    loaded = load_job(box_job(tmp_path / "b", text, beam=beam))
    there = space_in(loaded, ASKED, []).space.mesh.volume
    # half precision of what is kept: some micrometres on a quarter of a square metre
    assert there == pytest.approx(here, rel=1e-5)


@pytest.mark.slow
def test_every_point_of_it_keeps_the_clearance_in_every_case(tmp_path: Path) -> None:
    tail = "movement: [{name: roll, roll: 3 deg}, {name: back, shift: [-12 mm, 4 mm, 0 mm]}]\n"
    found = space_alone(tmp_path, beam_job(tail=tail))
    skin = inner_skin(found.space, found.room.spare).mesh
    rng = np.random.default_rng(7)
    low, high = skin.bounds
    points = rng.uniform(low, high, (20_000, 3))
    points = np.concatenate([points[inside(skin, points)], skin.vertices])
    assert len(points) > 10_000
    tree = SkinTree(found.bodies.obstacles[0].mesh)
    for move in found.room.moves:
        places = points @ move.rotation.T + move.shift
        distance, _ = tree.nearest(places)
        assert not tree.encloses(places).any()
        assert distance.min() >= 0.010 + 0.003 - 1e-9
        assert places[:, 2].min() >= 0.100 + 0.003 - 1e-9
    # a second opinion: triangles against triangles
    moves = [(m.rotation, m.shift) for m in found.room.moves]
    least = min(g.distance for g in smallest_gap(skin, found.bodies.obstacles[0].mesh, moves))
    assert least >= 0.013 - 1e-6


def test_the_present_pan_is_measured_against_it(bare: Spaced, tmp_path: Path) -> None:
    whole = bare.result.pan
    assert whole.volume_m3 == pytest.approx(0.006)
    assert whole.inside_m3 == pytest.approx(
        0.006, rel=5e-3
    )  # sharp corners stick out of round ones
    beam = box_mesh((1.1, -0.4, 0.1), (1.2, 0.4, 0.19))  # its top 60 mm below the rail
    stuck = asked(tmp_path, beam_job(), beam=beam).result.pan
    assert stuck.out
    # the floor of the pan, 100 mm deep, against beam, gap and wall: 47 mm below the rail
    assert max(out.by_m for out in stuck.out) == pytest.approx(0.053, abs=0.002)
    area = (0.1 + 2 * 0.013) * 0.04 + 0.1 * 0.013 + np.pi * 0.013**2 / 2
    assert sum(o.volume_m3 for o in stuck.out) == pytest.approx(0.2 * area, rel=0.06)


def test_a_fill_that_does_not_fit_is_not_met(tmp_path: Path) -> None:
    shallow = asked(tmp_path, ask=SpaceAsked(left=0.0, right=0.0, depth=0.045, step=0.005)).result
    assert shallow.verdict == "not met"
    assert shallow.fill is not None
    assert shallow.fill.most_m3 == pytest.approx(0.06 * 0.045, rel=0.02)  # round edges
    assert "does not fit" in shallow.summary


def test_the_wall_and_the_corners_are_the_job_s_own(tmp_path: Path) -> None:
    shop = "shop: {cutters: [{name: ten, diameter: 10 mm, reach: 40 mm}]}\n"
    found = asked(tmp_path, JOB + POSE + shop, SpaceAsked(left=0.0, right=0.0, step=0.006)).result
    assert found.radius_m == pytest.approx(0.005)
    assert "ten" in found.radius_from
    assert found.wall_m == 0.003


def test_a_drawn_opening_goes_before_the_pan_s_own(tmp_path: Path) -> None:
    corners = ", ".join(
        f"{{at: [{x} mm, {y} mm]}}" for x, y in ((0, -50), (200, -50), (200, 50), (0, 50))
    )
    rail = f"rail: {{opening: [{corners}]}}\n"
    found = asked(tmp_path, JOB + POSE + rail).result
    assert found.opening == "rail.opening"
    assert found.inside_m3 == pytest.approx(0.2 * 0.1 * FLOOR, rel=0.01)


def problem(folder: Path, text: str, ask: SpaceAsked = ASKED, **bodies: Mesh) -> str:
    with pytest.raises(InputError) as caught:
        space_of(box_job(folder, text, **bodies), ask)
    (found,) = caught.value.problems
    return f"{found.code} {found.where} {found.found}"


def test_says_what_is_missing_or_in_the_way(tmp_path: Path) -> None:
    assert problem(tmp_path / "a", JOB).startswith("SPAC-501")
    cross = ", ".join(
        f"{{at: [{x} mm, {y} mm]}}" for x, y in ((0, 0), (200, 100), (200, 0), (0, 90))
    )
    said = problem(tmp_path / "b", JOB + POSE + f"rail: {{opening: [{cross}]}}\n")
    assert said.startswith("SPAC-502")
    assert "rail.opening" in said
    low = JOB + "pose: {height: 108 mm}\n"
    assert "SPAC-503" in problem(tmp_path / "c", low)
    lid = box_mesh((0.9, -0.3, 0.24), (1.4, 0.3, 0.245))
    said = problem(tmp_path / "d", beam_job(), beam=lid)
    assert said.startswith("SPAC-504")
    assert "the beam" in said


def test_a_second_question_takes_the_distances_from_the_cache(tmp_path: Path) -> None:
    loaded = load_job(box_job(tmp_path, beam_job(), beam=box_mesh(*UNDER)))
    first: list[str] = []
    again: list[str] = []
    one, two = (space_in(loaded, ASKED, said).space for said in (first, again))
    assert any(text.startswith("distances to the beam") for text in first)
    assert not any(text.startswith("distances to the beam") for text in again)
    assert two.mesh.volume == one.mesh.volume


def test_the_scene_has_the_floor_s_depth(bare: Spaced) -> None:
    scene = space_scene(bare)
    assert scene.floor.max() == pytest.approx(FLOOR, abs=1e-5)
    assert scene.space.volume > 0.0


@pytest.mark.parametrize(("floor", "wanted"), [(None, 4.0), (3.0, 4.0), (5.0, 5.0)])
def test_a_floor_thicker_than_the_wall_counts(floor: float | None, wanted: float) -> None:
    shape = Shape.model_construct(wall=4e-3, floor=None if floor is None else 1e-3 * floor)
    job = Job.model_construct(new=Pan.model_construct(shape=shape))
    found, source = SpaceAsked().wall_of(job)
    assert found == pytest.approx(1e-3 * wanted, rel=1e-12)  # the same number, read
    assert ("floor" in source) == (wanted == 5.0)
    assert SpaceAsked(wall=2e-3).wall_of(job) == (2e-3, "as asked")
