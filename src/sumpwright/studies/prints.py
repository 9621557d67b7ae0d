# SPDX-License-Identifier: Apache-2.0
"""What is printed to try the fit: the pan cut to the printer, with keys, and the pickup housing."""

from collections.abc import Callable, Iterator, Sequence
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from sumpwright import __version__
from sumpwright.errors import InputError, Problem, RangeError, SolveError
from sumpwright.geometry.build import build_mesh
from sumpwright.geometry.solid import Solid, solid_of
from sumpwright.geometry.soundness import soundness
from sumpwright.job.load import LoadedJob, load_job
from sumpwright.job.revision import input_hash
from sumpwright.job.shop import Printer
from sumpwright.metal.print_section import Hole, Piece, fits, pieces_of, upright_holes
from sumpwright.metal.print_section_joint import STEP_DEEP, Joint, joints_of, keyed, rod_of
from sumpwright.metal.print_section_lay import laid, lying
from sumpwright.studies.bodies import Bodies
from sumpwright.studies.body_file import read_bodies
from sumpwright.studies.grade import grade_problems
from sumpwright.studies.housing_place import placed_housing
from sumpwright.studies.prints_body import MM, UNDER_RAIL, print_body
from sumpwright.studies.prints_result import PrintJoint, PrintPiece, PrintsResult
from sumpwright.studies.prints_words import cut_words, findings_of, lies_words
from sumpwright.studies.size_words import in_units, sizes

Progress = Callable[[str, float], None]
Floats = NDArray[np.float64]

SUM = 1e-6
"""Of the body's volume that its pieces together may be off; rounding of the cuts is far less."""


def prints_of(
    folder: Path, progress: Progress | None = None, *, solid: bool = False
) -> PrintsResult:
    """What is printed of the job in `folder`; InputError where it lacks what that needs."""
    say = progress or (lambda _text, _share: None)
    loaded = load_job(folder, (grade_problems,))
    _printer(loaded)
    say("reading geometry", 0.0)
    return prints_with(loaded, read_bodies(loaded, progress), progress, solid=solid)


def prints_with(
    loaded: LoadedJob, bodies: Bodies, progress: Progress | None = None, *, solid: bool = False
) -> PrintsResult:
    """What is printed of a job whose bodies are read; `solid` fills the pan's inside."""
    say = progress or (lambda _text, _share: None)
    printer = _printer(loaded)
    say("making the body to print", 0.3)
    body, how = print_body(loaded, bodies, solid=solid)
    maker = _Maker(loaded, printer)
    say("cutting it to the printer", 0.4)
    pieces, joints, shapes = maker.cut(body)
    top = float(body.bounding_box()[5])
    made = [*maker.pan(pieces, joints, shapes, top, say), *maker.housing(bodies)]
    names = [f"pan-{k + 1}" for k in range(len(pieces))]
    mass = sum(p.count * p.mass_kg for p in made)
    return PrintsResult(
        job=loaded.job.job,
        revision=loaded.job.revision,
        input_hash=input_hash(loaded),
        code_version=__version__,
        units=loaded.job.units,
        printer=printer.name,
        scale=maker.scale,
        how=how,
        body_m3=float(body.volume()) / MM**3,
        pieces=tuple(made),
        joints=tuple(_joint(j, names, loaded.job.units) for j in joints),
        mass_kg=mass,
        cost=None if printer.price_kg is None else printer.price_kg * mass,
        currency=maker.currency,
        findings=(*bodies.findings, *findings_of(made, joints, names, loaded.job.units)),
    )


def _printer(loaded: LoadedJob) -> Printer:
    shop = loaded.job.shop
    if shop is None or shop.printer is None:
        needed = "`shop.printer`: its name and what fits it"
        do = "add it; docs/job-file.md has its keys"
        where = loaded.where("shop", "printer")
        raise InputError([Problem("PRIN-502", where, "no printer", needed, do)])
    return shop.printer


