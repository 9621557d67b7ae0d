# SPDX-License-Identifier: Apache-2.0
"""Requirements on how much the pan holds and how near the oil comes to the crank."""

from collections.abc import Iterator

from sumpwright.studies.rule import PRACTICE, Answer, Evidence, Judged, Rule, Unjudged, number


def fill_rules() -> Iterator[Rule]:
    """Capacity, and the gap to the crank."""
    yield Rule(
        "capacity",
        "The pan holds the oil asked for, crank gap kept",
        "volume",
        "",
        "volume below the highest hot level that keeps the crank gap and the rail, at cold density",
        _capacity,
    )
    yield Rule(
        "crank_gap",
        "Oil at rest, hot, stays clear of the crank sweep",
        "length",
        "",
        "lowest point of the sweep along up, less the hot surface at the full mark",
        _crank_gap,
        practice=PRACTICE + " (15 to 25 mm)",
    )


def _capacity(evidence: Evidence) -> Answer:
    fill, asked = evidence.fill, evidence.job.requirements.capacity
    if fill is None:
        return Unjudged("needs a fill: `oil.fill`, or the dipstick's `full`")
    if asked == "stock":
        whose, limit = ("stock's", fill.stock.full_m3) if fill.stock else ("own", fill.full_m3)
        why = f"against the {whose} full mark; the surface is held by {fill.usable_by}"
        return Judged(fill.usable_m3, limit, why)
    assert isinstance(asked, float)
    return Judged(fill.usable_m3, asked, f"the surface is held by {fill.usable_by}")


def _crank_gap(evidence: Evidence) -> Answer:
    fill, limit = evidence.fill, number(evidence.job.requirements.crank_gap)
    if fill is None or fill.crank_gap_m is None:
        return Unjudged("needs a fill and `engine.crank_sweep`", limit)
    return Judged(fill.crank_gap_m, limit, "at the full mark, level ground")
