# SPDX-License-Identifier: Apache-2.0
"""What do I run, at what numbers, and where do I stop? The programme of a test day."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path

from sumpwright import __version__
from sumpwright.geometry.frame import STANDARD_GRAVITY
from sumpwright.job.load import LoadedJob, load_job
from sumpwright.job.model import Job
from sumpwright.job.revision import input_hash
from sumpwright.studies.body_file import read_bodies
from sumpwright.studies.compartment import parted
from sumpwright.studies.fill import fill
from sumpwright.studies.grade import grade_problems
from sumpwright.studies.network import ready
from sumpwright.studies.oil_state import hold_speed
from sumpwright.studies.plan_bench import bench
from sumpwright.studies.plan_forecast import A_LITTLE_MORE, Model
from sumpwright.studies.plan_pressure import has_reading, pressure_plan, reading_is_low
from sumpwright.studies.plan_result import PlanResult
from sumpwright.studies.plan_run import FOLLOWED, section_of
from sumpwright.studies.plan_stage import SHARES, Targets, stages
from sumpwright.studies.suction_line import draws

Progress = Callable[[str, float], None]


@dataclass(frozen=True)
class _Lack:
    there: bool
    words: str


def plan(folder: Path, progress: Progress | None = None) -> PlanResult:
    """The programme for the new pan of the job in `folder`; writes nothing but the cache."""
    say = progress or (lambda _text, _share: None)
    loaded = load_job(folder, (grade_problems,))
    job, targets = loaded.job, targets_of(loaded.job)
    say("reading geometry", 0.0)
    bodies = read_bodies(loaded, progress)
    say("bench checks", 0.3)
    filled = fill(job, bodies)
    assert filled is not None, "load_job refuses a job without a fill"
    checks = bench(job, bodies, filled, targets)
    say("tabulating levels", 0.4)
    model, notes = Model(loaded, bodies, None), bodies.findings
    if job.new.pickup is not None:
        found = parted(job, bodies, folder=loaded.folder)
        model = Model(loaded, bodies, ready(loaded, bodies, found, job.oil.hot))
        notes = (*notes, *found.findings)
    say("driving the programme", 0.6)
    result = PlanResult(
        job=job.job,
        revision=job.revision,
        input_hash=input_hash(loaded),
        code_version=__version__,
        units=job.units,
        pan=bodies.new.name,
        note=job.note or "",
        stages=stages(model, targets),
        bench=checks,
        pressure=pressure_plan(job),
        target_left_g=targets["left"],
        target_right_g=targets["right"],
        target_brake_g=targets["brake"],
        target_accelerate_g=targets["accelerate"],
        missing=tuple(missing(loaded)),
        assumptions=assumptions(job),
        findings=notes,
    )
    say("driving the programme", 1.0)
    return result


def targets_of(job: Job) -> Targets:
    """What must be held in motion, each way [g]; None where the job turned it off."""
    asked = job.requirements
    given = {
        "left": asked.target_left,
        "right": asked.target_right,
        "brake": asked.target_brake,
        "accelerate": asked.target_accelerate,
    }
    return {
        way: limit / STANDARD_GRAVITY if isinstance(limit, float) and limit > 0.0 else None
        for way, limit in given.items()
    }


def missing(loaded: LoadedJob) -> Iterator[str]:
    """What the job does not say, and what the programme does without it."""
    job, targets = loaded.job, targets_of(loaded.job)
    held = hold_speed(job)
    lacks = (
        _Lack(job.new.pickup is not None, "`new.pickup`: no run has a forecast of cover"),
        _Lack(
            job.driveline is not None,
            "`driveline`: no gears; runs are computed at the speed the pan must hold at",
        ),
        _Lack(
            job.driveline is not None or held is not None,
            "`engine.rpm`: no engine speed, so no band or abort line beside the runs",
        ),
        _Lack(draws(job), "what the pump draws (`engine.flow` or `engine.pump`)"),
        _Lack(
            has_reading(job),
            "`engine.pump.reading` with flow and oil: the abort line is the rule of thumb",
        ),
        _Lack(job.new.dipstick is not None, "`new.dipstick`: no dipstick column in the fill test"),
        _Lack(
            section_of(job, "circle") is not None,
            "a manoeuvre of kind `circle`: a radius of 30 m (98 ft) is taken",
        ),
        _Lack(
            targets["left"] is not None or targets["right"] is not None,
            "`requirements.target_left` and `target_right` are off: no circles, figure-eights, "
            "transitions or sustained runs",
        ),
        _Lack(targets["brake"] is not None, "`requirements.target_brake` is off: no stops"),
        _Lack(
            targets["accelerate"] is not None,
            "`requirements.target_accelerate` is off: no runs accelerating",
        ),
    )
    yield from (lack.words for lack in lacks if not lack.there)


def assumptions(job: Job) -> tuple[str, ...]:
    """What the numbers rest on."""
    shares = ", ".join(f"{share:.0%}" for share in SHARES)
    low = (
        "The job's own pressure reading is under 10 psi for each 1000 rpm: the abort line made "
        "from it is weak. Find out why, and ask the engine's maker, before any test.",
    )
    return (
        *(low if reading_is_low(job) else ()),
        "Speed on a circle is √(a R) on the path of the car's middle, on level ground; a driver "
        "holds it by the lap time.",
        f"Each run on a circle lasts longer than the model takes to uncover the pickup at "
        f"{A_LITTLE_MORE - 1.0:.0%} over its g, where it does so within {FOLLOWED:.0f} s.",
        f"Figure-eights and slaloms go to {shares} of the smaller target in turns (common "
        "practice, no source), slaloms no further than a quick driver can change sides.",
        "Forecasts are for hot oil at the full mark, from the network of compartments; foam, "
        "splash and wear are not in it.",
        "No wheel slips.",
        *_asked_less(job, targets_of(job)),
    )


def _asked_less(job: Job, targets: Targets) -> Iterator[str]:
    """Stages that prove more than `release` asks for."""
    limits = job.requirements
    less = []
    for way, words in (("left", "turning left"), ("right", "turning right"), ("brake", "braking")):
        asked, target = getattr(limits, f"proof_{way}"), targets[way]
        if isinstance(asked, float) and target is not None and asked / STANDARD_GRAVITY < target:
            less.append(f"{asked / STANDARD_GRAVITY:.2f} g {words}")
    if less:
        yield (
            f"For `release` the job asks for logs to {', '.join(less)}: what this programme goes "
            "beyond that proves more, where tyres and course allow it."
        )
