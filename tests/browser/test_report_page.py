# SPDX-License-Identifier: Apache-2.0
"""Report pages on a phone: figures stay whole, tables slide sideways, the page does not."""

from datetime import UTC, datetime
from typing import Any

import pytest

from sumpwright.report.content import content_of
from sumpwright.report.feed_content import feed_content
from sumpwright.report.feed_page import feed_html
from sumpwright.report.html import html_of
from tests.report.sample_feed import SAMPLES, sample_feed_result
from tests.report.sample_result import sample_result

MADE = datetime(2031, 5, 4, 9, 30, tzinfo=UTC)
WIDTHS = (400, 768, 1280)
BROKEN = """() => [...document.querySelectorAll(".sheet td.n")].filter(cell => {
  const range = document.createRange();
  range.selectNodeContents(cell);
  return new Set([...range.getClientRects()].map(box => Math.round(box.top))).size > 1;
}).map(cell => cell.textContent)"""


def check_page() -> bytes:
    return html_of(content_of(sample_result(), made=MADE), {})


def feed_page() -> bytes:
    return feed_html(feed_content(sample_feed_result(next(iter(SAMPLES))), made=MADE), {})


@pytest.mark.parametrize("made", [check_page, feed_page])
@pytest.mark.parametrize("width", WIDTHS)
def test_no_figure_of_a_table_breaks_into_lines(chromium: Any, made: Any, width: int) -> None:
    page = chromium.new_page(viewport={"width": width, "height": 900})
    try:
        page.set_content(made().decode("utf-8"))
        assert page.locator(".sheet td.n").count() > 20
        assert page.evaluate(BROKEN) == []
        assert page.evaluate("document.documentElement.scrollWidth") <= width
    finally:
        page.close()
