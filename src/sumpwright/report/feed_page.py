# SPDX-License-Identifier: Apache-2.0
"""The feed as a part of the check's page, and as a page of its own."""

from sumpwright.report.block import (
    cautions_of,
    ledger_of,
    listed,
    page_of,
    pictures_of,
    provenance_of,
    still_open,
    tables_of,
    top,
)
from sumpwright.report.content import Content
from sumpwright.report.sheet_feed import FEED_TABLES

PICTURES = ("feed", "feed-loss", "feed-speed")


def feed_of(content: Content, pictures: dict[str, bytes]) -> str:
    """Pictures and tables of the feed; nothing where the job has none."""
    return pictures_of(content, pictures, PICTURES) + tables_of(content, FEED_TABLES)


def feed_html(content: Content, pictures: dict[str, bytes]) -> bytes:
    """The page as UTF-8."""
    parts = [
        top(content),
        still_open(content),
        feed_of(content, pictures),
        ledger_of(content),
        listed("Assumptions", content.assumptions),
        cautions_of(content),
        provenance_of(content),
    ]
    return page_of(content, parts)
