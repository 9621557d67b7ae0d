# SPDX-License-Identifier: Apache-2.0
"""Sentences folded into lines, no number parted from its unit, nor a size at its `x`."""

import re
import textwrap

from sumpwright.units import SYSTEMS

WIDTH = 80
_KEPT = "\N{NO-BREAK SPACE}"
_UNITS = {row[0] for system in SYSTEMS.values() for row in system.values()} - {""}
_JOINT = re.compile(
    rf"(?<=\d) (?=(?:{'|'.join(map(re.escape, sorted(_UNITS)))}|deg|h)(?![\w]))"
    r"|(?<=\d) (?=x \d)|(?<=\d x) (?=\d)|(?<=\b[xyz]) (?=[-−\d])"
)


def folded(text: str, lead: str, later: str) -> list[str]:
    """Lines of at most `WIDTH`; the first begins with `lead`, the others with `later`."""
    lines = textwrap.wrap(
        _JOINT.sub(_KEPT, text),
        WIDTH,
        initial_indent=lead,
        subsequent_indent=later,
        break_on_hyphens=False,
    )
    return [line.replace(_KEPT, " ") for line in lines]
