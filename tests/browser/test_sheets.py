# SPDX-License-Identifier: Apache-2.0
"""Every sheet of the page opens, can be read by everybody, and fits its window."""

from collections.abc import Callable
from typing import Any

import pytest

from tests.browser.conftest import LAPTOP, SHOTS, TABLET, Served, Window, settled

OPERATIONS = ("numbers", "measure", "hold", "drive", "feed", "prove", "strip", "release")
SIZES = {"laptop": LAPTOP, "tablet": TABLET, "phone": {"width": 390, "height": 844}}
Open = Callable[..., Window]


def serious(page: Any) -> list[str]:
    """What an accessibility audit finds serious, with the place."""
    from axe_playwright_python.sync_playwright import Axe

    found = Axe().run(page).response["violations"]
    return [
        f"{v['id']}: {v['help']}: {v['nodes'][0]['html'][:160]}"
        for v in found
        if v["impact"] in ("serious", "critical")
    ]


@pytest.mark.parametrize("operation", OPERATIONS)
@pytest.mark.parametrize("size", SIZES)
def test_a_sheet_opens_and_fits(demo: Served, window: Open, operation: str, size: str) -> None:
    page = window(demo, SIZES[size], has_touch=size != "laptop").show(operation)
    settled(page)
    SHOTS.mkdir(parents=True, exist_ok=True)
    page.screenshot(path=SHOTS / f"{operation}-{size}.png")
    over = page.evaluate("document.documentElement.scrollWidth - innerWidth")
    assert over <= 0, f"the sheet is {over} px wider than its window"


@pytest.mark.parametrize("operation", OPERATIONS)
@pytest.mark.parametrize("theme", ["light", "dark"])
def test_everybody_can_use_a_sheet(demo: Served, window: Open, operation: str, theme: str) -> None:
    page = window(demo, color_scheme=theme).show(operation)
    settled(page)
    SHOTS.mkdir(parents=True, exist_ok=True)
    page.screenshot(path=SHOTS / f"{operation}-{theme}.png", full_page=True)
    assert serious(page) == []


@pytest.mark.parametrize("operation", OPERATIONS)
def test_every_control_is_reached_by_keyboard(demo: Served, window: Open, operation: str) -> None:
    page = window(demo).show(operation)
    settled(page)
    stuck = page.evaluate(
        """() => [...document.querySelectorAll('button,a[href],input,select,textarea')]
            .filter(e => e.offsetParent && e.tabIndex < 0)
            .filter(e => !e.closest('[role=radiogroup],[role=tablist]'))
            .map(e => e.outerHTML.slice(0, 120))"""
    )
    assert stuck == []
