# SPDX-License-Identifier: Apache-2.0
"""The end of every answer: what is assumed and was noticed, where the report is, the caution."""

import textwrap
from collections.abc import Iterator, Sequence
from pathlib import Path

from sumpwright.cli.check_text import CAUTION
from sumpwright.cli.ledger_text import WIDTH, wrapped
from sumpwright.errors import Finding


def tail(
    assumptions: Sequence[str], findings: Sequence[Finding], pages: Sequence[Path]
) -> Iterator[str]:
    """Its lines, at most 80 columns."""
    for said in assumptions:
        yield from wrapped(said, "Assumed: ")
    for finding in findings:
        mend = f"; {finding.repair}" if finding.repair else ""
        yield from wrapped(f"{finding.place}: {finding.found}{mend} [{finding.code}]", "Noticed: ")
    if pages:
        yield "\nReport  " + "\n        ".join(map(str, pages))
    yield ""
    yield from textwrap.wrap(CAUTION, WIDTH)
