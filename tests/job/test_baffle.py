# SPDX-License-Identifier: Apache-2.0
"""Baffles of the job file: what is read, and choices that a section sees by itself."""

import math

import pytest

from sumpwright.errors import InputError
from sumpwright.geometry.panel import rectangle
from sumpwright.job.load import load_job
from sumpwright.job.model import Job

AT = "at: [0 m, 0 m, 0 m], normal: [1, 0, 0]"
RECTANGLE = "centre: [0 m, 0 m], width: 3 cm, height: 2 cm"


def job_with(baffle: str) -> str:
    return (
        "job: x\nnew:\n  cavity: geometry/new.step\n  baffles:\n"
        f"    - {{name: a, thickness: 1 mm, {baffle}}}\noil: {{fill: 4 L}}\n"
    )


def test_reads_numbers_in_si(make_job, moving) -> None:
    wall, tall, drawn = load_job(make_job(moving)).job.new.baffles
    assert wall.at == pytest.approx((0.162, 0.06, -0.1), rel=1e-15)  # rounding of the conversion
    assert (wall.gap, wall.material, wall.outline[2]) == (0.0005, "steel", (0.06, 0.03))
    door = wall.openings[1].door
    assert (door.mass, door.stop) == (0.02, math.radians(70.0))
    assert (door.spring.preload, door.spring.rate, door.gap) == (0.002, 0.001, 0.0003)
    assert (tall.outline, tall.top, tall.bottom) == (None, -0.04, None)
    assert (drawn.face.file, drawn.face.frame) == ("geometry/new.step", "engine")


def test_takes_the_same_keys_for_the_stock_pan(make_job, moving) -> None:
    pan = moving[moving.index("new:") : moving.index("oil:")]
    job = load_job(make_job(moving + "stock" + pan.removeprefix("new"))).job
    assert job.stock is not None
    assert job.stock.baffles == job.new.baffles


@pytest.mark.parametrize("word", ["bottom", "end", "top", "start"])
def test_a_hinge_by_word_is_the_side_that_geometry_counts(make_job, word: str) -> None:
    door = f"openings: [{{name: b, {RECTANGLE}, door: {{hinge: {word}, opens: ahead}}}}]"
    job: Job = load_job(make_job(job_with(f"{AT}, {door}"))).job
    opening = job.new.baffles[0].openings[0]
    corners = rectangle(opening.centre, width=opening.width, height=opening.height)
    side = opening.hinge_side
    middle = 0.5 * (corners[side] + corners[(side + 1) % 4])
    # by eye: the ends lie along, first coordinate; top and bottom lie up, second coordinate
    axis, sign = {"bottom": (1, -1), "end": (0, 1), "top": (1, 1), "start": (0, -1)}[word]
    assert middle[axis] * sign == max(abs(middle))


def test_a_window_has_no_hinge(make_job, moving) -> None:
    assert load_job(make_job(moving)).job.new.baffles[0].openings[0].hinge_side is None


CASES = {
    "neither numbers nor a face": (
        "gap: 1 mm", "JOB-108", "new.baffles.0", "`at` and `normal`, or `face`", "a STEP file",
    ),
    "a point without a normal": (
        "at: [0 m, 0 m, 0 m]", "JOB-108", "new.baffles.0", "`at` and `normal`", "give both",
    ),
    "numbers and a face": (
        f"{AT}, face: geometry/new.step", "JOB-108", "new.baffles.0", "`face` alone", "keep one",
    ),
    "windows on a face": (
        f"face: geometry/new.step, openings: [{{name: b, {RECTANGLE}}}]",
        "JOB-108", "new.baffles.0", "`face` alone", "windows of a face are the holes in it",
    ),
    "an outline and a top": (
        f"{AT}, top: -4 cm, outline: [[0 m, 0 m], [1 m, 0 m], [0 m, 1 m]]",
        "JOB-108", "new.baffles.0", "`outline`, or `top` and `bottom`", "delete one",
    ),
    "a normal of nothing": (
        "at: [0 m, 0 m, 0 m], normal: [0, 0, 0]",
        "JOB-108", "new.baffles.0", "not zero", "write [1, 0, 0]",
    ),
    "an opening of no shape": (
        AT + ", openings: [{name: b, width: 3 cm}]",
        "JOB-108", "new.baffles.0.openings.0", "`centre`, `width` and `height`", "give all three",
    ),
    "an opening of two shapes": (
        f"{AT}, openings: [{{name: b, {RECTANGLE}, "
        "outline: [[0 m, 0 m], [1 m, 0 m], [0 m, 1 m]]}]",
        "JOB-108", "new.baffles.0.openings.0", "or `outline`", "or the corners",
    ),
    "a door of two weights": (
        f"{AT}, openings: [{{name: b, {RECTANGLE}, door: {{hinge: top, opens: ahead, mass: 20 g, "
        "material: steel}}]",
        "JOB-108", "new.baffles.0.openings.0.door", "`material` or `mass`", "delete one",
    ),
    "a hinge of no word": (
        f"{AT}, openings: [{{name: b, {RECTANGLE}, door: {{hinge: Top, opens: ahead}}}}]",
        "JOB-107", "new.baffles.0.openings.0.door.hinge", "a whole number", "did you mean top?",
    ),
    "a place on a baffle with three numbers": (
        AT + ", openings: [{name: b, centre: [0 m, 0 m, 0 m], width: 3 cm, height: 2 cm}]",
        "JOB-106", "new.baffles.0.openings.0.centre", "[along, up]", "give 2 entries",
    ),
    "an outline of two corners": (
        AT + ", outline: [[0 m, 0 m], [1 m, 0 m]]",
        "JOB-106", "new.baffles.0.outline", "at least 3 entries", "give 3 entries",
    ),
    "a mass that is an acceleration": (
        f"{AT}, openings: [{{name: b, {RECTANGLE}, door: {{hinge: top, opens: ahead, "
        "mass: 20 m/s^2}}]",
        "JOB-101", "new.baffles.0.openings.0.door.mass", "0.1 g to 10 kg", "use g or oz",
    ),
}  # fmt: skip


@pytest.mark.parametrize("name", CASES)
def test_refuses(name: str, make_job) -> None:
    baffle, code, key, needed, do = CASES[name]
    with pytest.raises(InputError) as caught:
        load_job(make_job(job_with(baffle)))
    (problem,) = caught.value.problems
    assert (problem.code, problem.where.partition("  ")[2]) == (code, key)
    assert needed in problem.needed
    assert do in problem.do
