# SPDX-License-Identifier: Apache-2.0
"""Lines of the ledger as a person reads them: what fails, the whole list, what is not judged."""

import math
import textwrap
from collections.abc import Iterator, Sequence

import typer

from sumpwright.studies.result import Requirement
from sumpwright.units import shown

WIDTH = 80
_LONGEST_ID = WIDTH - 11 - 3 * 13
"""Columns that state and figures leave; a longer name takes more lines."""
_SI = {"g": 9.80665, "deg": math.pi / 180.0}
"""Requirements in g and degrees, into what `shown` takes."""
_COLOUR = {"met": typer.colors.GREEN, "not met": typer.colors.RED}


def verdict_text(verdict: str, colour: bool) -> str:
    """``MET``, ``NOT MET`` or that nothing is judged."""
    return styled(verdict, colour) if verdict != "not judged" else "NOTHING JUDGED YET"


def failures(requirements: Sequence[Requirement], units: str) -> Iterator[str]:
    """What is not met, and by how much; nothing where all is well."""
    failed = [r for r in requirements if r.state == "not met"]
    if failed:
        yield "\nWhat fails, and by how much"
    for requirement in failed:
        yield from _failure(requirement, units)


def ledger_lines(requirements: Sequence[Requirement], units: str, colour: bool) -> Iterator[str]:
    """Each line that is judged with its value, limit and margin."""
    judged = [r for r in requirements if r.state != "not judged"]
    if not judged:
        yield "  nothing can be judged yet"
        return
    width = min(max(len(r.id) for r in judged), _LONGEST_ID)
    yield f"  {'':7}  {'':{width}}  {'value':>11}  {'limit':>11}  {'margin':>11}"
    for r in judged:
        value, limit = (quantity_text(n, r, units) for n in (r.value, r.limit))
        margin = quantity_text(r.margin, r, units, sign=True)
        state = styled(r.state, colour, width=7)
        *over, last = textwrap.wrap(r.id, width, break_on_hyphens=False)
        for part in over:
            yield f"  {state}  {part}"
            state = " " * 7
        yield f"  {state}  {last:{width}}  {value:>11}  {limit:>11}  {margin:>11}"


def not_judged(requirements: Sequence[Requirement]) -> Iterator[str]:
    """The lines that cannot be judged, by what they lack."""
    reasons: dict[str, list[str]] = {}
    for r in requirements:
        if r.state == "not judged":
            reasons.setdefault(r.reason, []).append(r.id)
    if reasons:
        yield "\nNot judged yet"
    for reason, ids in reasons.items():
        yield from wrapped(f"{', '.join(ids)}: {reason}", "  ")


def quantity_text(
    value: float | None, requirement: Requirement, units: str, *, sign: bool = False
) -> str:
    """A figure of `requirement` in the person's unit; a dash where there is none."""
    if value is None:
        return "-"
    si = value * _SI.get(requirement.unit, 1.0)
    return shown(si, requirement.kind, units, sign=sign)


def styled(state: str, colour: bool, width: int = 0) -> str:
    """A state, loud where it is not met."""
    text = f"{state.upper():{width}}" if state == "not met" or not width else f"{state:{width}}"
    return typer.style(text, fg=_COLOUR.get(state), bold=True) if colour else text


def wrapped(text: str, indent: str) -> list[str]:
    """Lines of at most `WIDTH`, the later ones indented."""
    later = " " * len(indent) + ("  " if indent.isspace() else "")
    return textwrap.wrap(
        text, WIDTH, initial_indent=indent, subsequent_indent=later, break_on_hyphens=False
    )


def _failure(requirement: Requirement, units: str) -> Iterator[str]:
    value, limit, margin = (
        quantity_text(n, requirement, units)
        for n in (requirement.value, requirement.limit, abs(requirement.margin or 0.0))
    )
    yield from wrapped(f"{requirement.statement}:", "  ")
    why = f" ({requirement.reason})" if requirement.reason else ""
    yield from wrapped(f"{value}, needs {limit}: short by {margin}{why}", "    ")
