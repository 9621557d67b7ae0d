# SPDX-License-Identifier: Apache-2.0
"""The film: its frames are those of the result, and its oil is where the plane leaves it."""

from dataclasses import replace
from io import BytesIO
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from PIL import Image

from sumpwright.geometry.level import level_body, volume_below
from sumpwright.geometry.mesh import Mesh
from sumpwright.report import film_kernel, palette
from sumpwright.report.film import MOST_FRAMES, TICK, film_of, frame_times
from sumpwright.report.film_gif import SAMPLES, Reel, gif_of, reel_of
from sumpwright.report.film_stage import FAR, Paper, Stage
from sumpwright.report.film_words import frame_words, push_words
from sumpwright.report.moment_view import moments
from sumpwright.report.shade import Camera, camera
from tests.report.motion_sample import drive_sample, motion_sample, short_sample

SIZE = (160, 120)


@pytest.mark.parametrize(
    ("duration", "count", "pace"),
    [
        (12.0, 151, 1.0),  # 12 / 0.08 + 1
        (19.12, 240, 1.0),
        (60.0, 240, 60.0 / 239 / 0.08),
        (3600.0, 240, 3600.0 / 239 / 0.08),
        (0.01, 2, 0.01 / 0.08),
    ],
)
def test_a_film_runs_in_real_time_until_that_is_too_many_frames(
    duration: float, count: int, pace: float
) -> None:
    times, found = frame_times(duration)
    assert len(times) == count <= MOST_FRAMES
    assert found == pytest.approx(pace, rel=1e-12)
    assert times[0] == 0.0
    assert duration - TICK < times[-1] <= duration + 1e-9
    np.testing.assert_allclose(np.diff(times), found * TICK, rtol=1e-9)


def test_the_surfaces_of_a_frame_hold_the_compartments_volumes() -> None:
    result, scene = drive_sample(), motion_sample()
    film = film_of(result, scene)
    for k, (part, mesh) in enumerate(zip(result.compartments, scene.compartments, strict=True)):
        held = volume_below(level_body(mesh), film.up[:, k], film.height[:, k])
        asked = np.interp(film.time, result.time_s, part.volume_m3)
        np.testing.assert_allclose(held, asked, rtol=1e-9)


def test_a_spell_of_air_between_two_frames_is_not_lost() -> None:
    result, scene = drive_sample(), motion_sample()
    air = [0.0] * len(result.time_s)
    air[302] = 0.4  # 6.04 s; frames are at 6.00 and 6.08
    one = replace(result, pickup=replace(result.pickup, air_fraction=tuple(air)))
    film = film_of(one, scene)
    assert film.air.max() == 0.4
    assert (film.air > 0.0).sum() == 1
    none = replace(result, pickup=replace(result.pickup, air_fraction=(0.0,) * len(air)))
    traced = film_of(none, scene)  # the summary knows of air that no time of the series shows
    assert traced.time[traced.air > 0.0].tolist() == [pytest.approx(3.36)]
    assert frame_words(none, traced)[42].air == "under 1 %"


def test_stuck_doors_stand_open_or_shut() -> None:
    scene, full = motion_sample(), drive_sample()
    for state, angle in (("stuck open", 70.0), ("stuck shut", 0.0)):
        film = film_of(replace(full, doors=(), doors_are=state), scene)  # type: ignore[arg-type]
        np.testing.assert_allclose(np.degrees(film.angle), angle)


def test_two_parts_of_one_door_keep_their_own_courses() -> None:
    full, scene = drive_sample(), motion_sample()
    same = replace(full, doors=tuple(replace(d, name="door") for d in full.doors))
    film = film_of(same, scene)
    asked = [np.interp(film.time, full.time_s, d.angle_deg) for d in full.doors]
    np.testing.assert_allclose(np.degrees(film.angle), np.array(asked).T, atol=1e-12)


@pytest.mark.parametrize(
    ("accel", "said"),
    [
        # ISO 8855: x forward, y left
        ((0.0, 0.97, 0.0), "0.97 g to the left"),
        ((-0.3, -0.5, 0.0), "0.50 g to the right, 0.30 g back"),
        ((0.4, 0.0, 0.9), "0.40 g forward"),
        ((0.01, -0.02, 0.3), "steady"),
    ],
)
def test_the_push_is_said_the_way_the_car_is_pushed(
    accel: tuple[float, float, float], said: str
) -> None:
    assert push_words(np.array(accel)) == said


# --- painting ---


def solid(seed: int) -> Any:
    """A box with a bite out of it, turned about: not convex, so a line of sight may pass it twice.

    Built and cut by manifold3d, which knows nothing of the painter.
    """
    from manifold3d import Manifold

    draw = np.random.default_rng(seed)
    body = Manifold.cube([1.0, 0.8, 0.6], center=True)
    bite = Manifold.cube([0.5, 0.5, 0.5], center=True).translate((0.2, 0.1, 0.3))
    return (body - bite).rotate(draw.uniform(0.0, 360.0, 3).tolist())


