# SPDX-License-Identifier: Apache-2.0
"""The sections of a rounded box: its dimensions are those that it was drawn with."""

from pathlib import Path
from types import SimpleNamespace

import numpy as np
import pytest

from sumpwright.job.load import load_job
from sumpwright.report.drawing import Page, Size, Words
from sumpwright.report.drawing import Path as Line
from sumpwright.report.drawing_depth import depth_page
from sumpwright.report.drawing_label import Taken, words_box
from sumpwright.report.drawing_section import section_page
from sumpwright.studies.body_file import read_bodies
from sumpwright.studies.make_whole import whole_pan
from tests.studies.box_job import box_job
from tests.studies.halves_job import DEPTH, OUT, SIDES, WALL, halves_job


def answers(folder: Path) -> SimpleNamespace:
    """Of a pack, what these sheets are drawn from."""
    loaded = load_job(folder)
    bodies = read_bodies(loaded)
    whole = whole_pan(loaded, bodies, None)
    return SimpleNamespace(loaded=loaded, bodies=bodies, whole=whole, halved=None)


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory) -> SimpleNamespace:
    return answers(halves_job(tmp_path_factory.mktemp("section") / "job", end="stl"))


def figures(page: Page, *, upright: bool) -> list[float]:
    sizes = [s for s in page.items if isinstance(s, Size) and s.upright == upright]
    return sorted(round(s.paper * page.scale, 3) for s in sizes)


def test_both_cuts_have_depth_floor_wall_and_width(made: SimpleNamespace) -> None:
    page = section_page(made)
    deep, wall = 1e3 * DEPTH, 1e3 * WALL
    assert figures(page, upright=True) == pytest.approx(
        sorted([deep, deep + wall, wall] * 2), abs=1e-3
    )
    long, wide = (1e3 * (side + 2.0 * OUT) for side in SIDES)
    across = [1e3 * side for side in SIDES]
    assert figures(page, upright=False) == pytest.approx(
        sorted([long, wide, *across, wall, wall]), abs=1e-3
    )


@pytest.mark.parametrize(("split", "share"), [(-0.5 * DEPTH - 2e-3, 0.7), (-0.2 * DEPTH, 0.5)])
def test_the_width_is_measured_clear_of_the_split(
    made: SimpleNamespace, split: float, share: float
) -> None:
    halved = SimpleNamespace(result=SimpleNamespace(height_m=split))
    page = section_page(SimpleNamespace(**{**vars(made), "halved": halved}))
    said = [w.text for w in page.items if isinstance(w, Words) and w.text.startswith("at ")]
    assert said == [f"at {1e3 * share * DEPTH:g} below the rail"] * 2


def test_the_opening_is_open(made: SimpleNamespace) -> None:
    page = section_page(made)
    metal = [item for item in page.items if isinstance(item, Line) and item.layer == "METAL"]
    assert len(metal) == 2
    for item in metal:
        (loop,) = item.loops  # one piece from flange to flange, with nothing across
        after = np.roll(loop, -1, axis=0)
        level = (loop[:, 1] > loop[:, 1].max() - 1e-6) & (after[:, 1] > loop[:, 1].max() - 1e-6)
        longest = page.scale * np.abs(after - loop)[level, 0].max()
        assert longest <= 1e3 * OUT + 1e-3


def test_of_an_inside_alone_the_inside_is_drawn_and_that_is_said(tmp_path: Path) -> None:
    page = section_page(answers(box_job(tmp_path / "job")))
    assert not [i for i in page.items if isinstance(i, Line) and i.layer == "METAL"]
    said = [w.text for w in page.items if isinstance(w, Words)]
    assert "The job gives no outside: only the inside is drawn." in said
    assert figures(page, upright=True) == [100.0, 100.0]


def test_depths_stand_clear_of_the_lines_of_equal_depth(made: SimpleNamespace) -> None:
    page = depth_page(made)
    lines = [item for item in page.items if isinstance(item, Line) and item.closed]
    taken = Taken([[*loop, loop[0]] for line in lines for loop in line.loops])
    depths = [w for w in page.items if isinstance(w, Words) and w.text == "100"]
    assert len(depths) > 20
    assert all(taken.clear(words_box(w)) for w in depths)
    assert figures(page, upright=False) == pytest.approx([1e3 * SIDES[0]], abs=1e-3)
    assert figures(page, upright=True) == pytest.approx([1e3 * SIDES[1]], abs=1e-3)
