# SPDX-License-Identifier: Apache-2.0
"""What `hold` answers, as a person reads it: g that is held, and left against right in words."""

from collections.abc import Iterator
from functools import partial
from pathlib import Path

from sumpwright.cli.ledger_text import wrapped
from sumpwright.cli.tail_text import tail
from sumpwright.report.hold_words import SAME, STATES, apart_text
from sumpwright.studies.motion_result import HoldLimit, HoldMapResult
from sumpwright.units import shown

_WAYS = (
    ("left_g", "left turn"),
    ("right_g", "right turn"),
    ("brake_g", "braking"),
    ("accelerate_g", "accelerating"),
)


def hold_text(result: HoldMapResult, pages: tuple[Path, ...]) -> str:
    """The answer in the job's units, at most 80 columns."""
    return "\n".join(_lines(result, pages))


def _lines(result: HoldMapResult, pages: tuple[Path, ...]) -> Iterator[str]:
    yield f"{result.job}, revision {result.revision}"
    yield from _what_was_looked_at(result)
    yield from _limits(result)
    yield "\nLeft against right"
    for state in dict.fromkeys(limit.doors for limit in result.limits):
        same_doors = [limit for limit in result.limits if limit.doors == state]
        said = _sides(same_doors, result)
        yield from wrapped(f"{STATES[state].capitalize()}: {said}.", "  ")
    yield ""
    yield from wrapped(_trust(result), "Numbers: ")
    yield from tail(result.assumptions, result.findings, pages)


def _what_was_looked_at(result: HoldMapResult) -> Iterator[str]:
    low, high = result.magnitudes_g[0], result.magnitudes_g[-1]
    oil = shown(result.temperature_k, "temperature", result.units)
    yield (
        f"  {len(result.directions_deg)} directions, {low:.2f} to {high:.2f} g, each followed "
        f"for {result.horizon_s:g} s, oil {oil}"
    )


def _limits(result: HoldMapResult) -> Iterator[str]:
    hold = f"Holds {result.hold_time_s:g} s up to [g]"
    yield "\n" + _row(hold, [words for _, words in _WAYS])
    for state in dict.fromkeys(limit.doors for limit in result.limits):
        yield f"  {STATES[state]}"
        for limit in result.limits:
            if limit.doors == state:
                held = [_held(getattr(limit, key), result) for key, _ in _WAYS]
                yield _row(f"    {limit.rpm:.0f} rpm", held)


def _row(head: str, cells: list[str]) -> str:
    return f"{head:26}" + "".join(f"{cell:>13}" for cell in cells)


def _held(limit: float, result: HoldMapResult) -> str:
    if limit <= 0.0:
        return f"under {result.magnitudes_g[0]:.2f}"
    most = limit >= result.magnitudes_g[-1] - SAME
    return f"{limit:.2f} or more" if most else f"{limit:.2f}"


def _sides(limits: list[HoldLimit], result: HoldMapResult) -> str:
    """Which side is the weaker, by how much at the most, and at what engine speed."""
    said, least = [], min(result.magnitudes_g)

    def apart(limit: HoldLimit, sign: float) -> tuple[float, float, float]:
        known = max(limit.left_g, least) - max(limit.right_g, least)
        return sign * known, sign * (limit.left_g - limit.right_g), limit.rpm

    for weak, sign in (("right", 1.0), ("left", -1.0)):
        worst = max(limits, key=partial(apart, sign=sign))
        if apart(worst, sign)[1] > SAME:
            much = apart_text(worst.left_g, worst.right_g, result)
            said.append(f"{weak} turns are the weaker, by {much} at {worst.rpm:.0f} rpm")
    return "; ".join(said) if said else "the same to both sides"


def _trust(result: HoldMapResult) -> str:
    error = result.error
    tolerance, worst, table = (
        shown(m, "length", result.units, digits=3)
        for m in (error.tolerance_m, error.worst_step_m, error.level_table_m)
    )
    return (
        f"oil lost or won at most {error.mass:.1e} of the fill; a step's error up to {worst}, "
        f"allowed {tolerance}; levels by table within {table} of exact ones; {error.steps} steps, "
        f"{error.rejected} taken back."
    )
