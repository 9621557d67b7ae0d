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
        by_stock="the larger of the job's own fill and the stock pan's",
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
    limits = {"its own full mark": fill.full_m3}  # it has to hold what the job puts in, too
    if isinstance(asked, float):
        limits["the job's limit"] = asked
    elif fill.stock is not None:
        limits["the stock pan's full mark"] = fill.stock.full_m3
    largest = max(limits, key=lambda name: limits[name])
    why = f"against {largest}; the surface is held by {fill.usable_by}"
    return Judged(fill.usable_m3, limits[largest], why)


def _crank_gap(evidence: Evidence) -> Answer:
    fill, limit = evidence.fill, number(evidence.job.requirements.crank_gap)
    if fill is None or fill.crank_gap_m is None:
        return Unjudged("needs a fill and `engine.crank_sweep`", limit)
    return Judged(fill.crank_gap_m, limit, "at the full mark, level ground")