def as_mesh(body: Any) -> Mesh:
    data = body.to_mesh()
    return Mesh(np.asarray(data.vert_properties)[:, :3], np.asarray(data.tri_verts))


def painted(mesh: Mesh, up: np.ndarray, height: float, view: Camera) -> np.ndarray:
    """Kinds of the elements of one body's oil."""
    shape = (view.height, view.width)
    depth, own = (np.full(shape, FAR, dtype=np.float32) for _ in range(2))
    lit, shade = np.zeros(shape, np.float32), np.zeros(shape, np.float32)
    left, kind = np.zeros(shape, np.int16), np.zeros(shape, np.uint8)
    seen = view.seen(mesh.vertices).astype(np.float32)
    rise = (mesh.vertices @ up - height).astype(np.float32)
    side = np.where(mesh.area_vectors @ view.toward > 0.0, 1, -1).astype(np.int8)
    light = np.ones((len(mesh.faces), 3), np.float32)
    film_kernel.fill_oil(seen[mesh.faces], light, rise[mesh.faces], side, own, lit, left)
    near = float(up @ view.toward)
    plane = np.array([FAR, 0.0, 0.0])
    if near > 1e-6:
        across, high = float(up @ view.right), float(up @ view.up)
        start = view.scale * (height - float(up @ view.middle))
        start += 0.5 * (across * view.width - high * view.height)
        plane = np.array([start, -across, high]) / near
    box = np.array([0, view.height, 0, view.width])
    film_kernel.lay_surface(plane, 0, 1.0, box, own, lit, left, depth, shade, kind)
    return kind


@settings(max_examples=25, deadline=None)
@given(st.integers(0, 2**32 - 1))
def test_painted_oil_covers_what_the_cut_body_covers(seed: int) -> None:
    draw = np.random.default_rng(seed)
    body = solid(seed)
    up = draw.normal(size=3)
    up /= np.linalg.norm(up)
    height = float(draw.uniform(-0.25, 0.25))
    mesh = as_mesh(body)
    view = camera(mesh.vertices, azimuth=draw.uniform(0.0, 6.28), elevation=0.6, size=(300, 300))
    kind = painted(mesh, up, height, view)
    below = body.trim_by_plane((-up).tolist(), -height)
    # manifold3d projects along z: turn the view's axes into x, y, z first
    turn = np.stack([view.right, view.up, view.toward])
    silhouette = below.transform(np.column_stack([turn, np.zeros(3)])).project()
    area, edge = silhouette.area() * view.scale**2, 0.0
    for loop in silhouette.to_polygons():
        points = np.asarray(loop) * view.scale
        edge += float(np.linalg.norm(points - np.roll(points, -1, axis=0), axis=1).sum())
    # an element is counted by its middle: at most half of one is wrong along the outline
    assert abs(float((kind > 0).sum()) - area) < 0.5 * edge + 2.0
    if float(up @ view.toward) < 0.0:
        assert not (kind >= film_kernel.SURFACE).any()


def test_a_level_surface_in_a_box_is_as_large_as_it_looks() -> None:
    from manifold3d import Manifold

    mesh = as_mesh(Manifold.cube([1.0, 1.0, 1.0]))
    rise = np.radians(40.0)
    view = camera(mesh.vertices, azimuth=0.0, elevation=rise, size=(400, 400))
    kind = painted(mesh, np.array([0.0, 0.0, 1.0]), 0.5, view)
    surface, wall = (kind >= film_kernel.SURFACE).sum(), (kind == film_kernel.WALL).sum()
    # seen 40 degrees from above: the surface by sin 40, the half-filled front wall by cos 40
    side = view.scale
    assert surface == pytest.approx(side**2 * np.sin(rise), abs=2.0 * side)  # half an edge's
    assert wall == pytest.approx(0.5 * side**2 * np.cos(rise), abs=2.0 * side)


@settings(max_examples=30, deadline=None)
@given(st.integers(0, 2**32 - 1))
def test_neighbouring_triangles_share_no_element_and_leave_none_out(seed: int) -> None:
    draw = np.random.default_rng(seed)
    grid = np.stack(np.meshgrid(np.arange(6.0), np.arange(6.0)), axis=-1)
    grid[1:-1, 1:-1] += draw.uniform(-0.35, 0.35, (4, 4, 2))
    points = np.concatenate([grid.reshape(-1, 2) * 10.0 + 5.0, np.zeros((36, 1))], axis=1)
    quads = [6 * i + j for i in range(5) for j in range(5)]
    faces = np.array([t for q in quads for t in ((q, q + 1, q + 7), (q, q + 7, q + 6))])
    shape = (60, 60)
    left = np.zeros(shape, np.int16)
    corners = points.astype(np.float32)[faces]
    ab, ac = corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0]
    side = np.sign(np.cross(ab, ac)[:, 2]).astype(np.int8)  # a few may be folded over
    one = np.ones((len(faces), 3), np.float32)
    own, lit = np.full(shape, FAR, np.float32), np.zeros(shape, np.float32)
    film_kernel.fill_oil(corners, one, -one, side, own, lit, left)
    assert (left[5:55, 5:55] == -1).all()
    assert -left.sum() == 50 * 50


