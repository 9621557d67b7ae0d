# SPDX-License-Identifier: Apache-2.0
"""What each picture shows, in words, for who hears the page instead of seeing it."""

import re
from html import unescape

from sumpwright.report.limit import WAYS, limit_number
from sumpwright.report.text import plain
from sumpwright.studies.result import CheckResult, ObstacleGap, PanFill, PanHold
from sumpwright.units import shown


def alt_of(svg: bytes) -> str:
    """What a picture says of itself."""
    found = re.search(r"<title[^>]*>(.*?)</title>", svg.decode("utf-8"), re.DOTALL)
    return unescape(found[1]) if found else ""


def pan_alt(result: CheckResult, place: str) -> str:
    """The pan among its obstacles, seen from a place."""
    said = f"New pan, seen from {place}."
    room = result.clearance
    if room is None or not room.obstacles:
        return said
    return " ".join([said, *(_gap(o, result.units) for o in room.obstacles)])


def _gap(obstacle: ObstacleGap, units: str) -> str:
    gap = obstacle.worst.gap_m
    size = shown(abs(gap), "length", units)
    asked = "" if obstacle.needed_m is None else (
        f", {shown(obstacle.needed_m, 'length', units)} asked for"
    )  # fmt: skip
    what = f"overlaps {obstacle.obstacle} by {size}" if gap < 0.0 else (
        f"clears {obstacle.obstacle} by {size}"
    )  # fmt: skip
    return plain(f"It {what}, {obstacle.worst.case}{asked}.")


def rest_alt(result: CheckResult) -> str:
    """The cuts with the oil at rest."""
    said = ["Pans cut through their pickups, car on level ground, with the oil's level."]
    for name, fill in _fills(result.fill):
        full = shown(fill.full_m3, "volume", result.units)
        said.append(f"{name}: full at {full}")
        if fill.crank_gap_m is not None:
            gap = shown(fill.crank_gap_m, "length", result.units)
            said.append(f"hot oil {gap} below the crank sweep")
    return plain(", ".join(said) + ".")


def _fills(fill: PanFill) -> list[tuple[str, PanFill]]:
    return [("new pan", fill)] + ([] if fill.stock is None else [("stock pan", fill.stock)])


def limit_alt(result: CheckResult, ways: tuple[str, ...]) -> str:
    """The cuts at the limit g."""
    said = [f"{WAYS[w]}: {_limits(result, w)}" for w in ways]
    return "Oil where the pickup uncovers. " + "; ".join(said) + "."


def hold_alt(result: CheckResult) -> str:
    """The round plot."""
    said = [f"{words.lower()} {_limits(result, way)}" for way, words in WAYS.items()]
    return "At what steady g the pickup uncovers, all round: " + "; ".join(said) + "."


def _limits(result: CheckResult, way: str) -> str:
    hold = result.hold
    if hold is None:
        return "not computed"
    pans: list[tuple[str, PanHold]] = [("new", hold)]
    pans += [] if hold.stock is None else [("stock", hold.stock)]
    return ", ".join(f"{name} {limit_number(pan, way)} g" for name, pan in pans)


def fill_alt(result: CheckResult) -> str:
    """The fill curve."""
    units = result.units
    said = [
        f"{name} full at {shown(f.full_m3, 'volume', units)}, "
        f"surface {shown(f.full_height_m, 'length', units)} over the pan rail"
        for name, f in _fills(result.fill)
    ]
    return plain("Height of the oil over its volume: " + "; ".join(said) + ".")


def dipstick_alt(result: CheckResult) -> str:
    """The dipstick."""
    scale, units = result.fill.dipstick, result.units
    if scale is None:
        return "Dipstick"
    said = [f"full mark {shown(scale.full_along_m, 'length', units)} from the stop"]
    if scale.low_along_m is not None:
        said.append(f"low mark {shown(scale.low_along_m, 'length', units)}")
    return f"Dipstick on its side, to scale: {', '.join(said)}."
