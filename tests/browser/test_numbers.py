# SPDX-License-Identifier: Apache-2.0
"""Numbers typed in the page: into the file, to the verdict and back, over nobody's work."""

from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import expect

from tests.browser.conftest import Served, Window
from tests.browser.ending import ending

Open = Callable[..., Window]
FILL = '[data-key="oil.fill"]'
SLOW = 120_000
"""ms; a verdict from nothing on a busy machine"""


@pytest.fixture
def job(job_copy: Callable[..., Path]) -> Path:
    """A job of one's own to change."""
    return job_copy()


@pytest.fixture
def served(serve: Callable[..., Served], job: Path) -> Iterator[Served]:
    """The server of that job; it ends with the test."""
    with ending(serve) as start:
        yield start(job)


def fill_box(page: Any) -> Any:
    page.wait_for_selector(FILL, timeout=30_000)
    return page.locator(f"{FILL} input").first


def verdict_known(page: Any) -> None:
    page.wait_for_selector(".verdict.is-met, .verdict.is-not-met", timeout=SLOW)


def written(page: Any) -> None:
    """Wait until the fill that was typed is in the file."""
    said = f"{FILL} .after-line:has-text('In the file'), {FILL} .outcome"
    page.wait_for_selector(said, timeout=SLOW)


def test_an_edit_says_what_the_verdict_makes_of_it(job: Path, served: Served, window: Open) -> None:
    before = (job / "job.yaml").read_bytes()
    page = window(served).show("numbers")
    verdict_known(page)
    box = fill_box(page)
    box.fill("4.0 L")
    box.press("Enter")
    page.wait_for_selector(f'{FILL} .outcome:has-text("met → not met")', timeout=SLOW)
    assert "not met" in page.locator(".card .verdict").inner_text()
    text = (job / "job.yaml").read_text("utf-8")
    assert "  fill: 4.0 L # stands in the new pan at its full mark" in text, "the comment is gone"

    page.get_by_role("button", name="Undo").first.click()
    expect(box).to_have_value("4.5 L", timeout=SLOW)
    assert (job / "job.yaml").read_bytes() == before


def test_two_windows_do_not_write_over_each_other(job: Path, served: Served, window: Open) -> None:
    opened = window(served)
    one, two = opened.show("numbers"), window(served)
    boxes = fill_box(one), fill_box(two.show("numbers"))
    boxes[0].fill("4.1 L")
    boxes[1].fill("4.4 L")
    boxes[0].press("Enter")
    written(one)
    boxes[1].press("Enter")
    two.page.wait_for_selector(f"{FILL} .conflict", timeout=SLOW)
    assert "Theirs: 4.1 L" in two.page.locator(f"{FILL} .conflict").inner_text()
    assert "  fill: 4.1 L " in (job / "job.yaml").read_text("utf-8")
    two.page.get_by_role("button", name="Mine: 4.4 L").click()
    written(two.page)
    assert "  fill: 4.4 L " in (job / "job.yaml").read_text("utf-8")
    one.wait_for_selector('[aria-label="Changed outside"]', timeout=SLOW)
    assert boxes[0].input_value() == "4.1 L", "what this window saw is not changed unasked"


def test_a_change_by_an_editor_is_offered(job: Path, served: Served, window: Open) -> None:
    page = window(served).show("numbers")
    box = fill_box(page)
    text = (job / "job.yaml").read_text("utf-8")
    (job / "job.yaml").write_text(text.replace("  fill: 4.5 L", "  fill: 4.6 L"), "utf-8")
    page.wait_for_selector('[aria-label="Changed outside"]', timeout=SLOW)
    page.get_by_text("Show what changed").click()
    row = page.locator('[aria-label="Changed outside"] tbody tr').all_inner_texts()
    assert [cell.split("\t")[1:] for cell in row] == [["4.5 L", "4.6 L"]]
    assert box.input_value() == "4.5 L"
    page.get_by_role("button", name="Take them in").click()
    expect(box).to_have_value("4.6 L", timeout=SLOW)
    assert page.locator('[aria-label="Changed outside"]').count() == 0


