# SPDX-License-Identifier: Apache-2.0
"""What a person who makes the pan does: the housing's figures, and a part to fetch."""

from collections.abc import Callable
from pathlib import Path

from tests.browser.conftest import Served, Window

Open = Callable[..., Window]


def test_the_housings_figures_are_there_and_its_solid_can_be_fetched(
    serve: Callable[..., Served], job_copy: Callable[..., Path], window: Open
) -> None:
    page = window(serve(job_copy("demo-c"))).show("make")
    page.get_by_text("Inlet over the floor").wait_for(timeout=180_000)  # asked for by itself
    said = page.locator("dt:has-text('Inlet over the floor') + dd").inner_text()
    assert said.replace("\u00a0", " ") == "7.0 mm"
    with page.expect_download() as fetched:  # as examples/demo-c/job.yaml says: over_floor 7 mm
        page.get_by_role("link", name="pickup-housing.step").click()
    assert Path(fetched.value.path()).read_bytes().startswith(b"ISO-10303-21;")  # ISO 10303-21
