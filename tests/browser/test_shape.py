# SPDX-License-Identifier: Apache-2.0
"""What a person who looks for room does: lengths typed, refused beside their field, then drawn."""

from collections.abc import Callable
from pathlib import Path

from tests.browser.conftest import Served, Window
from tests.studies.box_job import JOB, box_job, box_mesh

Open = Callable[..., Window]
SOON = 60_000
UNDER = """\
pose: {height: 250 mm, x: 1000 mm}
obstacles: [{name: beam, file: geometry/beam.stl, unit: mm}]
"""
BEAM = box_mesh((1.1, -0.4, 0.11), (1.2, 0.4, 0.16))


def test_free_space_is_asked_as_on_a_command_and_drawn_among_the_obstacles(
    serve: Callable[..., Served], window: Open, tmp_path: Path
) -> None:
    page = window(serve(box_job(tmp_path / "job", JOB + UNDER, beam=BEAM))).show("shape")
    depth = page.get_by_label("Deepest", exact=True)
    depth.fill("60")
    depth.press("Enter")
    wrong = page.locator(".ask-wrong")
    wrong.wait_for(timeout=SOON)
    assert "write its unit behind the number, as in '60 mm'" in wrong.inner_text()
    depth.fill("60 mm")
    page.get_by_text("Ahead and behind, wall, corners, grid").click()
    page.get_by_label("Grid", exact=True).fill("12 mm")  # coarse is quick
    page.get_by_role("button", name="Find the free space").click()
    page.get_by_text("free space, a line every 10.0 mm of depth").wait_for(timeout=SOON)
    page.wait_for_timeout(500)
    picture = page.locator(".pan-stage canvas")
    with_it = picture.screenshot()
    page.get_by_text("Show and hide").click()
    page.get_by_label("Free space", exact=True).uncheck()
    page.wait_for_timeout(500)
    assert picture.screenshot() != with_it
