# SPDX-License-Identifier: Apache-2.0
"""No word leaves its picture, and none is written over another, whatever the job calls things."""

from dataclasses import replace
from itertools import combinations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sumpwright.report.draw import PICTURES, draw_all
from sumpwright.report.label import Column, Label, draw_labels
from sumpwright.report.lettering import stacked
from sumpwright.report.svg import Drawing
from sumpwright.studies.result import CheckResult
from sumpwright.studies.scene import ObstacleShape, Scene
from tests.report.label_box import Box, boxes_of
from tests.report.sample import bare_scene, sample_scene
from tests.report.sample_result import bare_result, sample_result

LONG = "front crossmember with the welded jacking plate, its brackets and the brake line clips"
Job = tuple[CheckResult, Scene]


def as_us() -> Job:
    return replace(sample_result(), units="us"), sample_scene()


def without_stock() -> Job:
    full, scene = sample_result(), sample_scene()
    assert full.clearance is not None
    assert full.hold is not None
    result = replace(
        full, fill=replace(full.fill, stock=None), hold=replace(full.hold, stock=None),
        clearance=replace(full.clearance, stock=None),
    )  # fmt: skip
    surfaces = tuple(s for s in scene.surfaces if s.pan == "new")
    return result, replace(scene, stock=None, surfaces=surfaces)


def with_names(names: list[str], *, new: str, stock: str) -> Job:
    """The sample with a body of the car for each name, those of the sample again and again."""
    full, scene = sample_result(), sample_scene()
    room = full.clearance
    assert room is not None
    assert scene.stock is not None
    gaps = [room.obstacles[k % 2] for k in range(len(names))]
    shapes = [scene.obstacles[k % 2] for k in range(len(names))]
    obstacles = tuple(replace(g, obstacle=n) for g, n in zip(gaps, names, strict=True))
    result = replace(
        full, clearance=replace(room, obstacles=obstacles), fill=replace(full.fill, name=new)
    )
    return result, replace(
        scene, new=replace(scene.new, name=new), stock=replace(scene.stock, name=stock),
        obstacles=tuple(
            ObstacleShape(n, o.mesh, o.guard) for n, o in zip(names, shapes, strict=True)
        ),
    )  # fmt: skip


JOBS = {
    "the sample": lambda: (sample_result(), sample_scene()),
    "US units": as_us,
    "no stock pan": without_stock,
    "a cavity only": lambda: (bare_result(), bare_scene()),
    "long names": lambda: with_names([LONG, LONG[6:]], new=LONG, stock=LONG),
    "names without a blank": lambda: with_names(["W" * 90, "M" * 40], new="W" * 90, stock="i"),
    "sixteen obstacles": lambda: with_names(
        [f"body {k} of the car" for k in range(16)], new="n", stock="s"
    ),
}


@pytest.fixture(scope="module", params=list(JOBS))
def pictures(request: pytest.FixtureRequest) -> dict[str, bytes]:
    return draw_all(*JOBS[request.param]())


@pytest.mark.parametrize("key", list(PICTURES))
def test_no_word_leaves_its_picture(pictures: dict[str, bytes], key: str) -> None:
    boxes, (width, height) = boxes_of(pictures.get(key, Drawing(1, 1, key="k", says="").svg()))
    outside = [
        b for b in boxes
        if b.left < -0.01 or b.top < -0.01 or b.right > width + 0.01 or b.bottom > height + 0.01
    ]  # fmt: skip  # 0.01: coordinates are written to a hundredth
    assert outside == []


@pytest.mark.parametrize("key", list(PICTURES))
def test_no_word_is_written_over_another(pictures: dict[str, bytes], key: str) -> None:
    boxes, _ = boxes_of(pictures.get(key, Drawing(1, 1, key="k", says="").svg()))
    assert [(a.words, b.words) for a, b in combinations(boxes, 2) if a.over(b)] == []


def test_the_measure_sees_words_that_overlap_and_words_that_leave() -> None:
    drawing = Drawing(100, 40, key="k", says="two")
    drawing.text((50, 20), "one word", size=14)
    drawing.text((60, 24), "another", size=14, anchor="middle")
    drawing.text((8, 38), "up", size=14, turn=-90.0)
    boxes, (width, _) = boxes_of(drawing.svg())
    assert boxes[0].over(boxes[1])
    assert boxes[0].right > width
    assert boxes[2].right - boxes[2].left == pytest.approx(14 * 0.96)  # as tall as its letters
    assert boxes[2].bottom == 38.0


def test_names_that_find_no_room_are_counted_and_the_one_that_matters_stays() -> None:
    column = Column(100.0, 200.0, 0.0, 100.0)
    labels = [Label((10.0, 50.0), "tight", bold=True, over="Tightest gap")]
    labels += [Label((10.0, float(y)), f"body {y}") for y in range(9)]
    drawing = Drawing(200, 100, key="k", says="crowd")
    draw_labels(drawing, labels, column, rest=" in the table")
    words = [b.words for b in boxes_of(drawing.svg())[0]]
    kept = [w for w in words if w.startswith("body")]
    assert "tight" in words
    assert words[-1].startswith(f"and {9 - len(kept)} more")
    assert kept == [f"body {y}" for y in range(len(kept))]  # the first named are kept


sizes = st.lists(st.tuples(st.floats(-50.0, 150.0), st.floats(1.0, 30.0)), min_size=1, max_size=8)


@given(sizes)
@settings(deadline=None)
def test_boxes_of_any_size_lie_clear_in_order_and_inside(boxes: list[tuple[float, float]]) -> None:
    places, tall = [b[0] for b in boxes], [b[1] for b in boxes]
    room = max(sum(tall), 100.0)
    middles = stacked(places, tall, 0.0, room)
    order = sorted(range(len(boxes)), key=places.__getitem__)
    edges = np.array([[middles[k] - tall[k] / 2, middles[k] + tall[k] / 2] for k in order])
    assert edges[0, 0] >= -1e-9  # rounding
    assert edges[-1, 1] <= room + 1e-9  # rounding
    assert (edges[1:, 0] - edges[:-1, 1] >= -1e-9).all()  # rounding


def test_two_boxes_on_one_spot_move_the_same_way_each() -> None:
    # 5 + 15 apart at the least, so 10 up and 10 down
    assert stacked([50.0, 50.0], [10.0, 30.0], 0.0, 100.0) == pytest.approx([40.0, 60.0])


def test_a_box_that_has_room_stays_where_it_is() -> None:
    assert stacked([20.0, 80.0], [10.0, 30.0], 0.0, 100.0) == [20.0, 80.0]
    assert Box("a", 0, 0, 1, 1).over(Box("b", 1, 0, 2, 1)) is False