def test_a_file_that_cannot_be_read_says_line_and_mend(
    job: Path, served: Served, window: Open
) -> None:
    page = window(served).show("numbers")
    fill_box(page)
    text = (job / "job.yaml").read_text("utf-8")
    (job / "job.yaml").write_text(text.replace("  fill: 4.5 L", "  fill: 45"), "utf-8")
    page.wait_for_selector(".notice.is-wrong", timeout=SLOW)
    said = page.locator(".notice.is-wrong").inner_text()
    assert "oil.fill" in said
    assert "write its unit behind the number, as in '45 L'" in said
    other = window(served).show("strip")
    other.get_by_text("The form comes once the job is mended.").wait_for(timeout=SLOW)
    assert other.locator(".notice.is-wrong").count() == 1
    assert other.locator("main").inner_text().count("oil.fill") == 0, "said once, above"
    page.get_by_role("button", name="Mend it").click()
    expect(page.locator(f"{FILL} input").first).to_be_focused()
    (job / "job.yaml").write_text(text, "utf-8")
    page.wait_for_selector(".notice.is-wrong", state="detached", timeout=SLOW)


def test_an_entry_is_taken_out_and_brought_back(job: Path, served: Served, window: Open) -> None:
    before = (job / "job.yaml").read_bytes()
    page = window(served).show("numbers")
    fill_box(page)
    for key in ("obstacles", "obstacles.steering rack"):
        page.locator(f'details[data-section="{key}"] > summary').click()
    page.get_by_role("button", name="Take out: steering rack").click()
    gone = 'details[data-section="obstacles.steering rack"]'
    page.wait_for_selector(gone, state="detached", timeout=SLOW)
    assert "steering rack" not in (job / "job.yaml").read_text("utf-8")
    page.get_by_role("button", name="Undo").first.click()
    page.wait_for_selector(gone, timeout=SLOW)
    assert (job / "job.yaml").read_bytes() == before


def test_what_is_looked_for_is_found(demo: Served, window: Open) -> None:
    page = window(demo).show("numbers")
    fill_box(page)
    page.get_by_label("Find a number").fill("wire")
    page.wait_for_selector('[data-key="new.suction.screen.wire"]')
    assert page.locator(FILL).count() == 0
    page.get_by_label("Find a number").press("Escape")
    page.wait_for_selector(FILL)


def test_a_value_of_a_list_is_typed_like_any_other(job: Path, served: Served, window: Open) -> None:
    page = window(served).show("numbers")
    fill_box(page)
    page.get_by_label("Find a number").fill("gears")
    gears = page.locator('[data-key="driveline.gears"] .entry-list input')
    expect(gears.nth(1)).to_have_value("2.01", timeout=SLOW)
    for at, text in ((1, "2.05"), (2, "1.30")):  # one after the other: our own is no conflict
        with page.expect_response("**/api/set") as said:
            gears.nth(at).fill(text)
            gears.nth(at).press("Enter")
        assert said.value.status == 200
    page.locator('[data-key="driveline.gears"] .after-line').wait_for(timeout=SLOW)
    expect(gears.nth(2)).to_have_value("1.30")
    assert "gears: [3.36, 2.05, 1.30, 1.00, 0.84]" in (job / "job.yaml").read_text("utf-8")
    gears.nth(3).fill("1 mm")
    gears.nth(3).press("Enter")
    page.locator('[data-key="driveline.gears"] .problem').first.wait_for(timeout=SLOW)


def test_an_unnamed_entry_s_neighbour_is_not_changed_in_its_place(
    job: Path, served: Served, window: Open
) -> None:
    """Both bends of a tube are alike; one goes in another window while this one has both."""
    one, two = window(served).show("numbers"), window(served).show("numbers")
    for page in (one, two):
        fill_box(page)
        page.get_by_label("Find a number").fill("tubes")
    bends = 'details[data-section="new.suction.tubes.0.bends.0"]'
    two.locator(bends).get_by_role("button", name="Take out").click()
    one.locator('[aria-label="Changed outside"]').wait_for(timeout=SLOW)
    before = (job / "job.yaml").read_bytes()
    radius = one.locator('[data-key="new.suction.tubes.0.bends.0.radius"]')
    radius.locator("input").fill("25 mm")
    radius.locator("input").press("Enter")
    radius.get_by_text("has changed the entry that this one is in").wait_for(timeout=SLOW)
    assert (job / "job.yaml").read_bytes() == before
    radius.get_by_role("button", name="Mine: 25 mm").click()
    radius.locator(".after-line").wait_for(timeout=SLOW)
    assert "{ angle: 72 deg, radius: 25 mm }" in (job / "job.yaml").read_text("utf-8")
