# SPDX-License-Identifier: Apache-2.0
"""The feed's own page and its part of the check's say the same as the result."""

import re
from datetime import UTC, datetime
from html import unescape
from io import BytesIO
from pathlib import Path

import pytest
from pypdf import PdfReader

from sumpwright.report.content import content_of
from sumpwright.report.draw import draw_all
from sumpwright.report.feed_content import feed_content, feed_pictures
from sumpwright.report.feed_page import feed_html
from sumpwright.report.feed_write import write_feed
from sumpwright.report.html import html_of
from sumpwright.report.pdf import pdf_of
from sumpwright.report.sheet_feed import FEED_TABLES, feed_tables
from tests.report.sample import bare_scene, sample_scene
from tests.report.sample_feed import SAMPLES, sample_feed_result
from tests.report.sample_result import bare_result, sample_result

MADE = datetime(2031, 5, 4, 9, 30, tzinfo=UTC)
TITLES = (
    "Oil feed: what is left at the pump's inlet",
    "Oil feed: where the pressure goes",
    "Oil feed: how fast the engine may turn",
    "Left at the pump's inlet",
    "Engine speed allowed",
    "Where the pressure goes",
)


def text_of(pdf: bytes) -> str:
    pages = PdfReader(BytesIO(pdf)).pages
    return re.sub(r"\s+", " ", " ".join(page.extract_text() for page in pages))


@pytest.mark.parametrize("name", list(SAMPLES))
def test_a_page_of_its_own_says_verdict_pictures_and_tables(name: str) -> None:
    result = sample_feed_result(name)
    content = feed_content(result, made=MADE)
    pictures = feed_pictures(result.feed, result.units)
    page = unescape(feed_html(content, pictures).decode("utf-8"))
    pdf = text_of(pdf_of(content, pictures, made=MADE, order="feed.typ"))
    for words in (*TITLES, content.verdict, "Oil feed, cold and hot", "Assumptions"):
        assert words in page
        assert words in pdf
    for said in content.assumptions:
        assert said in page
    assert "<script" not in page


def test_the_checks_page_has_the_feed_where_there_is_one() -> None:
    result, scene = sample_result(), sample_scene()
    content, pictures = content_of(result, made=MADE), draw_all(result, scene)
    page = unescape(html_of(content, pictures).decode("utf-8"))
    pdf = text_of(pdf_of(content, pictures, made=MADE))
    for title in TITLES:
        assert title in page
        assert title in pdf


def test_a_job_without_a_feed_has_no_word_of_it() -> None:
    result = bare_result()
    pictures = draw_all(result, bare_scene())
    page = html_of(content_of(result, made=MADE), pictures).decode("utf-8")
    assert "Oil feed" not in page
    assert "pump's inlet" not in unescape(page)


@pytest.mark.parametrize("name", list(SAMPLES))
def test_every_row_of_a_table_is_as_long_as_its_head(name: str) -> None:
    result = sample_feed_result(name)
    tables = [t for t in feed_tables(result.feed, result.units) if t is not None]
    assert [t.key for t in tables] == list(FEED_TABLES[: len(tables)])
    for table in tables:
        assert {len(row) for row in table.rows} == {len(table.head)}


def test_writes_both_files_whole(tmp_path: Path) -> None:
    page, pdf = write_feed(sample_feed_result(), tmp_path)
    assert page.read_text("utf-8").startswith("<!doctype html>")
    assert pdf.read_bytes().startswith(b"%PDF")
