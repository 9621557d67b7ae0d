# SPDX-License-Identifier: Apache-2.0
"""What a person does with the page, from nothing to a printed sheet."""

import re
import shutil
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from typer.testing import CliRunner

from sumpwright.cli.main import app
from tests.browser.conftest import Served, Window, settled

Open = Callable[..., Window]
Serve = Callable[..., Served]
Copy = Callable[..., Path]
SOON, LATE = 60_000, 180_000


def says(page: Any, word: str, timeout: int = SOON) -> None:
    """Wait until the route card's verdict is `word`."""
    page.locator(f".verdict.is-{word.replace(' ', '-')}").first.wait_for(timeout=timeout)


def field(page: Any, key: str) -> Any:
    """Where the value of `key` is typed, brought into sight."""
    page.get_by_label("Find a number").fill(key)
    box = page.locator(f'[data-key="{key}"] input').first
    box.wait_for(timeout=SOON)
    return box


def written(page: Any, key: str) -> None:
    """Wait until what was typed for `key` is in the file, whatever the verdict makes of it."""
    said = f'[data-key="{key}"] :is(.after-line:has-text("In the file"), .outcome)'
    page.locator(said).first.wait_for(timeout=SOON)


def type_in(page: Any, key: str, text: str) -> None:
    box = field(page, key)
    box.fill(text)
    box.press("Enter")


@pytest.fixture
def job(own: Serve, job_copy: Copy) -> tuple[Path, Served]:
    """A demo job of the test's own, and its server."""
    folder = job_copy()
    return folder, own(folder)


def test_a_new_job_has_a_verdict_in_one_click(own: Serve, window: Open, tmp_path: Path) -> None:
    page = window(own(None, tmp_path)).page
    page.get_by_role("button", name="Make the job").click()
    settled(page)
    page.locator(".verdict.is-met, .verdict.is-not-met").first.wait_for(timeout=SOON)
    assert (tmp_path / "my-pan" / "job.yaml").is_file()


def test_the_demo_has_a_verdict_in_one_click(own: Serve, window: Open, tmp_path: Path) -> None:
    page = window(own(None, tmp_path)).page
    page.get_by_role("button", name="Demo, revision A").click()
    says(page, "not met", LATE)
    assert "Dunlin" in page.locator("body").inner_text()


def test_an_edit_changes_the_verdict_and_undo_brings_it_back(
    job: tuple[Path, Served], window: Open
) -> None:
    folder, served = job
    before = (folder / "job.yaml").read_bytes()
    page = window(served).show("numbers")
    says(page, "met", LATE)
    type_in(page, "oil.fill", "4.9 L")
    says(page, "not met")
    after = (folder / "job.yaml").read_text("utf-8")
    old, new = before.decode().splitlines(), after.splitlines()
    assert [b for a, b in zip(old, new, strict=True) if a != b] == [
        b.replace("4.5 L", "4.9 L") for a, b in zip(old, old, strict=True) if "fill: 4.5 L" in a
    ][:1]
    page.get_by_role("button", name="Undo").first.click()
    says(page, "met", LATE)
    assert (folder / "job.yaml").read_bytes() == before


def test_a_number_that_cannot_be_is_refused_in_the_commands_words(
    demo: Served, window: Open
) -> None:
    page = window(demo).show("numbers")
    folder = Path(page.request.get(f"{demo.home}/api/state").json()["folder"])
    before = (folder / "job.yaml").read_bytes()
    said = CliRunner().invoke(app, ["set", str(folder), "oil.fill", "4,5 L"]).stderr
    needed = re.search(r"needed\s+(.+)", said)
    type_in(page, "oil.fill", "4,5 L")
    row = page.locator('[data-key="oil.fill"]')
    row.get_by_role("alert").first.wait_for(timeout=SOON)
    assert needed is not None
    assert needed[1].strip() in row.inner_text()
    assert (folder / "job.yaml").read_bytes() == before


def test_two_windows_lose_nothing_of_one_another(job: tuple[Path, Served], window: Open) -> None:
    folder, served = job
    one, two = window(served).show("numbers"), window(served).show("numbers")
    type_in(one, "oil.fill", "4.4 L")
    type_in(two, "oil.hot", "101 degC")
    written(one, "oil.fill")
    written(two, "oil.hot")
    text = (folder / "job.yaml").read_text("utf-8")
    assert "fill: 4.4 L" in text
    assert "101 degC" in text


