# SPDX-License-Identifier: Apache-2.0
"""What of a feed is shown where not all of it has room, and its items in words."""

from sumpwright.studies.feed_result import Feed, FeedPoint
from sumpwright.units import shown

STEPS = (250.0, 500.0, 1000.0, 2000.0, 2500.0, 5000.0)
ITEMS: dict[str, str] = {
    "screen_pa": "screen",
    "mouth_pa": "mouth",
    "friction_pa": "straight tube",
    "bends_pa": "bends",
    "steps_pa": "changes of bore",
    "motion_pa": "the oil's own speed",
}
"""What takes pressure away, in the order the oil flows."""


def few_speeds(feed: Feed, count: int) -> list[int]:
    """Columns of round speeds and both ends, at most `count` of them."""
    rpm = feed.rpm
    ends = (0, len(rpm) - 1)
    for step in STEPS:
        inside = [
            k
            for k in range(1, len(rpm) - 1)
            if abs(rpm[k] / step - round(rpm[k] / step)) * step < 0.5
            and min(rpm[k] - rpm[0], rpm[-1] - rpm[k]) > 0.4 * step
        ]
        if len(inside) + 2 <= count:
            return sorted({*ends, *inside})
    return sorted({*ends})


def worth_a_line(feed: Feed, row: int) -> bool:
    """Whether a temperature leaves the inlet a fifth of the air's pressure at the lowest speed."""
    return feed.inlet_pa[row][0] > 0.2 * feed.ambient_pa


def few_temperatures(feed: Feed, count: int) -> list[int]:
    """Rows of the coldest with something left, `oil.cold`, hot, and others at even distance."""
    t = feed.temperature_k
    some = [k for k in range(len(t)) if worth_a_line(feed, k)] or [len(t) - 1]
    kept = {some[0], some[-1]}
    if feed.cold is not None and (cold := t.index(feed.cold.temperature_k)) in some:
        kept.add(cold)
    while len(kept) < min(count, len(some)):
        rest = [k for k in some if k not in kept]
        kept.add(max(rest, key=lambda k: min(abs(t[k] - t[other]) for other in kept)))
    return sorted(kept)


def points_of(feed: Feed) -> list[tuple[str, FeedPoint]]:
    """The judged points and the coldest that is allowed, with what to call them."""
    found = [("hot", feed.hot)]
    found += [] if feed.cold is None else [("cold", feed.cold)]
    allowed = feed.short.coldest_k is not None
    return [*found, ("coldest allowed" if allowed else "not even hot", feed.worst)]


def left_text(pressure: float, units: str) -> str:
    """What is left at the inlet, without its unit; ``none`` where the flow cannot be had."""
    return number_text(pressure, units) if pressure >= 0.0 else "none"


def inlet_text(pressure: float, units: str) -> str:
    """An absolute pressure at the inlet with its unit; ``none`` where the flow cannot be had."""
    return shown(pressure, "inlet_pressure", units) if pressure >= 0.0 else "none"


def number_text(pressure: float, units: str, *, sign: bool = False) -> str:
    """A pressure without its unit."""
    text = shown(pressure, "inlet_pressure", units, sign=sign).split(" ")[0]
    return text.removeprefix("+") if not text.strip("+0.") else text


def speed_text(rpm: float | None, held: bool) -> str:
    """An allowed engine speed; with a sign where nothing faster was looked at."""
    if rpm is None:
        return "none"
    return f"{'≥ ' if held else ''}{rpm:.0f} rpm"
