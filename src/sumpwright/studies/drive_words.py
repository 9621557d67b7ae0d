# SPDX-License-Identifier: Apache-2.0
"""What a drive takes for granted, as sentences for the report."""

import math
from collections.abc import Iterator
from typing import TYPE_CHECKING

from sumpwright.geometry.level_table import REACH
from sumpwright.job.model import Job
from sumpwright.studies.bodies import Bodies
from sumpwright.studies.running import USUAL_LAG
from sumpwright.studies.suction_line import draws, oil_line, spares_pickup
from sumpwright.units import shown

if TYPE_CHECKING:
    from sumpwright.studies.drive import Run


def drive_assumptions(job: Job, bodies: Bodies, done: "Run") -> tuple[str, ...]:
    """Every sentence that applies to this drive."""
    return (
        *of_surfaces(),
        *_of_tilt(done),
        *_of_oil(job, done),
        *_of_engine(job, done),
        *_of_feed(job, done),
    )


def of_surfaces() -> Iterator[str]:
    """What is taken for granted of every surface and opening."""
    yield (
        "Each compartment's surface is a plane that swings as the first wave of the oil in it "
        "([Abramson-1966], [Keulegan-1959]); waves that break, run along walls or splash over a "
        "panel are not in it, nor is froth."
    )
    yield (
        "Oil passes windows, doors and gaps as the difference of level over each drives it "
        "(sharp edges, 0.61, unless the job says more); an open door bears the part of it that "
        "the opening round the door takes. Jets, and oil that runs fast past an opening, are not "
        "in it."
    )
    yield "The roll and dive of the body on its springs are not added to the tilt."


def _of_tilt(done: "Run") -> Iterator[str]:
    steepest = float(done.course.normal[..., 2].min(initial=1.0))
    if steepest < math.cos(REACH):
        yield (
            f"A surface was thrown past {math.degrees(REACH):.0f}° from upright; it was taken as "
            "standing there."
        )


def _of_oil(job: Job, done: "Run") -> Iterator[str]:
    if oil_line(job) is None:
        yield "The oil's viscosity is taken as 12 mm²/s, usual for hot oil (common practice)."
    if done.start.typed:
        there = float(done.course.volume[0].sum())
        yield (
            f"It begins with {shown(there, 'volume', job.units)} in the pan as typed, not settled; "
            "the job's own fill does not count."
        )
    if done.start.left_out > 1e-9:
        yield (
            f"{shown(done.start.left_out, 'volume', job.units)} of the fill do not fit under the "
            "top of the oil space and are left out."
        )


def _of_engine(job: Job, done: "Run") -> Iterator[str]:
    if done.running.speed is None:
        yield "No engine speed is known: the pump draws nothing and the engine holds up no oil."
        return
    held = job.engine.retained or job.engine.retained_cold
    if not draws(job):
        stays = ", and what is up in the engine stays there" if held else ""
        yield f"What the pump draws is not known: it is taken as nothing{stays}."
        return
    if job.engine.return_lag is None and held:
        yield (
            "Oil stays up in the engine for the retained amount over the pump's flow "
            f"({_lags(done)}); what the pickup does not get does not go up."
        )
    elif job.engine.return_lag is None:
        most = shown(float(done.course.retained.max()), "volume", job.units)
        yield (
            "How much oil is up in the engine is not known: it is taken to stay there for "
            f"{USUAL_LAG:g} s (common practice), {most} at the most."
        )
    if oil_line(job) is not None and spares_pickup(job):
        yield (
            "The open relief valve spares the pickup what the engine does not take, by the one "
            "reading of the oil pressure. Cold, while the galleries fill after a start, the pickup "
            "carries it all: `feed` shows that."
        )
    if not job.engine.returns:
        yield "Oil comes home evenly over the rail's opening and falls along effective gravity."


def _lags(done: "Run") -> str:
    rate = done.running.rate
    low, high = 1.0 / float(rate.max()), 1.0 / float(rate.min())
    return f"{low:.1f} s" if high - low < 0.05 else f"{low:.1f} to {high:.1f} s"


def _of_feed(job: Job, done: "Run") -> Iterator[str]:
    if done.ready.net.mouth.pool < 0:
        return
    if job.new.suction is None:
        yield "Inlet pressure is that at the pickup's mouth: no `new.suction` is given."
    yield "Air in the oil before it reaches the pickup is not known and not counted."
