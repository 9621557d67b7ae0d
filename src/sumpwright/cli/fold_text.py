# SPDX-License-Identifier: Apache-2.0
"""Sentences folded into lines, no number parted from its unit, nor a size at its `x`."""

import textwrap

from sumpwright.report.lettering import BREAK

WIDTH = 80
_KEPT = "\N{NO-BREAK SPACE}"


def folded(text: str, lead: str, later: str) -> list[str]:
    """Lines of at most `WIDTH`; the first begins with `lead`, the others with `later`."""
    words = (word.replace(" ", _KEPT) for word in BREAK.split(text))
    lines = textwrap.wrap(
        " ".join(words),
        WIDTH,
        initial_indent=lead,
        subsequent_indent=later,
        break_on_hyphens=False,
    )
    return [line.replace(_KEPT, " ") for line in lines]