def stage_of() -> tuple[Any, Stage, Paper]:
    film = film_of(drive_sample(), motion_sample())
    stage = Stage(motion_sample(), np.zeros((0, 3)), SIZE)
    return film, stage, Paper(stage)


def test_oil_runs_to_the_right_of_the_picture_in_a_left_turn() -> None:
    # ISO 8855: the car is pushed to its left; seen from behind, its right is on the right
    film, stage, paper = stage_of()

    def middle(number: int) -> float:
        stage.frame(film, number, paper)
        return float(np.nonzero(paper.kind)[1].mean())

    rest, left, right = middle(0), middle(62), middle(105)  # 0, 4.96 and 8.4 s
    assert left > rest + 20.0
    assert right < rest - 20.0


def test_the_pickup_is_red_only_while_it_takes_air() -> None:
    film, stage, paper = stage_of()
    red = np.array(palette.rgb(palette.AIR))

    def has_red(number: int) -> bool:
        off = np.abs(stage.frame(film, number, paper).astype(int) - red).max(axis=-1)
        return bool((off < 12).any())

    assert has_red(62)
    assert not has_red(0)


def test_a_frame_does_not_depend_on_the_one_before_it() -> None:
    film, stage, paper = stage_of()
    first = stage.frame(film, 30, paper).copy()
    stage.frame(film, 62, paper)
    np.testing.assert_array_equal(stage.frame(film, 30, paper), first)


@pytest.fixture(scope="module")
def reel() -> Reel:
    return reel_of(short_sample(), motion_sample())


def test_the_film_has_a_frame_for_each_time_and_runs_as_said(reel: Reel) -> None:
    film = Image.open(BytesIO(gif_of(reel)))
    assert film.n_frames == len(reel.film.time) == 13  # 1.00 s / 0.08 s + 1
    assert film.info["duration"] == 1000 * TICK
    assert film.info["loop"] == 0
    assert film.size == (576, 432 + 52 + 92)
    assert [w.clock for w in reel.words[:2]] == ["3.20 s", "3.28 s"]


def test_the_same_run_gives_the_same_bytes(reel: Reel) -> None:
    assert gif_of(reel_of(short_sample(), motion_sample())) == gif_of(reel)


def test_the_painting_stops_where_it_is_told_to() -> None:
    heard: list[float] = []

    def stop(share: float) -> None:
        heard.append(share)
        raise KeyboardInterrupt

    painted = []
    frame = Stage.frame
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(Stage, "frame", lambda *a: (painted.append(0), frame(*a))[1])
        with pytest.raises(KeyboardInterrupt):
            reel_of(drive_sample(), motion_sample(), stop)
    frames = len(film_of(drive_sample(), motion_sample()).time)
    assert len(heard) == 1
    assert frames > 100
    # the nine whose colours serve for all, and what the threads had in hand: not the film
    assert len(painted) - SAMPLES < 0.5 * frames


def test_the_painting_says_how_far_it_is_in_order() -> None:
    heard: list[float] = []
    reel_of(short_sample(), motion_sample(), heard.append)
    assert heard == [pytest.approx(k / 13) for k in range(1, 14)]


def test_no_frame_needs_a_colour_the_palette_lacks(reel: Reel) -> None:
    stage = Stage(motion_sample(), np.zeros((0, 3)), (576, 432))
    picture = stage.frame(reel.film, 6, Paper(stage)).astype(int)
    near = reel.colours.shades[reel.colours.numbers(picture.astype(np.uint8))].astype(int)
    off = np.abs(picture - near).max(axis=-1)
    # most of a picture is a few tones; five bits of each colour are told apart, 8 of 255
    assert np.median(off) <= 8
    assert (off > 40).mean() < 0.01


def test_the_moments_are_the_ones_that_matter_and_none_comes_twice(reel: Reel) -> None:
    found = moments(short_sample(), reel)
    assert {"first air", "least oil over the pickup"} <= {why for _, why in found}
    assert len({k for k, _ in found}) == len(found) <= 6
    first = next(k for k, why in found if why == "first air")
    assert reel.words[first].air
    assert reel.film.time[first] == pytest.approx(3.36)  # the frame nearest to 3.38 s
