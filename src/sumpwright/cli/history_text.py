# SPDX-License-Identifier: Apache-2.0
"""The steps of a job's revisions as text."""

from collections.abc import Iterator
from textwrap import shorten

from sumpwright.studies.history import History, Step, grouped
from sumpwright.units import shown

LONGEST = 60
"""Letters of a value; `--json` has the whole of it."""


def history_text(told: History) -> str:
    """Every step: values by key, then figures."""
    lines = [f"{told.job}, revision {told.revision}"]
    for step in told.steps:
        lines += ["", *_step(step, told.units)]
    if not told.steps:
        lines.append("no revision before this one: sumpwright revise JOB keeps one")
    return "\n".join(lines)


def _step(step: Step, units: str) -> Iterator[str]:
    when = f", kept {step.kept}" if step.kept else ""
    yield f"{step.before} to {step.after}{when}"
    for change in grouped(step.changes):
        before, after = (
            shorten(t, LONGEST, placeholder=" ...") for t in (change.before, change.after)
        )
        yield f"  {change.key}: {before or 'nothing'} -> {after or 'nothing'}"
    if not step.changes:
        yield "  nothing that was typed"
    for f in step.figures:
        before, after = (shown(v, f.kind, units) for v in (f.before, f.after))
        by = shown(f.after - f.before, f.kind, units, sign=True)
        yield f"  = {f.name}: {before} -> {after} ({by})"
    if step.why_no_figures:
        yield f"  no figures: {step.why_no_figures}"
