# SPDX-License-Identifier: Apache-2.0
"""Every sheet of the page opens, can be read by everybody, and fits its window."""

from collections.abc import Callable
from typing import Any

import pytest

from tests.browser.conftest import LAPTOP, SHOTS, TABLET, Served, Window, settled

OPERATIONS = (
    *("numbers", "measure", "shape", "hold", "drive"),
    *("feed", "make", "prove", "strip", "release"),
)
SIZES = {"laptop": LAPTOP, "tablet": TABLET, "phone": {"width": 390, "height": 844}}
Open = Callable[..., Window]


def serious(page: Any, rules: tuple[str, ...] = ()) -> list[str]:
    """What an accessibility audit finds serious, with the place; by these rules, or by all."""
    from axe_playwright_python.sync_playwright import Axe

    only = {"runOnly": list(rules)} if rules else None
    found = Axe().run(page, options=only).response["violations"]
    return [
        f"{v['id']}: {v['help']}: {v['nodes'][0]['html'][:160]}"
        for v in found
        if v["impact"] in ("serious", "critical")
    ]


def keyless(page: Any) -> list[str]:
    """Controls that no Tab reaches; one of a group is enough."""
    return list(
        page.evaluate(
            """() => [...document.querySelectorAll('button,a[href],input,select,textarea')]
                .filter(e => e.offsetParent && e.tabIndex < 0)
                .filter(e => !e.closest('[role=radiogroup],[role=tablist]'))
                .map(e => e.outerHTML.slice(0, 120))"""
        )
    )


@pytest.mark.parametrize("operation", OPERATIONS)
def test_a_sheet_fits_every_window_and_everybody_can_use_it(
    demo: Served, window: Open, operation: str
) -> None:
    page = window(demo).show(operation)
    settled(page)
    SHOTS.mkdir(parents=True, exist_ok=True)
    assert keyless(page) == []
    for theme, rules in (("light", ()), ("dark", ("color-contrast",))):
        page.emulate_media(color_scheme=theme)
        page.wait_for_timeout(150)
        page.screenshot(path=SHOTS / f"{operation}-{theme}.png", full_page=True)
        assert serious(page, rules) == [], theme
    page.emulate_media(color_scheme="light")
    for name, size in SIZES.items():
        page.set_viewport_size(size)
        page.wait_for_timeout(200)  # charts and the picture take their new size with a frame
        page.screenshot(path=SHOTS / f"{operation}-{name}.png")
        over = page.evaluate("document.documentElement.scrollWidth - innerWidth")
        assert over <= 0, f"the sheet is {over} px wider than a {name}'s window"


_LAST_COLUMN = """canvas => {
    const {width, height} = canvas;
    const ink = canvas.getContext("2d").getImageData(width - 1, 0, 1, height).data;
    return ink.some((value, k) => k % 4 === 3 && value > 0);
}"""


def test_the_last_number_of_a_scale_is_whole_in_large_letters(demo: Served, window: Open) -> None:
    """WCAG 2.2, 1.4.4: letters at twice their size, and nothing is lost."""
    page = window(demo).show("numbers")
    page.evaluate("document.documentElement.style.fontSize = '225%'")
    page.evaluate("location.hash = '#/feed'")
    plots = page.locator(".chart-plot canvas")
    plots.nth(1).wait_for(timeout=60_000)  # its scale ends on a number: 100 degC
    page.wait_for_timeout(600)
    assert [plot.evaluate(_LAST_COLUMN) for plot in plots.all()] == [False] * plots.count()
