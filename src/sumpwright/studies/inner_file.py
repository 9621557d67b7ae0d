# SPDX-License-Identifier: Apache-2.0
"""What stands in a pan, read: baffles as panels, and the room that they and other bodies leave."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from sumpwright.errors import Finding, InputError, Problem
from sumpwright.geometry.cad_face import FlatFace
from sumpwright.geometry.compartment import oil_room
from sumpwright.geometry.edge import welded
from sumpwright.geometry.frame import Pose
from sumpwright.geometry.mesh import Mesh
from sumpwright.geometry.panel import Panel
from sumpwright.geometry.solid import shared_volume
from sumpwright.job.baffle import Baffle
from sumpwright.job.load import LoadedJob
from sumpwright.studies.baffle import (
    face_of,
    panel_of,
    thickness_finding,
    unusable,
)
from sumpwright.studies.cache import Entry, entry_mesh, kept, mesh_entry, mesh_key

NOTHING = 1e-9
"""m^3; a body that takes up less of the oil space than a cubic millimetre stands outside it."""


@dataclass(frozen=True, eq=False)
class Baffles:
    """The baffles of a pan, as far as they can be used."""

    panels: tuple[Panel, ...]
    problems: tuple[Problem, ...]
    findings: tuple[Finding, ...]


def read_baffles(loaded: LoadedJob, key: str, pose: Pose, space: Mesh) -> Baffles:
    """The baffles of the pan under `key`, in its oil space, engine frame."""
    pan = getattr(loaded.job, key)
    panels: list[Panel] = []
    problems: list[Problem] = []
    findings: list[Finding] = []
    for number, baffle in enumerate(pan.baffles):
        where = loaded.where(key, "baffles", number)
        try:
            face = None if baffle.face is None else face_of(loaded.folder, baffle, pose)
        except InputError as err:
            problems += [_named(p, where, baffle) for p in err.problems]
            continue
        panel = panel_of(baffle, space, face)
        if face is not None:
            findings += _of_face(baffle, face, loaded.job.units)
        problems += unusable(where, [panel])
        panels.append(panel)
    return Baffles(tuple(panels), tuple(problems), tuple(findings))


def _named(problem: Problem, where: str, baffle: Baffle) -> Problem:
    """The problem of a face's file, behind the baffle that names it."""
    assert baffle.face is not None
    return replace(problem, where=f"{where} -> {baffle.face.file}")


def _of_face(baffle: Baffle, face: FlatFace, units: str) -> Iterator[Finding]:
    assert baffle.face is not None
    for finding in face.findings:
        yield replace(finding, place=f"{baffle.face.file}: baffle '{baffle.name}'")
    yield from thickness_finding(baffle, face, units)


def panel_text(panels: Sequence[Panel]) -> tuple[object, ...]:
    """All that panels are, for a cache's key."""
    return tuple(
        (
            (p.name, p.point.tolist(), p.normal.tolist(), p.thickness, p.gap),
            None if p.outline is None else p.outline.tolist(),
            tuple((o.name, o.outline.tolist(), o.door) for o in p.openings),
        )
        for p in panels
    )


def read_room(
    loaded: LoadedJob, key: str, space: Mesh, panels: Sequence[Panel], solids: Sequence[Mesh]
) -> tuple[Mesh, tuple[Finding, ...]]:
    """What panels and solids leave of the oil space, and which of the solids stand outside it."""

    def make() -> Entry:
        entry = mesh_entry(oil_room(space, panels, solids))
        return replace(entry, data=[[], [shared_volume(welded(space), welded(s)) for s in solids]])

    how = ("room", panel_text(panels))
    entry = kept(loaded.folder, mesh_key(space, *solids, how=how), make)
    notes = (
        Finding(
            "GEO-407",
            f"{body.file}: {body.name}",
            "a displacing body that stands outside the cavity and takes up nothing",
            "",
            "note",
        )
        for body, taken in zip(getattr(loaded.job, key).displacing, entry.data[1], strict=False)
        if taken < NOTHING
    )
    return entry_mesh(Entry(entry.arrays, entry.data[0]))[0], tuple(notes)
