# SPDX-License-Identifier: Apache-2.0
"""The report as one HTML file: no script, nothing fetched, readable on paper too."""

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
from sumpwright.report.feed_page import feed_of


def html_of(content: Content, pictures: dict[str, bytes]) -> bytes:
    """The page as UTF-8."""
    late = ("dipstick-marks", "parked", "gaps", "positions", "ground", "hold-table")
    parts = [
        top(content),
        pictures_of(content, pictures, ("pan",)),
        still_open(content),
        pictures_of(content, pictures, ("below", "hold", "rest", "turn", "brake")),
        ledger_of(content),
        pictures_of(content, pictures, ("fill",)),
        tables_of(content, ("fill-sheet",)),
        pictures_of(content, pictures, ("dipstick",)),
        tables_of(content, late),
        feed_of(content, pictures),
        listed("Assumptions", content.assumptions),
        cautions_of(content),
        provenance_of(content),
    ]
    return page_of(content, parts)
