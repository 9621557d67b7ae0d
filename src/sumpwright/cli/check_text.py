# SPDX-License-Identifier: Apache-2.0
"""What `check` answers, as a person reads it in seconds: verdict, what fails, then the figures."""

import math
import textwrap
from collections.abc import Iterator
from pathlib import Path

import typer

from sumpwright.cli.check_figure import figures
from sumpwright.studies.result import CheckResult, Requirement
from sumpwright.units import shown

WIDTH = 80
_SI = {"g": 9.80665, "deg": math.pi / 180.0}
"""Requirements in g and degrees, into what `shown` takes."""
_COLOUR = {"met": typer.colors.GREEN, "not met": typer.colors.RED}
_CAUTION = (
    "Computed, not proven: an engine can be lost to a figure here that is off. Prove the pan in "
    "stages, watch the oil pressure, and let local rules and qualified practice go first."
)


def check_text(result: CheckResult, pages: tuple[Path, ...], *, colour: bool = False) -> str:
    """The answer in the job's units, at most 80 columns, with no need of `colour`."""
    return "\n".join(_lines(result, pages, colour))


def _lines(result: CheckResult, pages: tuple[Path, ...], colour: bool) -> Iterator[str]:
    judged = result.verdict != "not judged"
    verdict = _styled(result.verdict, colour) if judged else "NOTHING JUDGED YET"
    yield f"{verdict}  {result.job}, revision {result.revision}"
    yield result.summary
    failed = [r for r in result.requirements if r.state == "not met"]
    if failed:
        yield "\nWhat fails, and by how much"
        for requirement in failed:
            yield from _failure(requirement, result.units)
    yield from figures(result)
    yield "\nLedger"
    yield from _ledger(result, colour)
    yield from _not_judged(result)
    if result.findings:
        yield ""
    for finding in result.findings:
        yield from _wrapped(f"{finding.place}: {finding.found} [{finding.code}]", "Noticed: ")
    if pages:
        yield "\nReport  " + "\n        ".join(map(str, pages))
    yield ""
    yield from textwrap.wrap(_CAUTION, WIDTH)


def _failure(requirement: Requirement, units: str) -> Iterator[str]:
    value, limit, margin = (
        quantity_text(n, requirement, units)
        for n in (requirement.value, requirement.limit, abs(requirement.margin or 0.0))
    )
    yield from _wrapped(f"{requirement.statement}:", "  ")
    why = f" ({requirement.reason})" if requirement.reason else ""
    yield from _wrapped(f"{value}, needs {limit}: short by {margin}{why}", "    ")


def _ledger(result: CheckResult, colour: bool) -> Iterator[str]:
    judged = [r for r in result.requirements if r.state != "not judged"]
    if not judged:
        yield "  nothing can be judged yet"
        return
    width = max(len(r.id) for r in judged)
    yield f"  {'':7}  {'':{width}}  {'value':>11}  {'limit':>11}  {'margin':>11}"
    for r in judged:
        value, limit = (quantity_text(n, r, result.units) for n in (r.value, r.limit))
        margin = quantity_text(r.margin, r, result.units, sign=True)
        state = _styled(r.state, colour, width=7)
        yield f"  {state}  {r.id:{width}}  {value:>11}  {limit:>11}  {margin:>11}"


def _not_judged(result: CheckResult) -> Iterator[str]:
    reasons: dict[str, list[str]] = {}
    for r in result.requirements:
        if r.state == "not judged":
            reasons.setdefault(r.reason, []).append(r.id)
    if reasons:
        yield "\nNot judged yet"
    for reason, ids in reasons.items():
        yield from _wrapped(f"{', '.join(ids)}: {reason}", "  ")


def quantity_text(
    value: float | None, requirement: Requirement, units: str, *, sign: bool = False
) -> str:
    """A figure of `requirement` in the person's unit; a dash where there is none."""
    if value is None:
        return "-"
    si = value * _SI.get(requirement.unit, 1.0)
    return shown(si, requirement.kind, units, sign=sign)


def _styled(state: str, colour: bool, width: int = 0) -> str:
    text = f"{state.upper():{width}}" if state == "not met" or not width else f"{state:{width}}"
    return typer.style(text, fg=_COLOUR.get(state), bold=True) if colour else text


def _wrapped(text: str, indent: str) -> list[str]:
    later = " " * len(indent) + ("  " if indent.isspace() else "")
    return textwrap.wrap(
        text, WIDTH, initial_indent=indent, subsequent_indent=later, break_on_hyphens=False
    )
