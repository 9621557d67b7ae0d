# SPDX-License-Identifier: Apache-2.0
"""The page that is shipped is the one that its sources say, whole, and stays on this machine."""

import re
from pathlib import Path

import pytest

from tools.page_stamp import STAMP, STATIC, stamp

TEXTS = sorted(p for p in STATIC.rglob("*") if p.suffix in (".html", ".js", ".css", ".svg"))
NAMES_ONLY = ("http://www.w3.org/", "https://www.w3.org/")
"""Names of XML languages, never fetched."""


def test_the_page_was_built_from_these_sources() -> None:
    assert STAMP.read_text("utf-8").strip() == stamp(), "run `make page` and commit what it wrote"


def test_every_file_that_the_page_names_is_shipped() -> None:
    index = (STATIC / "index.html").read_text("utf-8")
    named = re.findall(r'(?:src|href)="/([^"]+)"', index)
    assert named
    assert [name for name in named if not (STATIC / name).is_file()] == []


def test_no_script_or_style_stands_in_the_page_itself() -> None:
    index = (STATIC / "index.html").read_text("utf-8")
    assert re.findall(r"<script(?![^>]*\bsrc=)[^>]*>", index) == []
    assert "<style" not in index
    assert re.findall(r"\son\w+=", index) == []


@pytest.mark.parametrize("path", TEXTS, ids=lambda p: p.name)
def test_nothing_is_fetched_from_elsewhere(path: Path) -> None:
    text = path.read_text("utf-8")
    fetched = re.findall(
        r"""(?:fetch\(|import\(|@import|src=|href=|url\(|WebSocket\()\s*["'`]?(https?:|wss?:|//)[^\s"'`)]*""",
        text,
    )
    assert [f for f in fetched if not f.startswith(NAMES_ONLY) and f != "ws:"] == []
