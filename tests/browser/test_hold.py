# SPDX-License-Identifier: Apache-2.0
"""The tilted oil on the page: the study's numbers, one question at a time, drawn or said why."""

import json
import re
from collections.abc import Callable
from typing import Any

import pytest

from sumpwright.cli.compartments_text import compartments_text
from sumpwright.studies.compartment import compartments_of
from sumpwright.units import shown
from sumpwright.web.kept_job import tilted
from tests.browser.conftest import DEMO, Served, Window, settled

Open = Callable[..., Window]
_NO_WEBGL = """
    const plain = HTMLCanvasElement.prototype.getContext;
    HTMLCanvasElement.prototype.getContext = function (kind, ...more) {
        return kind.startsWith("webgl") ? null : plain.call(this, kind, ...more);
    };
"""


def push(page: Any, key: str, times: int) -> None:
    pad = page.locator(".pad").first
    pad.focus()
    for _ in range(times):
        pad.press(key)


def looks(page: Any) -> bytes:
    """The 3D view as it is on the screen."""
    page.wait_for_timeout(800)
    return bytes(page.locator(".pan-stage canvas").screenshot())


def cover_text(page: Any) -> str:
    return str(page.locator(".cover").first.inner_text())


@pytest.mark.parametrize("mode", ["settled", "sudden"])
def test_the_cover_on_the_page_is_the_studys(demo: Served, window: Open, mode: str) -> None:
    page = window(demo).show("hold")
    settled(page)
    page.get_by_role("button", name=mode.capitalize()).click()
    push(page, "ArrowLeft", 9)  # left turn 0.45 g
    page.get_by_text("Left turn 0.45 g", exact=False).first.wait_for()
    study = tilted(DEMO / "demo-b", 0.0, 0.45, mode)
    wanted = shown(abs(study["cover_m"]), "length").replace(" ", "\u00a0")
    page.locator(".cover", has_text=wanted).first.wait_for(timeout=20_000)
    assert ("Pickup covered" in cover_text(page)) == study["covered"]


def test_the_picture_follows_the_oil_and_then_rests(demo: Served, window: Open) -> None:
    page = window(demo).show("hold")
    settled(page)
    before = looks(page)
    assert looks(page) == before  # nothing moves by itself
    push(page, "ArrowUp", 8)
    page.get_by_text("the oil climbs the rear wall").first.wait_for()
    assert looks(page) != before
    page.locator(".pan-stage").focus()
    tilt = looks(page)
    page.keyboard.press("ArrowLeft")
    assert looks(page) != tilt


def test_no_more_than_one_tilt_is_on_its_way(demo: Served, window: Open) -> None:
    opened = window(demo)
    flow: list[int] = []

    def count(frame: Any, step: int) -> None:
        if isinstance(frame, str) and json.loads(frame).get("type") == "tilt":
            flow.append((flow[-1] if flow else 0) + step)

    def listen(socket: Any) -> None:
        socket.on("framesent", lambda frame: count(frame, 1))
        socket.on("framereceived", lambda frame: count(frame, -1))

    opened.page.on("websocket", listen)
    opened.page.reload()
    page = opened.show("hold")
    settled(page)
    push(page, "ArrowLeft", 20)
    page.get_by_text("Left turn 1.00 g", exact=False).first.wait_for()
    page.wait_for_timeout(1_000)
    # on a busy machine twenty pushes may need no more questions than the first and the last
    assert len(flow) >= 4
    assert set(flow) == {0, 1}
    assert flow[-1] == 0


def test_without_webgl_a_sentence_and_the_numbers_stand_there(demo: Served, window: Open) -> None:
    opened = window(demo)
    opened.page.add_init_script(_NO_WEBGL)
    opened.page.reload()
    page = opened.show("hold")
    page.get_by_text("This browser cannot draw in 3D here").wait_for(timeout=60_000)
    page.get_by_role("button", name="Make the report's pictures").wait_for()
    push(page, "ArrowLeft", 4)
    page.get_by_text(re.compile("Pickup covered|Pickup uncovered")).first.wait_for()


def test_the_compartments_are_those_of_the_command(demo: Served, window: Open) -> None:
    """`sumpwright compartments` and the page say the same of every way, line for line."""
    said = compartments_text(compartments_of(DEMO / "demo-b"), None)
    told = [line for line in re.sub(r"\n    +", " ", said).splitlines() if line.startswith("  ")]
    ways = [line.strip() for line in told if " of " in line]
    page = window(demo).show("hold")
    table = page.locator("table.compartments")
    table.wait_for(timeout=60_000)
    page.get_by_text("Doors, windows and gaps between them").click()
    assert page.locator(".passages li").all_inner_texts() == ways
    rows = [row.replace("\u00a0", " ") for row in table.locator("tbody tr").all_inner_texts()]
    cells = [re.split(r"  +", line.strip()) for line in told if " of " not in line]
    assert [re.split(r"\s*\t", row) for row in rows] == [
        [f"{name} {where}", holds, rest] for name, where, holds, rest in cells
    ]
