# SPDX-License-Identifier: Apache-2.0
"""The route card and the start: from nothing to a verdict, by finger or key, through trouble."""

from collections.abc import Callable
from pathlib import Path
from typing import Any

from playwright.sync_api import expect

from tests.browser.conftest import Served, Window
from tests.browser.test_numbers import SLOW, fill_box, verdict_known

Open = Callable[..., Window]
Serve = Callable[..., Served]
DROP = """([name, text]) => {
    const held = new DataTransfer();
    held.items.add(new File([text], name));
    for (const type of ["dragenter", "dragover", "drop"])
        document.body.dispatchEvent(
            new DragEvent(type, {dataTransfer: held, bubbles: true, cancelable: true}));
}"""


def said_of(page: Any, name: str) -> str:
    """What the page tells of a file, once it knows."""
    row = page.locator(".arrivals li", has_text=name)
    row.get_by_text("on its way").wait_for(state="detached", timeout=SLOW)
    return str(row.inner_text())


def test_a_bad_name_for_a_job_is_refused_where_it_was_typed(
    own: Serve, window: Open, tmp_path: Path
) -> None:
    opened = window(own(None, tmp_path))
    page = opened.page
    page.get_by_label("Folder for the job").fill("../elsewhere")
    page.get_by_role("button", name="Make the job").click()
    page.wait_for_selector(".way .problem")
    assert "letters, digits" in page.locator(".way .problem").inner_text()
    assert list(tmp_path.iterdir()) == []


def test_keys_go_from_row_to_row_and_past_the_card(demo: Served, window: Open) -> None:
    page = window(demo).show("numbers")
    page.reload()
    page.wait_for_selector(".row")
    page.keyboard.press("Tab")
    page.keyboard.press("Enter")
    assert page.evaluate("document.activeElement.id") == "sheet"
    page.locator(".row").first.focus()
    for _ in range(5):
        page.keyboard.press("ArrowDown")
    page.keyboard.press("Enter")
    page.wait_for_selector('main h1:has-text("Feed")')


def test_the_folded_card_opens_and_closes_by_key(demo: Served, window: Open) -> None:
    page = window(demo, {"width": 390, "height": 844}).show("numbers")
    page.locator(".strip-open").click()
    assert page.locator(".operations").is_visible()
    page.keyboard.press("Escape")
    assert not page.locator(".operations").is_visible()
    assert page.locator(".strip-stamps a").count() == 10


def test_an_open_requirement_leads_to_the_number_it_needs(
    own: Serve, window: Open, tmp_path: Path
) -> None:
    opened = window(own(None, tmp_path))
    opened.page.get_by_role("button", name="Make the job").click()
    verdict_known(opened.page)
    page = opened.show("hold")
    page.locator(".line > summary").first.click()
    page.get_by_role("button", name="new.pickup").first.click()
    page.wait_for_selector('details[data-section="new.pickup"][open]')


def test_files_dropped_on_the_window_say_where_they_went(
    job_copy: Callable[..., Path], own: Serve, window: Open
) -> None:
    job = job_copy()
    opened = window(own(job))
    page = opened.show("numbers")
    fill_box(page)
    for name, text in (
        ("day 2.csv", "time [s],oil pressure [kPa],turns\n0,300,900\n1,310,910\n2,305,905\n"),
        ("part.stl", "solid part\nendsolid part\n"),
        ("photo.jpg", "no geometry"),
    ):
        page.evaluate(DROP, [name, text])
    assert "tests/day-2.csv" in said_of(page, "day 2.csv")
    assert (job / "tests" / "day-2.csv").is_file()
    assert "no triangles" in said_of(page, "part.stl")
    assert "neither geometry" in said_of(page, "photo.jpg")
    assert not list((job / "geometry").glob("part*"))

    page.get_by_role("link", name="Go on with it in 50 Prove").click()
    read = page.get_by_role("button", name="Read it")
    page.get_by_text("First say under Columns which column is: engine speed.").wait_for(
        timeout=SLOW
    )
    picked = page.get_by_role("button", name="day-2.csv", exact=True)
    assert picked.get_attribute("aria-pressed") == "true"
    assert read.is_disabled()
    page.get_by_label("Column of engine speed").select_option("turns")
    expect(read).to_be_enabled()


def test_a_lost_line_is_told_and_loses_nothing(
    job_copy: Callable[..., Path], own: Serve, window: Open
) -> None:
    served = own(job_copy())
    opened = window(served)
    page = opened.show("numbers")
    box = fill_box(page)
    served.stop()
    page.wait_for_selector(".notice.is-lost", timeout=20_000)
    box.fill("4.2 L")
    box.press("Enter")
    page.get_by_role("button", name="Try again").wait_for()
    assert box.input_value() == "4.2 L"
    assert all("ERR_" in fault for fault in opened.faults), opened.faults
    opened.faults.clear()
    page.goto("about:blank")  # it would go on trying


def test_a_sheet_that_fails_leaves_the_rest_alive(demo: Served, window: Open) -> None:
    opened = window(demo)
    page = opened.show("numbers")
    broken = "export default function Sheet() { throw new Error('out of chalk'); }"
    page.route(
        "**/assets/Sheet-*.js", lambda r: r.fulfill(body=broken, content_type="text/javascript")
    )
    page.locator('.row[href="#/strip"]').click()
    page.wait_for_selector("main .problem")
    assert "out of chalk" in page.locator("main").inner_text()
    page.locator('.row[href="#/numbers"]').click()
    fill_box(page)
