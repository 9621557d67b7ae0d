# SPDX-License-Identifier: Apache-2.0
"""How likely a manoeuvre fails a requirement, when what nobody knows well is drawn at random.

Each sample draws the fill, the oil that the engine holds up, how well oil passes openings and how
wide the gaps are, settles, and drives the same manoeuvre. The same seed draws the same samples.
"""

import math
from collections.abc import Callable, Iterator
from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

from sumpwright.geometry.kernel import run_each_in_threads
from sumpwright.job.load import LoadedJob
from sumpwright.oil.network import Course, run
from sumpwright.studies.bodies import Bodies
from sumpwright.studies.drive_feed import inlet_pressure
from sumpwright.studies.drive_start import started_again
from sumpwright.studies.motion_result import Chance
from sumpwright.studies.network import Spread, spread_out

if TYPE_CHECKING:
    from sumpwright.studies.drive import Run

Floats = NDArray[np.float64]
Progress = Callable[[str, float], None]

FILL_SD = 0.02
"""Of the fill; [common-practice], a level read on a dipstick."""
RETAINED_SD = 0.2
"""Of the oil up in the engine, on a logarithmic scale; [common-practice], engines differ."""
DISCHARGE = (0.9, 1.15)
"""Factor on discharge coefficients: 0.55 to 0.70 about a sharp edge's; from memory."""
GAP = (0.5, 2.0)
"""Factor on the width of gaps and of leaks round doors, on a logarithmic scale."""
DRAWN = (
    "fill, normal, 2 % standard deviation",
    "oil up in the engine, log-normal, 20 %",
    "discharge coefficients, even, 0.90 to 1.15 of the job's",
    "gaps and door leaks, even on a logarithmic scale, half to twice",
)
SURE = 1.959963984540054
"""Standard deviations of a 95 % interval."""


def chances(
    loaded: LoadedJob,
    bodies: Bodies,
    done: "Run",
    samples: int,
    seed: int,
    progress: Progress | None = None,
) -> tuple[Chance, ...]:
    """Share of `samples` runs of a drive that fail each requirement on it."""
    drawn = spreads(samples, seed)
    dry, inlet = np.zeros(samples), np.full(samples, np.inf)
    times = (
        done.course.time[::2] if _inlet_limit(loaded, done) is not None else done.course.time[:0]
    )

    def work(k: int) -> None:
        course, varied = _sampled(done, drawn[k], times)
        dry[k] = course.marched.longest_dry
        found = inlet_pressure(loaded, bodies, varied) if len(times) else None
        inlet[k] = np.inf if found is None else found.min()

    def told(count: int) -> None:
        if progress is not None and count % 10 == 0:
            progress("drawing chances", count / samples)

    run_each_in_threads(work, samples, told)
    return tuple(_judged(loaded, done, dry, inlet, seed))


def spreads(samples: int, seed: int) -> list[Spread]:
    """What each sample draws."""
    rng = np.random.default_rng(seed)
    fill = np.maximum(rng.normal(1.0, FILL_SD, samples), 0.5)
    retained = np.exp(rng.normal(0.0, RETAINED_SD, samples))
    discharge = rng.uniform(*DISCHARGE, samples)
    gap = np.exp(rng.uniform(math.log(GAP[0]), math.log(GAP[1]), samples))
    return [Spread(*map(float, row)) for row in zip(fill, retained, discharge, gap, strict=True)]


def _sampled(done: "Run", spread: Spread, times: Floats) -> tuple[Course, "Run"]:
    made = replace(done.ready, net=spread_out(done.ready.net, spread))
    rate = done.forcing.rate / spread.retained
    forcing = done.forcing._replace(rate=rate)
    held = spread.retained * float(done.running.held[0])
    begun = started_again(made, forcing, done.start, spread.fill, held)
    course, _ = run(made.net, forcing, begun.state, times)
    return course, replace(done, ready=made, start=begun, course=course)


def _judged(
    loaded: LoadedJob, done: "Run", dry: Floats, inlet: Floats, seed: int
) -> Iterator[Chance]:
    name, spell = done.driven.name, loaded.job.requirements.dry_spell
    if isinstance(spell, float) and done.ready.net.mouth.pool >= 0:
        yield _chance(f"dry_spell.{name}", dry > spell, seed)
    limit = _inlet_limit(loaded, done)
    if limit is not None:
        yield _chance(f"inlet.{name}", inlet < limit, seed)


def _inlet_limit(loaded: LoadedJob, done: "Run") -> float | None:
    """Least pressure at the pump [Pa]; None where it is not judged."""
    limits, judged = loaded.job.requirements, done.ready.net.mouth.pool >= 0
    limit = limits.inlet_hot if done.is_hot(loaded.job) else limits.inlet_cold
    if not judged or not isinstance(limit, float) or loaded.job.new.suction is None:
        return None
    return limit


def _chance(requirement: str, failed: NDArray[np.bool_], seed: int) -> Chance:
    low, high = wilson(int(failed.sum()), len(failed))
    return Chance(requirement, float(failed.mean()), low, high, len(failed), seed, DRAWN)


def wilson(count: int, samples: int) -> tuple[float, float]:
    """95 % interval of a share seen `count` times in `samples` ([Wilson-1927])."""
    share, z = count / samples, SURE
    middle = share + z * z / (2 * samples)
    half = z * math.sqrt(share * (1 - share) / samples + z * z / (4 * samples * samples))
    whole = 1 + z * z / samples
    low = (middle - half) / whole if count > 0 else 0.0
    high = (middle + half) / whole if count < samples else 1.0
    return low, high
