# SPDX-License-Identifier: Apache-2.0
"""The requirements as rows, what fails and by how much, and the figures on the first page."""

import math
from dataclasses import dataclass

from sumpwright.report.answer import Judged
from sumpwright.report.limit import limit_number
from sumpwright.report.room import tightest
from sumpwright.report.text import plain, told
from sumpwright.studies.result import CheckResult, Requirement
from sumpwright.units import shown

_TO_SI = {"g": 9.80665, "deg": math.pi / 180.0}
"""Units of a requirement that the display table does not start from."""


@dataclass(frozen=True)
class LedgerRow:
    """One requirement as a person reads it."""

    id: str
    state: str
    statement: str
    reason: str
    limit: str
    value: str
    margin: str
    bar: float | None
    """Margin as a share of the larger of limit and value, -1 to 1."""
    formula: str
    source: str


@dataclass(frozen=True)
class Failure:
    """One requirement that is not met."""

    statement: str
    found: str
    needed: str
    short: str
    reason: str


def requirement_text(
    requirement: Requirement, value: float | None, units: str, *, sign: bool = False
) -> str:
    """A limit, value or margin in the person's unit; a dash where there is none."""
    if value is None:
        return "–"
    return shown(value * _TO_SI.get(requirement.unit, 1.0), requirement.kind, units, sign=sign)


def ledger_rows(result: Judged) -> tuple[LedgerRow, ...]:
    """Every requirement: first what is not met, last what is not judged."""
    rank = {"not met": 0, "met": 1, "not judged": 2}
    ranked = sorted(result.requirements, key=lambda r: rank[r.state])
    return tuple(_row(r, result.units) for r in ranked)


def _row(r: Requirement, units: str) -> LedgerRow:
    return LedgerRow(
        id=plain(r.id),
        state=r.state,
        statement=plain(r.statement),
        reason=told(r.reason),
        limit=requirement_text(r, r.limit, units),
        value=requirement_text(r, r.value, units),
        margin=requirement_text(r, r.margin, units, sign=True),
        bar=_share(r),
        formula=plain(r.formula),
        source=plain(r.source),
    )


def _share(r: Requirement) -> float | None:
    if r.margin is None or r.limit is None or r.value is None:
        return None
    whole = max(abs(r.limit), abs(r.value))
    return max(-1.0, min(1.0, r.margin / whole)) if whole > 0.0 else 0.0


def failures(result: Judged) -> tuple[Failure, ...]:
    """What is not met, and by how much."""
    return tuple(
        Failure(
            statement=plain(r.statement),
            found=requirement_text(r, r.value, result.units),
            needed=requirement_text(r, r.limit, result.units),
            short=requirement_text(r, None if r.margin is None else abs(r.margin), result.units),
            reason=told(r.reason),
        )
        for r in result.requirements
        if r.state == "not met"
    )


def key_figures(result: CheckResult) -> tuple[tuple[str, str, str], ...]:
    """The few numbers of the first page: what, how much, compared with what."""
    return (*_room(result), *_oil(result), *_hold(result))


def _oil(result: CheckResult) -> list[tuple[str, str, str]]:
    fill, units = result.fill, result.units
    stock = "" if fill.stock is None else f"stock {shown(fill.stock.full_m3, 'volume', units)}"
    figures = [("Full mark, cold", shown(fill.full_m3, "volume", units), stock)]
    if fill.crank_gap_m is not None:
        gap = shown(fill.crank_gap_m, "length", units)
        figures.append(("Hot oil below the crank", gap, ""))
    return figures


def _room(result: CheckResult) -> list[tuple[str, str, str]]:
    room, units = result.clearance, result.units
    if room is None:
        return []
    figures = []
    tight = tightest(result)
    if tight is not None:
        gap = shown(abs(tight.worst.gap_m), "length", units)
        words = "Tightest gap" if tight.worst.gap_m >= 0.0 else "Deepest overlap"
        asked = tight.needed_m
        need = "" if asked is None else f", {shown(asked, 'length', units)} asked for"
        figures.append((words, gap, plain(f"to {tight.obstacle}{need}")))
    if room.guard is not None:
        margin = room.guard.margin_m
        side = "above" if margin >= 0.0 else "BELOW"
        over = plain(f"{side} the lowest point of {room.guard.obstacle}")
        figures.append(("Pan's lowest point", shown(abs(margin), "length", units), over))
    return figures


def _hold(result: CheckResult) -> list[tuple[str, str, str]]:
    hold = result.hold
    if hold is None:
        return []
    figures = []
    for words, one, two in (
        ("Holds, left / right turn", "left", "right"),
        ("Holds, brake / accelerate", "brake", "accelerate"),
    ):
        beside = ""
        if hold.stock is not None:
            pair = f"{limit_number(hold.stock, one)} / {limit_number(hold.stock, two)}"
            beside = f"stock {pair} g"
        figures.append((words, f"{limit_number(hold, one)} / {limit_number(hold, two)} g", beside))
    return figures
