# SPDX-License-Identifier: Apache-2.0
"""What the report says of a feed: its pictures' words, its page of its own, its first numbers."""

from datetime import datetime

from sumpwright.report.caution import cautions
from sumpwright.report.content import (
    FEED_FIGURES,
    Content,
    finding_lines,
    foot,
    open_lines,
    provenance,
)
from sumpwright.report.feed_choice import inlet_text
from sumpwright.report.feed_loss_view import feed_loss_view
from sumpwright.report.feed_speed_view import feed_speed_view
from sumpwright.report.feed_view import feed_view
from sumpwright.report.ledger import failures, ledger_rows
from sumpwright.report.sheet_feed import feed_tables
from sumpwright.report.text import plain, told
from sumpwright.studies.feed_result import Feed, FeedResult
from sumpwright.units import shown

TOPICS = {"What this report is", "Track driving", "Hot oil", "Fire"}
"""Cautions that matter to who reads a feed."""


def feed_content(result: FeedResult, *, made: datetime) -> Content:
    """The words of a feed's own page."""
    verdict = {
        "met": "The pump's inlet keeps its pressure",
        "not met": "The pump's inlet lacks pressure",
        "not judged": "Nothing judged",
    }[result.verdict]
    return Content(
        kind="Oil feed, cold and hot",
        job=plain(result.job),
        revision=plain(result.revision),
        pan=plain(result.feed.name),
        state=result.verdict,
        verdict=verdict,
        summary=plain(result.summary),
        note=plain(result.note or ""),
        failures=failures(result),
        open=open_lines(result),
        key_figures=feed_figures(result.feed, result.units),
        figures=FEED_FIGURES,
        ledger=ledger_rows(result),
        tables=tuple(t for t in feed_tables(result.feed, result.units) if t is not None),
        assumptions=tuple(map(told, result.feed.assumptions)),
        findings=finding_lines(result),
        cautions=tuple(c for c in cautions() if c.topic in TOPICS),
        provenance=provenance(result, made),
        foot=foot(result),
    )


def feed_pictures(feed: Feed, units: str) -> dict[str, bytes]:
    """The pictures by key, each an SVG."""
    return {
        "feed": feed_view(feed, units),
        "feed-loss": feed_loss_view(feed, units),
        "feed-speed": feed_speed_view(feed, units),
    }


def feed_figures(feed: Feed, units: str) -> tuple[tuple[str, str, str], ...]:
    """The few numbers of the first page."""
    hot, cold = feed.hot, feed.cold

    def stock(name: str) -> str:
        point = None if feed.stock is None else getattr(feed.stock, name)
        return "" if point is None else f"stock {inlet_text(point.inlet_pa, units)}"

    figures = [("Pump inlet, hot", inlet_text(hot.inlet_pa, units), stock("hot"))]
    if cold is not None:
        figures.append(("Pump inlet, cold", inlet_text(cold.inlet_pa, units), stock("cold")))
    fastest = max(max(row) for row in feed.speed_m_s)
    figures.append(("Fastest oil in the line", shown(fastest, "oil_speed", units), ""))
    return tuple(figures)
