# SPDX-License-Identifier: Apache-2.0
"""The steps of a job's revisions as text."""

from collections.abc import Iterator
from textwrap import shorten

from sumpwright.studies.history import FitEntry, History, Step, grouped
from sumpwright.units import shown

LONGEST = 60
"""Letters of a value; `--json` has the whole of it."""


def history_text(told: History) -> str:
    """Every step: values by key, then figures."""
    lines = [f"{told.job}, revision {told.revision}"]
    for step in told.steps:
        lines += ["", *_step(step, told.units)]
        lines += [
            line for fit in told.fits if fit.revision == step.before for line in _fit(fit, told)
        ]
    if not told.steps:
        lines.append("no revision before this one: sumpwright revise JOB keeps one")
    kept = {step.before for step in told.steps}
    rest = [fit for fit in told.fits if fit.revision not in kept]
    lines += ["", "fit log"] if rest else []
    lines += [line for fit in rest for line in _fit(fit, told)]
    return "\n".join(lines)


def _fit(fit: FitEntry, told: History) -> Iterator[str]:
    """One prototype: when, what was found, what it changed."""
    when = fit.made[:16].replace("T", " ")
    yield f"  fit {when}, revision {fit.revision}, {fit.prototype} ({fit.by})"
    for f in fit.findings:
        by = "" if f.by_m is None else f" {shown(f.by_m, 'length', told.units)}"
        spot = "" if f.at_m is None else ", ".join(shown(c, "length", told.units) for c in f.at_m)
        yield f"    {f.place}: {f.found}{by}{f' at {spot}' if spot else ''}" + (
            f"; {f.note}" if f.note else ""
        )
    if fit.change:
        yield f"    changed: {fit.change}"


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
