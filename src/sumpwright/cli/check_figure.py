# SPDX-License-Identifier: Apache-2.0
"""The figures of a check beside each other: room, oil, dipstick, hold; stock beside new."""

from collections.abc import Callable, Iterator

from sumpwright.geometry.frame import STANDARD_GRAVITY
from sumpwright.report.limit import slope_text
from sumpwright.studies.feed_result import Feed, FeedPoint
from sumpwright.studies.result import CheckResult, Clearance, PanFill, PanHold
from sumpwright.units import shown

_TURNS = (("left turn", "left", 90), ("right turn", "right", 270))
_STRAIGHT = (("braking", "brake", 180), ("accelerating", "accelerate", 0))
_SLOPES = (
    ("nose uphill", "slope_up_deg"),
    ("nose downhill", "slope_down_deg"),
    ("left side uphill", "slope_left_deg"),
    ("right side uphill", "slope_right_deg"),
)
Show = Callable[[float | None, str], str]


def figures(result: CheckResult) -> Iterator[str]:
    """Short aligned lines for each group that has an answer."""

    def show(value: float | None, kind: str) -> str:
        return "-" if value is None else shown(value, kind, result.units)

    if result.clearance is not None:
        yield from _room(result.clearance, show)
    yield from _oil(result.fill, show)
    yield from _dipstick(result.fill, show)
    if result.hold is not None:
        yield from _hold(result.hold, show)
    if result.feed is not None:
        yield from _feed(result.feed, show)


def _room(found: Clearance, show: Show) -> Iterator[str]:
    if found.obstacles or found.guard is not None or found.ground_m is not None:
        yield "\nRoom (worst case of engine movement)"
    for gap in found.obstacles:
        needed = "" if gap.needed_m is None else f"needs {show(gap.needed_m, 'length')}"
        at = "" if len(gap.cases) < 2 else f"  in {gap.worst.case}"
        yield f"{_row(gap.obstacle, show(gap.worst.gap_m, 'length'))}  {needed}{at}".rstrip()
    if found.guard is not None:
        yield f"{_row('over the guard', show(found.guard.margin_m, 'length'))}"
    for label, value in (
        ("over the ground", found.ground_m),
        ("at full bump", found.ground_at_bump_m),
    ):
        if value is not None:
            yield _row(label, show(value, "length"))


def _oil(new: PanFill, show: Show) -> Iterator[str]:
    stock = new.stock
    yield _head("Oil", stock is not None)
    rows: tuple[tuple[str, str, str], ...] = (
        ("at the full mark", "full_m3", "volume"),
        ("service fill", "service_fill_m3", "volume"),
        ("most it can hold", "usable_m3", "volume"),
        ("depth at full", "full_depth_m", "length"),
        ("hot, to the crank", "crank_gap_m", "length"),
    )
    for label, field, kind in rows:
        ours, theirs = getattr(new, field), getattr(stock, field, None)
        if ours is not None:
            yield _row(label, show(ours, kind), show(theirs, kind) if stock else "")


def _dipstick(new: PanFill, show: Show) -> Iterator[str]:
    scale = new.dipstick
    if scale is None:
        return
    yield "\nDipstick (from its stop, level ground, cold)"
    yield _row("full mark", show(scale.full_along_m, "length"))
    if scale.low_along_m is not None:
        yield _row("low mark", show(scale.low_along_m, "length"))
    yield _row("reads no lower than", show(scale.low_end_along_m, "length"))


def _hold(new: PanHold, show: Show) -> Iterator[str]:
    yield _head("Hold, steady, no baffles", new.stock is not None)
    for label, way, direction in (*_TURNS, *_STRAIGHT):
        theirs = _limit(new.stock, way, direction, show) if new.stock else ""
        yield _row(label, _limit(new, way, direction, show), theirs)
    for label, field in _SLOPES:
        ours = slope_text(getattr(new, field))
        theirs = slope_text(getattr(new.stock, field)) if new.stock else ""
        yield _row(label, ours, theirs)
    rpm = "" if new.rpm is None else f" at {new.rpm:.0f} rpm"
    yield f"  with {show(new.oil_m3, 'volume')} really in the pan, hot{rpm}"


def _limit(hold: PanHold, way: str, direction: float, show: Show) -> str:
    """The limit; with a sign where the pickup was still covered at the largest g looked at."""
    near = min(range(len(hold.directions_deg)), key=lambda i: _apart(hold, i, direction))
    value = show(getattr(hold, f"{way}_g") * STANDARD_GRAVITY, "acceleration")
    return f"≥ {value}" if hold.held_to_end[near] else value


def _apart(hold: PanHold, i: int, direction: float) -> float:
    return abs((hold.directions_deg[i] - direction + 180.0) % 360.0 - 180.0)


def _feed(new: Feed, show: Show) -> Iterator[str]:
    yield _head("Pump's inlet, absolute", new.stock is not None)
    pans = [new] if new.stock is None else [new, new.stock]
    for point, name in ((new.hot, "hot"), (new.cold, "cold")):
        if point is not None:
            cells = [_left(getattr(pan, name), show) for pan in pans]
            yield _row(f"{name}, {point.rpm:.0f} rpm", *cells)
    coldest = [show(pan.short.coldest_k, "temperature") for pan in pans]
    yield _row(f"coldest at {new.rpm[0]:.0f} rpm", *coldest)


def _left(point: FeedPoint | None, show: Show) -> str:
    """What is left at the inlet; ``none`` where the pump cannot draw that much."""
    if point is None:
        return "-"
    return show(point.inlet_pa, "inlet_pressure") if point.inlet_pa >= 0.0 else "none"


def _head(title: str, beside: bool) -> str:
    return f"\n{title:26}{'new':>12}{'stock':>14}" if beside else f"\n{title}"


def _row(label: str, new: str, stock: str = "") -> str:
    return f"  {label[:24]:24}{new:>12}{stock:>14}".rstrip()
