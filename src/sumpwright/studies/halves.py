# SPDX-License-Identifier: Apache-2.0
"""How is the pan made in two halves and welded? Where it is split, what reaches what, what it
takes."""

from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

from sumpwright import __version__
from sumpwright.errors import Finding
from sumpwright.geometry.cad_split import parted_solid
from sumpwright.geometry.mesh import Mesh
from sumpwright.job.load import LoadedJob, load_job
from sumpwright.job.revision import input_hash
from sumpwright.studies.bodies import Bodies
from sumpwright.studies.body_file import read_bodies
from sumpwright.studies.grade import grade_problems
from sumpwright.studies.halves_body import PanMetal, pan_metal
from sumpwright.studies.halves_candidate import candidates, why
from sumpwright.studies.halves_cut import MeshCut
from sumpwright.studies.halves_first import refuse_split, refuse_split_of
from sumpwright.studies.halves_half import Piece, half_of
from sumpwright.studies.halves_joint import JointSize, Prepared, joint_of, joint_size, prepared
from sumpwright.studies.halves_making import Making, making
from sumpwright.studies.halves_problem import mm, no_ring, refuse_lacking
from sumpwright.studies.halves_reach import Missed, cell_of, missed_of, views_of
from sumpwright.studies.halves_result import Candidate, Half, HalvesResult, Joint
from sumpwright.studies.halves_words import (
    advice_of,
    assumptions_of,
    cautions_of,
    lacks_of,
    sealing_of,
)

Progress = Callable[[str, float], None]


@dataclass(frozen=True, eq=False)
class Halved:
    """The answer with what it was made from, to write and to draw."""

    result: HalvesResult
    folder: Path
    upper: Piece
    lower: Piece
    metal: PanMetal
    """The pan's before it is parted"""

    @property
    def body(self) -> Mesh:
        """The same as triangles."""
        return self.metal.mesh


def halves_of(folder: Path, progress: Progress | None = None) -> HalvesResult:
    """The two halves of the job in `folder`; InputError with what is wrong or missing."""
    return halved_of(folder, progress).result


def halved_of(folder: Path, progress: Progress | None = None) -> Halved:
    """As `halves_of`, with the bodies."""
    say = progress or (lambda _text, _share: None)
    loaded = load_job(folder, (grade_problems,))
    refuse_lacking(loaded)
    refuse_split(loaded)
    say("reading geometry", 0.0)
    return halved_with(loaded, read_bodies(loaded, progress), say)


def halved_with(loaded: LoadedJob, bodies: Bodies, say: Progress) -> Halved:
    """The halves of a job whose bodies are there."""
    refuse_lacking(loaded)
    refuse_split_of(loaded, bodies)
    say("putting the pan's metal together", 0.1)
    made = making(loaded, bodies, pan_metal(loaded, bodies))
    height, looked, reason = _height(made, say)
    cut = made.cut(height)
    if not cut.ring:
        raise no_ring(loaded, height, cut.said())
    size = joint_size(made, cut)
    say("parting the pan", 0.5)
    ready = _ready(made, height, size)
    pieces = _pieces(cut, ready)
    say("what the cutters reach", 0.7)
    halves, joint = _halves(made, cut, size, ready, pieces)
    say("writing it down", 0.95)
    result = _result(made, halves, joint, looked, reason, ready)
    return Halved(result, loaded.folder, *pieces, made.metal)


def _height(made: Making, say: Progress) -> tuple[float, tuple[Candidate, ...], str]:
    """The job's height, or the one proposed with what it was chosen from."""
    given = made.split.height
    if given is not None:
        return given, (), "as the job gives it"
    looked = candidates(made, lambda text, share: say(text, 0.15 + 0.35 * share))
    best = next(c for c in looked if c.chosen)
    return best.height_m, looked, why(best, looked, made.units)


def _ready(made: Making, height: float, size: JointSize) -> Prepared | None:
    if made.metal.solid is None:
        return None
    upper, lower = parted_solid(made.metal.solid, height)
    if len(upper) != 1 or len(lower) != 1:
        found = f"leaves {len(upper)} pieces above and {len(lower)} below"
        raise no_ring(made.loaded, height, found)
    return prepared(made, upper[0], lower[0], height, size)


def _pieces(cut: MeshCut, ready: Prepared | None) -> tuple[Piece, Piece]:
    if ready is None:
        return Piece(0, cut.upper, None, False), Piece(1, cut.lower, None, False)
    return (
        Piece(0, cut.upper, ready.upper, ready.modelled),
        Piece(1, cut.lower, ready.lower, ready.modelled),
    )


def _halves(
    made: Making,
    cut: MeshCut,
    size: JointSize,
    ready: Prepared | None,
    pieces: tuple[Piece, Piece],
) -> tuple[tuple[Half, Half], Joint]:
    cell = max(cell_of(piece.mesh) for piece in pieces)
    setups = made.split.setups
    views = [views_of(piece.mesh, made.tools, cell, setups) for piece in pieces]
    missed: list[Missed] = [
        missed_of(piece.mesh, made.tools, cell, seen, made.metal.drilled)
        for piece, seen in zip(pieces, views, strict=True)
    ]
    blanks = made.blanks(cut)
    blocks = made.cut_from(blanks)
    upper, lower = (
        half_of(made, piece, blanks, blocks, found)
        for piece, found in zip(pieces, missed, strict=True)
    )
    access = made.access(cut, views[0][1].seen, views[1][0].seen)
    return (upper, lower), joint_of(made, cut, size, ready, access)


def _result(
    made: Making,
    halves: tuple[Half, Half],
    joint: Joint,
    looked: tuple[Candidate, ...],
    reason: str,
    ready: Prepared | None,
) -> HalvesResult:
    job = made.loaded.job
    lacks = tuple(lacks_of(halves, joint, made.units))
    return HalvesResult(
        job=job.job,
        revision=job.revision,
        input_hash=input_hash(made.loaded),
        code_version=__version__,
        units=made.units,
        verdict="not met" if lacks else "met",
        lacks=lacks,
        advice=tuple(advice_of(halves, joint)),
        material=made.material.name,
        height_m=joint.height_m,
        proposed=made.split.height is None,
        why=reason,
        candidates=looked,
        body_m3=made.metal.volume,
        upper=halves[0],
        lower=halves[1],
        joint=joint,
        sealing=sealing_of(joint, made.units),
        cautions=tuple(cautions_of(made.material, joint)),
        assumptions=tuple(assumptions_of(made, joint)),
        findings=_findings(made, joint, ready),
        currency=job.shop.prices.currency if job.shop is not None else "",
        made_from="meshes" if ready is None else "solids",
    )


def _findings(made: Making, joint: Joint, ready: Prepared | None) -> tuple[Finding, ...]:
    found = [*made.bodies.findings, *made.metal.findings]
    if ready is not None:
        found += ready.findings
    if joint.thick_m > 0.0:
        said = (
            f"the wall at the split is over twice as thick along {mm(joint.thick_m, made.units)}: "
            "a boss or a floor lies in it; look whether the weld should run there"
        )
        found.append(Finding("HALF-510", "the split", said, "", "note"))
    return tuple(found)
