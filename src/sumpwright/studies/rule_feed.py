# SPDX-License-Identifier: Apache-2.0
"""Requirements on the pressure that is left at the pump's inlet, hot and cold."""

from collections.abc import Iterator

from sumpwright.studies.feed_result import AllowedSpeed, Feed, FeedPoint
from sumpwright.studies.feed_state import cold_lacks, feed_lacks
from sumpwright.studies.rule import Answer, Evidence, Judged, Rule, Unjudged, number
from sumpwright.units import shown

CANNOT = "under 0: the pump cannot draw that much"
"""Of an absolute pressure that no oil can have."""
SOURCES = "[White-2011], [Rennels-2012], [Shah-London-1978], [ASTM-D341]"
USUAL = "a common figure for gear pumps, from memory; the pump's maker goes first"
_FORMULA = (
    "absolute: air on the oil and height from its surface, less screen, mouth, friction, bends, "
    "steps and the oil's own speed"
)


def feed_rules() -> Iterator[Rule]:
    """The pump's inlet hot at the hold speed, and cold at the cold speed."""
    yield Rule(
        "inlet_hot",
        "The pump's inlet keeps its pressure, hot",
        "inlet_pressure",
        SOURCES,
        _FORMULA,
        _hot,
        practice=USUAL,
    )
    yield Rule(
        "inlet_cold",
        "The pump's inlet keeps its pressure, cold",
        "inlet_pressure",
        SOURCES,
        _FORMULA,
        _cold,
        practice=USUAL,
    )


def _hot(evidence: Evidence) -> Answer:
    feed, limit = evidence.feed, number(evidence.job.requirements.inlet_hot)
    if feed is None:
        return Unjudged(feed_lacks(evidence.job), limit)
    return Judged(feed.hot.inlet_pa, limit, _reason(evidence, feed, feed.hot, feed.continuous))


def _cold(evidence: Evidence) -> Answer:
    feed, limit = evidence.feed, number(evidence.job.requirements.inlet_cold)
    if feed is None or feed.cold is None:
        return Unjudged(feed_lacks(evidence.job) or cold_lacks(evidence.job), limit)
    return Judged(feed.cold.inlet_pa, limit, _reason(evidence, feed, feed.cold, feed.short))


def _reason(evidence: Evidence, feed: Feed, point: FeedPoint, allowed: AllowedSpeed) -> str:
    """Where it is judged; how far it holds where it does not there."""
    units = evidence.job.units
    where = f"at {shown(point.temperature_k, 'temperature', units)} and {point.rpm:.0f} rpm"
    if point.inlet_pa >= point.needed_pa:
        return where
    if point.inlet_pa < 0.0:
        where = f"{where}, {CANNOT}"
    k = feed.temperature_k.index(point.temperature_k)
    limit = allowed.rpm[k]
    if limit is None:
        return f"{where}; even {feed.rpm[0]:.0f} rpm is too fast"
    return f"{where}; held up to {limit:.0f} rpm"