def test_a_change_from_outside_is_noticed_and_never_overwritten(
    job: tuple[Path, Served], window: Open
) -> None:
    folder, served = job
    page = window(served).show("numbers")
    box = field(page, "oil.fill")
    box.fill("4.3 L")  # not yet entered
    path = folder / "job.yaml"
    path.write_text(path.read_text("utf-8").replace("fill: 4.5 L", "fill: 4.45 L", 1), "utf-8")
    page.get_by_text("job.yaml was changed outside").first.wait_for(timeout=SOON)
    box = page.locator('[data-key="oil.fill"] input').first
    assert box.input_value() == "4.3 L"
    box.press("Enter")
    page.get_by_role("button", name="Theirs: 4.45 L").wait_for(timeout=SOON)
    assert "fill: 4.45 L" in path.read_text("utf-8")


def test_the_oil_is_tilted_and_the_pickup_uncovers(
    own: Serve, window: Open, job_copy: Copy
) -> None:
    page = window(own(job_copy("demo-a"))).show("hold")
    pad = page.locator(".pad").first
    pad.focus()
    page.locator("strong", has_text="Pickup covered").wait_for(timeout=SOON)
    for _ in range(14):
        pad.press("ArrowRight")  # right turn: the demo's first revision fails there
    page.locator("strong", has_text="Pickup uncovered").wait_for(timeout=SOON)
    pad.press("Home")
    page.locator("strong", has_text="Pickup covered").wait_for(timeout=SOON)


def test_a_figure_eight_is_driven_and_played(demo: Served, window: Open) -> None:
    page = window(demo).show("drive")
    settled(page)
    page.get_by_label("Manoeuvre").select_option("eight")
    page.get_by_role("button", name="Drive it").click()
    time = page.get_by_label("Time", exact=True)
    time.wait_for(timeout=LATE)
    settled(page)
    page.get_by_role("button", name="Play", exact=True).click()
    page.wait_for_function(
        "() => Number(document.querySelector('input[type=range][aria-label=Time]').value) > 0.3",
        timeout=SOON,
    )


def test_a_dropped_log_shows_its_dips(own: Serve, window: Open, job_copy: Copy) -> None:
    folder = job_copy("demo-a")
    log = folder.parent / "a day.csv"
    shutil.move(folder / "tests" / "skidpad.csv", log)
    page = window(own(folder)).show("prove")
    page.get_by_role("button", name="What did the log say?").click()
    page.locator("input[type=file]").first.set_input_files(log)
    page.get_by_role("button", name="Read it").wait_for(timeout=SOON)
    page.get_by_role("button", name="Read it").click()
    page.get_by_role("heading", name="What it said").wait_for(timeout=LATE)
    assert list((folder / "tests").glob("*.csv"))
    page.locator("main").get_by_text(re.compile(r"\d+ dips")).first.wait_for(timeout=SOON)
    assert "right" in page.locator("main").inner_text()


def test_long_work_is_stopped_and_outlives_its_window(
    job: tuple[Path, Served], window: Open
) -> None:
    folder, served = job
    text = (folder / "job.yaml").read_text("utf-8")
    start, end = text.index("  baffles:"), text.index("  suction:")
    (folder / "job.yaml").write_text(text[:start] + text[end:], "utf-8")  # one body of oil is quick
    first = window(served)
    page = first.show("hold")
    settled(page)
    page.get_by_role("button", name="Find the times").click()
    page.get_by_role("button", name=re.compile("^Stop")).first.click()
    settled(page)
    page.get_by_role("button", name="Find the times").click()
    page.wait_for_timeout(1_000)
    first.context.close()
    again = window(served).show("hold")
    settled(again, 300.0)
    again.get_by_role("heading", name="How long it holds, in motion").scroll_into_view_if_needed()
    assert again.get_by_role("button", name="Find the times").count() == 0


def test_the_test_sheets_are_made_and_print(demo: Served, window: Open) -> None:
    page = window(demo).show("prove")
    settled(page)
    page.get_by_role("button", name="Make the sheets to print").click()
    link = page.locator('a[href*="/api/out/"][href$=".pdf"]').first
    link.wait_for(timeout=LATE)
    got = page.request.get(f"{demo.home}{link.get_attribute('href')}")
    assert got.status == 200
    assert got.body().startswith(b"%PDF")
    page.emulate_media(media="print")
    assert page.pdf().startswith(b"%PDF")
