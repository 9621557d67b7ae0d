# SPDX-License-Identifier: Apache-2.0
"""The verdict: read a job, ask every study, hold the answers against the ledger."""

from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

from sumpwright import __version__
from sumpwright.job.load import LoadedJob, load_job
from sumpwright.job.revision import input_hash
from sumpwright.studies.assumption import assumptions
from sumpwright.studies.bodies import Bodies
from sumpwright.studies.body_file import read_bodies
from sumpwright.studies.clearance import clearance
from sumpwright.studies.feed import feed
from sumpwright.studies.feed_words import said_of
from sumpwright.studies.fill import fill
from sumpwright.studies.grade import grade_problems
from sumpwright.studies.hold import hold
from sumpwright.studies.in_motion import InMotion, in_motion
from sumpwright.studies.ledger import ledger, still_rules, summary_of, verdict_of
from sumpwright.studies.result import CheckResult
from sumpwright.studies.rule import Evidence

Progress = Callable[[str, float], None]


@dataclass(frozen=True, eq=False)
class Checked:
    """A check's result with the bodies it was made from, for pictures."""

    result: CheckResult
    loaded: LoadedJob
    bodies: Bodies


def check(folder: Path, progress: Progress | None = None) -> CheckResult:
    """Verdict on the job in `folder`; writes nothing but the cache of read meshes."""
    return check_with_bodies(folder, progress).result


def still(folder: Path, progress: Progress | None = None) -> CheckResult:
    """The part of the verdict that is there at once: no oil in motion, `motion` is None."""
    return _checked(folder, progress, with_motion=False).result


def check_with_bodies(folder: Path, progress: Progress | None = None) -> Checked:
    """As `check`, keeping the bodies."""
    return _checked(folder, progress, with_motion=True)


def _checked(folder: Path, progress: Progress | None, *, with_motion: bool) -> Checked:
    say = progress or (lambda _text, _share: None)
    loaded = load_job(folder, (grade_problems,))
    say("reading geometry", 0.0)
    bodies = read_bodies(loaded, progress)
    say("fill", 0.4)
    filled = fill(loaded.job, bodies)
    say("clearance", 0.5)
    cleared = clearance(loaded.job, bodies, loaded.folder)
    say("static hold", 0.6)
    held = hold(loaded.job, bodies)
    say("feed", 0.85)
    fed = feed(loaded.job, bodies)
    say("oil in motion", 0.87)
    moved = in_motion(loaded, bodies) if with_motion else InMotion()
    say("ledger", 0.95)
    evidence = Evidence(loaded.job, filled, cleared, held, fed, moved.hold)
    rules = None if with_motion else still_rules(evidence)
    lines = (*ledger(evidence, rules), *moved.lines)
    assert filled is not None, "load_job refuses a job without a fill"
    result = CheckResult(
        job=loaded.job.job,
        revision=loaded.job.revision,
        input_hash=input_hash(loaded),
        code_version=__version__,
        units=loaded.job.units,
        verdict=verdict_of(lines),
        summary=summary_of(lines),
        requirements=lines,
        fill=filled,
        clearance=cleared,
        hold=held,
        assumptions=assumptions(loaded.job, filled, cleared, held) + said_of(fed) + moved.said,
        findings=(*bodies.findings, *moved.findings),
        note=loaded.job.note,
        feed=fed,
        motion=moved.hold,
    )
    say("ledger", 1.0)
    return Checked(result, loaded, bodies)