class _Maker:
    """Everything to print, for one printer."""

    def __init__(self, loaded: LoadedJob, printer: Printer) -> None:
        self.loaded, self.printer = loaded, printer
        self.scale = 1.0 / (1.0 - printer.shrink)
        self.full = MM * np.asarray(printer.volume, dtype=float)
        self.room = self.full / self.scale
        self.clearance = MM * printer.clearance
        shop = loaded.job.shop
        self.currency = "EUR" if shop is None else shop.prices.currency

    def cut(self, body: Solid) -> tuple[list[Piece], list[Joint], list[Solid]]:
        """The pieces, which together are the body, what joins them, and each with its keys.

        A step reaches beyond its cut: where one then does not fit, all is cut shorter by as much.
        """
        holes: Sequence[Hole] = upright_holes(body, UNDER_RAIL)
        for spare in (0.0, STEP_DEEP):
            pieces = self._pieces(body, self.room - spare, holes)
            joints = joints_of(pieces, self.clearance)
            shapes = keyed(pieces, joints, self.clearance)
            if all(fits(Piece(shape).size, self.room) for shape in shapes):
                break
        return pieces, joints, shapes

    def _pieces(self, body: Solid, room: Floats, holes: Sequence[Hole]) -> list[Piece]:
        try:
            pieces = pieces_of(body, room, holes)
        except RangeError as err:
            where = self.loaded.where("shop", "printer", "volume")
            found = self.loaded.typed("shop", "printer", "volume")
            do = "give the printer's true size, or print elsewhere"
            needed = in_units(str(err), self.loaded.job.units)
            raise InputError([Problem("PRIN-503", where, found, needed, do)]) from err
        whole = float(body.volume())
        together = sum(float(p.body.volume()) for p in pieces)
        if abs(together - whole) > SUM * whole:
            raise SolveError(f"the pieces hold {together:.6g} mm^3 of a body of {whole:.6g} mm^3")
        return pieces

    def pan(
        self,
        pieces: list[Piece],
        joints: list[Joint],
        shapes: list[Solid],
        top: float,
        say: Progress,
    ) -> Iterator[PrintPiece]:
        """The pan's pieces, then their pegs."""
        for number, shape in enumerate(shapes):
            say(f"laying piece {number + 1} of {len(pieces)}", 0.7 + 0.2 * number / len(pieces))
            kept = Piece(shape, pieces[number].faces)
            lies = lying(number, kept, joints, self.room, top)
            on = lies_words(lies, self.loaded.job.units)
            yield self._piece(f"pan-{number + 1}", "pan", shape, lies.turn, on)
        for radius in sorted({j.radius for j in joints if j.kind == "pegs"}):
            same = [j for j in joints if j.radius == radius]
            long = 2.0 * same[0].depth - 2.0 * self.clearance
            peg = rod_of(np.zeros(3), np.array([0.0, 0.0, long]), radius)
            count = sum(len(j.spots) for j in same)
            key = f"peg-{2.0 * radius:g}".replace(".", "-")
            yield self._piece(key, "peg", peg, np.eye(3), "its end", count)

    def housing(self, bodies: Bodies) -> Iterator[PrintPiece]:
        """The pickup housing upside down on its roof, or as it stands where a socket is on top;
        the flange flat."""
        shape = placed_housing(self.loaded, "new", bodies.new.cavity)
        if shape is None:
            return
        parts = [("pickup-housing", "pickup housing", shape.body)]
        if shape.plate is not None:
            parts.append(("retaining-flange", "retaining flange", shape.plate))
        for key, name, build in parts:
            solid = solid_of(build_mesh(build).scaled(MM), what=name)
            yield self._piece(key, name, solid, np.eye(3), "its lower face")

    def _piece(
        self, key: str, of: str, body: Solid, turn: Floats, on: str, count: int = 1
    ) -> PrintPiece:
        mesh = laid(body, turn, self.scale)
        found = soundness(mesh, overlaps=False)  # rounding may fold hairs that no printer shows
        size = mesh.bounds[1]
        if not (found.sound and found.watertight):
            raise SolveError(f"{key} came out with holes in its skin; move a cut or change a size")
        if (size > self.full / MM * (1.0 + 1e-6)).any():  # single precision's rounding
            where = self.loaded.where("shop", "printer", "volume")
            needed = f"at least {sizes(size, self.loaded.job.units, 0)}, for {key}"
            typed = self.loaded.typed("shop", "printer", "volume")
            problem = Problem("PRIN-503", where, typed, needed, "print it elsewhere")
            raise InputError([problem])
        mass = self.printer.density * mesh.volume
        price = self.printer.price_kg
        cost = None if price is None else price * mass
        sides = (float(size[0]), float(size[1]), float(size[2]))
        return PrintPiece(key, of, count, on, sides, mesh.volume, mass, cost, len(mesh.faces), mesh)


def _joint(joint: Joint, names: Sequence[str], units: str) -> PrintJoint:
    return PrintJoint(
        pieces=(names[joint.low], names[joint.high]),
        cut=cut_words(joint.axis, joint.at / MM, units),
        area_m2=joint.area / MM**2,
        kind=joint.kind,
        keys=len(joint.spots),
        diameter_m=2.0 * joint.radius / MM if joint.kind == "pegs" else None,
    )
