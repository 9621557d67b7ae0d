# SPDX-License-Identifier: Apache-2.0
"""What do the baffles make of the new pan? Compartments, the ways between them, what each holds."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from sumpwright import __version__
from sumpwright.errors import Finding, InputError
from sumpwright.geometry.compartment import Compartments, compartments
from sumpwright.geometry.compartment_name import turned_hints
from sumpwright.geometry.level import level_body, levels_of, volume_below
from sumpwright.geometry.panel import Panel
from sumpwright.job.load import LoadedJob, load_job
from sumpwright.job.model import Job
from sumpwright.job.revision import input_hash
from sumpwright.oil.door import Door
from sumpwright.oil.passage import Passage
from sumpwright.studies.bodies import Bodies
from sumpwright.studies.body_file import read_bodies
from sumpwright.studies.cache import kept, mesh_key
from sumpwright.studies.compartment_entry import compartments_entry, entry_compartments
from sumpwright.studies.compartment_finding import (
    dry_openings,
    home_of,
    noted,
    pickup_findings,
    pickup_out_of_oil,
)
from sumpwright.studies.grade import grade_problems
from sumpwright.studies.inner_file import panel_text
from sumpwright.studies.motion_result import Compartment, CompartmentsResult, WayOut
from sumpwright.studies.oil_state import installed_up, oil_state
from sumpwright.studies.passage import Passages, passages_of

Progress = Callable[[str, float], None]
Floats = NDArray[np.float64]


@dataclass(frozen=True, eq=False)
class Parted:
    """The new pan as its baffles part it, ready for oil."""

    parts: Compartments
    passages: tuple[Passage, ...]
    """A door's goes from behind it to where it swings"""
    doors: tuple[Door, ...]
    door_names: tuple[str, ...]
    pickup: int | None
    """Number of the compartment it draws from; None without a pickup"""
    findings: tuple[Finding, ...]
    panels: tuple[Panel, ...] = ()
    labels: tuple[tuple[str, str], ...] = ()
    """Panel of each passage, and its window or door; empty for gaps and what is left open"""


@dataclass(frozen=True, eq=False)
class Looked:
    """The answer on a pan's compartments with what it was made from, for a picture."""

    result: CompartmentsResult
    loaded: LoadedJob
    bodies: Bodies
    parted: Parted


def parted(job: Job, bodies: Bodies, *, baffles: bool = True, folder: Path | None = None) -> Parted:
    """The new pan parted by its baffles, or as if it had none.

    What takes a while is kept in the cache of the job `folder`, where that is given. Raises
    InputError where no compartment holds the pickup's mouth.
    """
    body = bodies.new
    panels = body.panels if baffles else ()
    parts = _as_in_the_car(_parts(bodies, panels, folder), bodies)
    ways = passages_of(parts, panels, job.new.baffles) if panels else Passages()
    home = None
    if job.new.pickup is not None and body.rim is not None:
        home = home_of(parts, body, job.new.pickup)[0]
        if home is None:
            where = bodies.where("new", "pickup")
            raise InputError([pickup_out_of_oil(where, job, body)])
    said = [*noted(parts.notes), *ways.findings, *_of_use(job, bodies, parts)] if panels else []
    return Parted(
        parts=parts,
        passages=tuple(ways.passages),
        doors=tuple(ways.doors),
        door_names=tuple(ways.door_names),
        pickup=home,
        findings=tuple(said),
        panels=panels,
        labels=tuple(ways.labels),
    )


def _parts(bodies: Bodies, panels: tuple[Panel, ...], folder: Path | None) -> Compartments:
    space, solids = bodies.new.oil_space, bodies.new.displacing
    rail = float(bodies.new.cavity.bounds[1, 2])

    def made() -> Compartments:
        return compartments(space, panels, solids, ceiling=rail)

    if folder is None:
        return made()
    key = mesh_key(space, *solids, how=("compartments", panel_text(panels), rail))
    return entry_compartments(kept(folder, key, lambda: compartments_entry(made())))


def _as_in_the_car(parts: Compartments, bodies: Bodies) -> Compartments:
    """Front and left are the car's: an engine may stand across in it."""
    return replace(parts, hints=turned_hints(parts.hints, parts.bodies, bodies.pose.quarter_turn))


def _of_use(job: Job, bodies: Bodies, parts: Compartments) -> Iterator[Finding]:
    """What works against the pickup, and what the oil at rest does not reach."""
    if job.new.pickup is not None:
        yield from pickup_findings(parts, bodies.new, job.new.pickup)
    rest = at_rest(job, bodies)
    if rest is not None:
        yield from dry_openings(parts, bodies.new.panels, *rest, job.units)


def at_rest(job: Job, bodies: Bodies) -> tuple[Floats, float] | None:
    """Up, and the height of the hot full oil with the engine off; None where no fill is known."""
    state = oil_state(job, bodies, job.new, bodies.new)
    if state is None:
        return None
    level, up = bodies.new.level, installed_up(bodies)
    oil = min(state.hot(state.full), level.volume)
    return up, float(levels_of(level, up, oil).height[0])


def compartments_of(folder: Path, progress: Progress | None = None) -> CompartmentsResult:
    """How the baffles of the job in `folder` part its new pan; writes nothing but the cache."""
    return compartments_with_bodies(folder, progress).result


def compartments_with_bodies(folder: Path, progress: Progress | None = None) -> Looked:
    """As `compartments_of`, keeping the bodies."""
    say = progress or (lambda _text, _share: None)
    loaded = load_job(folder, (grade_problems,))
    say("reading geometry", 0.0)
    bodies = read_bodies(loaded, progress)
    say("parting the pan by its baffles", 0.4)
    found = parted(loaded.job, bodies, folder=loaded.folder)
    result = CompartmentsResult(
        job=loaded.job.job,
        revision=loaded.job.revision,
        input_hash=input_hash(loaded),
        code_version=__version__,
        units=loaded.job.units,
        compartments=tuple(_compartments(loaded.job, bodies, found)),
        panel_m3=found.parts.panel_volume,
        displaced_m3=found.parts.solid_volume,
        findings=(*bodies.findings, *found.findings),
    )
    return Looked(result, loaded, bodies, found)


def _compartments(job: Job, bodies: Bodies, found: Parted) -> Iterator[Compartment]:
    rest = at_rest(job, bodies)
    parts = found.parts
    for number, body in enumerate(parts.bodies):
        held = None
        if rest is not None:
            held = float(volume_below(level_body(body), *rest)[0])
        yield Compartment(
            name=parts.names[number],
            where=parts.hints[number],
            volume_m3=float(parts.volumes[number]),
            at_rest_m3=held,
            has_pickup=number == found.pickup,
            ways=tuple(_ways(found, number)),
        )


def _ways(found: Parted, number: int) -> Iterator[WayOut]:
    """The ways of one compartment, in the order of the passages."""
    for way, (panel, opening) in zip(found.passages, found.labels, strict=True):
        if number not in (way.behind, way.ahead):
            continue
        passes = "both ways"
        if way.kind == "door":
            passes = "out" if way.behind == number else "in"
        yield WayOut(
            to=found.parts.names[way.ahead if way.behind == number else way.behind],
            panel=panel,
            opening=opening,
            kind=way.kind,
            area_m2=way.opening.area,
            passes=passes,
        )
