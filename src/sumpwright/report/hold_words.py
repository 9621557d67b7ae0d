# SPDX-License-Identifier: Apache-2.0
"""Hold maps in words: how long, how far, and whether the pan is as good one way as the other."""

from sumpwright.studies.motion_result import Asymmetry, HoldMapResult

STATES = {
    "working": "doors working",
    "stuck open": "doors stuck open",
    "stuck shut": "doors stuck shut",
    "no baffles": "without baffles",
}
SAME = 1e-9
"""g; limits this near are equal: they are both points of one grid."""


def limit_words(limit: float, result: HoldMapResult) -> str:
    """``up to 0.80 g``, with what is known where the limit is at an end of what was looked at."""
    if limit >= max(result.magnitudes_g) - SAME:
        return f"up to {limit:.2f} g, the most looked at"
    if limit <= 0.0:
        return "at no g looked at"
    return f"up to {limit:.2f} g"


def held_text(limit: float, result: HoldMapResult) -> str:
    """``0.80 g``, or on which side of what was looked at the limit is."""
    if limit <= 0.0:
        return f"under {min(result.magnitudes_g):.2f} g"
    most = limit >= max(result.magnitudes_g) - SAME
    return f"{limit:.2f} g or more" if most else f"{limit:.2f} g"


def apart_text(one: float, other: float, result: HoldMapResult) -> str:
    """How far two limits are apart, as far as it is known: a limit may be under all looked at."""
    low, high = sorted((one, other))
    least = min(result.magnitudes_g)
    if low <= 0.0 and high <= least + SAME:
        return f"at most {least:.2f} g"
    more = " or more" if low <= 0.0 or high >= max(result.magnitudes_g) - SAME else ""
    return f"{high - max(low, least):.2f} g{more}" if high > low else "0.00 g"


def asymmetry_words(one: Asymmetry, result: HoldMapResult) -> str:
    """Left against right at one speed and one state of the doors, as a sentence."""
    hold = f"{result.hold_time_s:g} s"
    head = f"{STATES[one.doors].capitalize()}: holds {hold}"
    apart = one.left_g - one.right_g
    if abs(apart) <= SAME:
        return f"{head} {limit_words(one.left_g, result)}, the same to both sides."
    weak, strong = ("right", "left") if apart > 0.0 else ("left", "right")
    low, high = sorted((one.left_g, one.right_g))
    return (
        f"{head} {limit_words(high, result)}, in {strong} turns and {limit_words(low, result)} in "
        f"{weak} turns: {weak} turns are the weaker by {apart_text(low, high, result)}."
    ).replace(" g, in", " g in")


def asymmetry_lines(result: HoldMapResult, rpm: float) -> list[str]:
    """A sentence for each state of the doors at one speed."""
    found = (a for a in result.asymmetries if a.rpm == rpm)
    return [asymmetry_words(a, result) for a in found]


def map_alt(result: HoldMapResult, number: int) -> str:
    """The maps of one speed, for who hears the page."""
    rpm = result.rpm[number]
    said = " ".join(asymmetry_lines(result, rpm))
    return (
        f"Time until the pickup first takes air at {rpm:.0f} rpm, by direction and g, looked at "
        f"for {result.horizon_s:g} s. {said}"
    )
