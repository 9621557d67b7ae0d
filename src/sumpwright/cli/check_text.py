# SPDX-License-Identifier: Apache-2.0
"""What `check` answers, as a person reads it in seconds: verdict, what fails, then the figures."""

import textwrap
from collections.abc import Iterator
from pathlib import Path

from sumpwright.cli.check_figure import figures
from sumpwright.cli.ledger_text import (
    WIDTH,
    failures,
    ledger_lines,
    not_judged,
    verdict_text,
    wrapped,
)
from sumpwright.studies.result import CheckResult

CAUTION = (
    "Computed, not proven: an engine can be lost to a figure here that is off. Prove the pan in "
    "stages, watch the oil pressure, and let local rules and qualified practice go first."
)
"""Said under every figure that a pan may be made by."""


def check_text(result: CheckResult, pages: tuple[Path, ...], *, colour: bool = False) -> str:
    """The answer in the job's units, at most 80 columns, with no need of `colour`."""
    return "\n".join(_lines(result, pages, colour))


def _lines(result: CheckResult, pages: tuple[Path, ...], colour: bool) -> Iterator[str]:
    yield f"{verdict_text(result.verdict, colour)}  {result.job}, revision {result.revision}"
    yield result.summary
    yield from failures(result.requirements, result.units)
    yield from figures(result)
    yield "\nLedger"
    yield from ledger_lines(result.requirements, result.units, colour)
    yield from not_judged(result.requirements)
    if result.findings:
        yield ""
    for finding in result.findings:
        yield from wrapped(f"{finding.place}: {finding.found} [{finding.code}]", "Noticed: ")
    if pages:
        yield "\nReport  " + "\n        ".join(map(str, pages))
    yield ""
    yield from textwrap.wrap(CAUTION, WIDTH)
