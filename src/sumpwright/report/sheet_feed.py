# SPDX-License-Identifier: Apache-2.0
"""The tables of the report on feed: inlet pressure, speeds allowed, where it goes, altitude."""

from sumpwright.report.feed_choice import (
    ITEMS,
    few_speeds,
    left_text,
    number_text,
    points_of,
    speed_text,
)
from sumpwright.report.table import Row, Table, length_text
from sumpwright.report.text import told
from sumpwright.studies.feed_result import Feed, FeedPoint
from sumpwright.units import shown, unit_name

COLUMNS = 8
FEED_TABLES = ("feed-inlet", "feed-speed", "feed-budget", "feed-altitude")
"""Keys of the tables, in their order."""


def feed_tables(feed: Feed, units: str) -> list[Table | None]:
    """All tables of a feed."""
    return [
        _inlet(feed, units),
        _speeds(feed, units),
        _budget(feed, units),
        _altitude(feed, units),
    ]


def _inlet(feed: Feed, units: str) -> Table:
    columns = few_speeds(feed, COLUMNS)
    rows = tuple(
        (
            shown(t, "temperature", units),
            *(f"{left_text(row[k], units)}{_mark(feed, row[k])}" for k in columns),
        )
        for t, row in zip(feed.temperature_k, feed.inlet_pa, strict=True)
    )
    head = ("oil", *(f"{feed.rpm[k]:.0f} rpm" for k in columns))
    unit = unit_name("inlet_pressure", units)
    good, short = (
        shown(p, "inlet_pressure", units) for p in (feed.continuous.needed_pa, feed.short.needed_pa)
    )
    note = (
        f"{unit}, absolute. * under {good}: for a short time only. ! under {short}. none: the pump "
        "cannot draw that much."
    )
    return Table("feed-inlet", "Left at the pump's inlet", head, rows, note)


def _mark(feed: Feed, pressure: float) -> str:
    if pressure < feed.short.needed_pa:
        return " !"
    return " *" if pressure < feed.continuous.needed_pa else ""


def _speeds(feed: Feed, units: str) -> Table:
    stock = feed.stock
    rows: list[Row] = []
    for k, t in enumerate(feed.temperature_k):
        nu = feed.viscosity_m2_s[k]
        oil = shown(nu, "viscosity", units, digits=1 if nu < 100e-6 else 0)
        pans = [feed] if stock is None else [feed, stock]
        speeds = [
            speed_text(allowed.rpm[k], allowed.held_to_end[k])
            for pan in pans
            for allowed in (pan.continuous, pan.short)
        ]
        rows.append((shown(t, "temperature", units), oil, *speeds))
    head: Row = ("oil", "viscosity", "for good", "for a short time")
    head = head if stock is None else (*head, "stock, for good", "stock, for a short time")
    note = "A sign ≥ where nothing faster was looked at; none: not even at the lowest speed."
    return Table("feed-speed", "Engine speed allowed", head, tuple(rows), note)


def _budget(feed: Feed, units: str) -> Table:
    points = points_of(feed)
    if feed.stock is not None:
        points += [(f"stock, {name}", p) for name, p in points_of(feed.stock)[:-1]]

    def row(words: str, *cells: str) -> Row:
        return (words, *cells)

    def pressures(words: str, sign: float, key: str) -> Row:
        cells = [number_text(sign * getattr(p, key), units, sign=sign < 0.0) for _, p in points]
        return row(words, *cells)

    rows = [
        row("oil", *(shown(p.temperature_k, "temperature", units) for _, p in points)),
        row("engine", *(f"{p.rpm:.0f} rpm" for _, p in points)),
        pressures("air on the oil", 1.0, "ambient_pa"),
        row("height", *(number_text(p.head_pa, units, sign=True) for _, p in points)),
    ]
    for key, words in ITEMS.items():
        if any(getattr(p, key) for _, p in points):
            rows.append(pressures(words, -1.0, key))
    rows += [
        row("left at the inlet", *(left_text(p.inlet_pa, units) for _, p in points)),
        pressures("needed", 1.0, "needed_pa"),
        *_flow_rows(points, units),
    ]
    head = (unit_name("inlet_pressure", units), *(name for name, _ in points))
    note = told(" ".join(feed.cautions))
    return Table("feed-budget", "Where the pressure goes", head, tuple(rows), note)


def _flow_rows(points: list[tuple[str, FeedPoint]], units: str) -> list[Row]:
    def cells(words: str, texts: list[str]) -> Row:
        return (words, *texts)

    return [
        cells("flow", [shown(p.flow_m3_s, "flow", units) for _, p in points]),
        cells("fastest in a tube", [_speed(p.speed_m_s, units) for _, p in points]),
        cells("over the screen's face", [_speed(p.face_speed_m_s, units) for _, p in points]),
        cells("Reynolds number", [_reynolds(p) for _, p in points]),
        cells("oil over the pickup's rim", [length_text(p.cover_m, units) for _, p in points]),
        cells("needs there, not to draw air", [length_text(_needs(p), units) for _, p in points]),
    ]


def _speed(speed: float | None, units: str) -> str:
    return "–" if speed is None else shown(speed, "oil_speed", units)


def _reynolds(point: FeedPoint) -> str:
    digits = 0 if point.reynolds >= 9.95 else 1
    return f"{point.reynolds:.{digits}f}, {point.regime}"


def _needs(point: FeedPoint) -> float | None:
    if point.drawdown_m is None:
        return None
    return point.drawdown_m + (point.film_m or 0.0)


def _altitude(feed: Feed, units: str) -> Table | None:
    if not feed.altitudes:
        return None
    rows = tuple(
        (
            f"{p.altitude_m:.0f} m" if units == "metric" else f"{p.altitude_m / 0.3048:.0f} ft",
            number_text(p.ambient_pa, units),
            left_text(p.hot_pa, units),
            "–" if p.cold_pa is None else left_text(p.cold_pa, units),
        )
        for p in feed.altitudes
    )
    note = "The same engine, oil and speeds under the standard atmosphere of another height."
    head = ("over the sea", "air", "left, hot", "left, cold")
    return Table("feed-altitude", "Elsewhere", head, rows, note)
