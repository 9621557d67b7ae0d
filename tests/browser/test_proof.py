# SPDX-License-Identifier: Apache-2.0
"""What a person does with evidence: a log looked at and filed, a teardown, a release."""

import re
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest

from tests.browser.conftest import Served, Window
from tests.browser.ending import ending

Open = Callable[..., Window]
Serve = Callable[..., Served]
Copy = Callable[..., Path]
SOON, LATE = 60_000, 180_000
PNG = b"\x89PNG\r\n\x1a\n\x00\x00\x00\rIHDR" + b"\x00" * 40  # ISO/IEC 15948, 5.2: enough to be one


def reading(page: Any, name: str) -> None:
    """Read a log without the network, and wait for what it said."""
    page.get_by_role("button", name="What did the log say?").click()
    page.get_by_role("button", name=name, exact=True).click()
    page.get_by_label("and hold what the network says").uncheck()
    page.get_by_role("button", name="Read it").click()
    page.get_by_role("heading", name="What it said").wait_for(timeout=LATE)


@pytest.fixture(scope="module")
def job(serve: Serve, job_copy: Copy) -> Iterator[tuple[Path, Served]]:
    """The demo's first revision and its server; records come to it, nothing else changes."""
    folder = job_copy("demo-a")
    with ending(serve) as start:
        yield folder, start(folder)


def test_a_dip_is_shown_in_the_charts_and_its_log_filed(
    job: tuple[Path, Served], window: Open
) -> None:
    folder, served = job
    page = window(served).show("prove")
    reading(page, "skidpad.csv")
    page.get_by_text("Every one of 7,500 rows").wait_for(timeout=SOON)
    page.locator(".event-key").nth(3).click()
    measured = page.locator(".chart-line", has_text="measured").first
    measured.filter(has_not_text=re.compile(r"\d to \d")).wait_for(timeout=SOON)  # at the cursor
    assert page.locator(".chart-span[aria-current=true]").count() == 1
    assert page.get_by_role("button", name="Show all", exact=True).is_enabled()
    page.get_by_role("button", name="File it as a record").click()
    page.get_by_text("counts for this part").wait_for(timeout=SOON)
    assert len(list((folder / "records").glob("log-A-*.yaml"))) == 1


def test_what_a_log_says_is_text_and_never_page(own: Serve, window: Open, job_copy: Copy) -> None:
    folder = job_copy("demo-a")
    path = folder / "tests" / "skidpad.csv"
    text = path.read_text("utf-8")
    evil = "<img src=x onerror=document.title='gone'>"
    path.write_text(text.replace("Road Speed [km/h]", f"Road Speed {evil} [km/h]"), "utf-8")
    page = window(own(folder)).show("prove")
    reading(page, "skidpad.csv")
    assert page.locator("main img").count() == 0
    assert "onerror" in page.locator("main").inner_html()
    assert "gone" not in page.title()


def test_a_teardown_is_mended_beside_its_line_and_filed_once(
    job: tuple[Path, Served], window: Open, tmp_path: Path
) -> None:
    folder, served = job
    (tmp_path / "screen.jpg").write_bytes(PNG)
    page = window(served).show("strip")
    page.get_by_role("button", name="Teardown").click()
    page.get_by_label("By", exact=False).first.fill("Ada Quill")
    for name, text in (("Level in", "5.1"), ("Level out", "4.9 L")):
        page.get_by_label(re.compile(f"^{name}")).fill(text)
    for says, word in (("Its condition.", "good"), ("What lay in the pan.", "none"),
                       ("The pickup's screen.", "clean")):  # fmt: skip
        page.get_by_label(says).first.select_option(word)
    for row in page.locator("fieldset", has_text="Doors").locator(".yes-no").all():
        row.get_by_label("yes").check()
    page.get_by_label("Which.").first.fill("sump to flange")
    page.locator("fieldset", has_text="Welds").get_by_label("yes").first.check()
    page.locator("fieldset.photos input[type=file]").set_input_files(tmp_path / "screen.jpg")
    page.get_by_role("button", name="leave out").wait_for(timeout=SOON)
    page.get_by_role("button", name="File it").click()
    page.get_by_text("write its unit behind the number, as in '5.1 L'").wait_for(timeout=SOON)
    assert not list((folder / "records").glob("teardown-*.yaml"))
    page.get_by_label(re.compile("^Level in")).fill("5.1 L")
    page.get_by_role("button", name="File it").click()
    page.get_by_text("Teardown filed as").wait_for(timeout=SOON)
    filed = next((folder / "records").glob("teardown-A-*.yaml")).read_text("utf-8")
    assert "level_in: 5.1 L" in filed
    assert "records/photos/photo-screen.png" in filed


def test_a_refused_release_names_what_is_missing_and_leads_to_it(
    job: tuple[Path, Served], window: Open
) -> None:
    _, served = job
    page = window(served).show("release")
    page.get_by_text("Not yet:").wait_for(timeout=LATE)
    page.get_by_role("link", name="Fill in the leak test").click()
    page.get_by_role("heading", name="Leak test").wait_for(timeout=SOON)
    assert page.evaluate("location.hash") == "#/strip"


def test_a_revision_with_its_evidence_is_released(demo: Served, window: Open) -> None:
    page = window(demo).show("release")
    folder = Path(page.request.get(f"{demo.home}/api/state").json()["folder"])
    page.get_by_label("Torque of the pan's bolts").fill("10 Nm, crosswise", timeout=LATE)
    page.get_by_role("button", name="Release revision B").click()
    page.get_by_text("Revision B is released").wait_for(timeout=LATE)
    assert "10 Nm, crosswise" in (folder / "out" / "release-B.html").read_text("utf-8")
