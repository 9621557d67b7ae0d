# SPDX-License-Identifier: Apache-2.0
"""A flat sheet drawn in CAD: its plane, its outline and its holes, from a STEP file.

The file holds one flat face, or one thin solid. Of a solid the two large parallel faces are taken
and the plane midway between them, because a panel's material is centred on its plane.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from pathlib import Path

import numpy as np
from numpy.typing import ArrayLike, NDArray

from sumpwright.errors import Finding, InputError
from sumpwright.geometry.cad import TOLERANCE, read_step_faces
from sumpwright.geometry.cell import net_sides
from sumpwright.geometry.edge import loops
from sumpwright.geometry.file_limit import bad_file
from sumpwright.geometry.merge import exactly_merged
from sumpwright.geometry.mesh import Mesh, joined
from sumpwright.geometry.panel import plane_basis
from sumpwright.geometry.place import counted, millimetres
from sumpwright.geometry.section import outline_area

Floats = NDArray[np.float64]

FLAT = TOLERANCE
"""m; a face whose points lie this near to a plane is flat, as near as curves are followed."""
_SAME = 1e-6  # sine of the angle within which planes are parallel
_ALIKE = 0.1  # of its area that the back of a sheet may differ from its front, by bevelled edges
_RIVAL = 0.5  # of the largest flat face's area, from which another makes it unclear which is meant
_THIN = 0.2  # of the square root of the area; thicker than that is no sheet
_TENTH_MM = 4  # decimals of a metre by which holes are told apart along, before up decides
_FORWARD = 1e-3  # a normal's part along an axis under this counts as none: 0.06 degrees


@dataclass(frozen=True, eq=False)
class FlatFace:
    """A flat sheet in space."""

    outer: Floats
    """(k, 3) [m] corners of its outline"""
    inner: tuple[Floats, ...]
    """(k, 3) [m] of each hole, from start to end along, then up"""
    thickness: float | None
    """m of a solid; None of a face"""
    findings: tuple[Finding, ...] = ()

    @cached_property
    def normal(self) -> Floats:
        """(3,) to the front; to the left where the sheet runs fore and aft; up where it is level.

        The side that a CAD program looks at is seldom the one its maker knows of.
        """
        spokes = self.outer - self.outer[0]
        vector = np.cross(spokes, np.roll(spokes, -1, axis=0)).sum(axis=0)
        vector /= np.linalg.norm(vector)
        lead = vector[int(np.argmax(np.abs(vector) > _FORWARD))]
        return np.asarray(vector if lead > 0.0 else -vector)

    @property
    def point(self) -> Floats:
        """(3,) [m] on the plane, nearest to the origin; along and up count from here.

        For a wall across the car along is y and up is z of the frame.
        """
        return np.asarray(self.outer.mean(axis=0) @ self.normal * self.normal)

    @property
    def outline(self) -> Floats:
        """(k, 2) [m] in the panel's along and up."""
        return self._flat(self.outer)

    @property
    def holes(self) -> tuple[Floats, ...]:
        """(k, 2) [m] of each, in the panel's along and up."""
        return tuple(self._flat(hole) for hole in self.inner)

    def moved(self, rotation: ArrayLike, shift: ArrayLike) -> "FlatFace":
        """The sheet turned by (3, 3), then moved by (3,) [m]."""
        turn, by = np.asarray(rotation, dtype=float), np.asarray(shift, dtype=float)
        inner = tuple(hole @ turn.T + by for hole in self.inner)
        return replace(self, outer=self.outer @ turn.T + by, inner=inner)

    def _flat(self, points: Floats) -> Floats:
        return np.asarray((points - self.point) @ plane_basis(self.normal).T)


@dataclass(frozen=True, eq=False)
class _Flat:
    """All faces on one plane."""

    normal: Floats
    reach: float
    mesh: Mesh

    @property
    def area(self) -> float:
        return self.mesh.area


def read_flat_face(path: Path) -> FlatFace:
    """The flat sheet in a STEP file, curves followed to 0.05 mm.

    Parameters
    ----------
    path : Path [-]
        Of a file with one flat face, or with one thin solid.

    Returns
    -------
    face : FlatFace [m]
        In the file's axes. Of a bent or flanged solid only the largest flat side, with a note.

    Raises
    ------
    InputError
        GEO-401 no flat face, GEO-402 more than one, GEO-403 a solid that is no sheet; GEO-230 and
        GEO-234 as `read_step`.
    """
    solids, loose = read_step_faces(path)
    parts = len(solids) + bool(loose)
    if len(solids) > 1 or parts > 1:
        what = counted(len(solids), "solid") + (f" and {counted(len(loose), 'face')}" * bool(loose))
        raise _several(path, what)
    faces = solids[0] if solids else loose
    flats = _flats(faces)
    if not flats:
        what = f"{counted(len(faces), 'face')}, none of them flat" if faces else "no face at all"
        raise _not_flat(path, what)
    if solids:
        return _of_solid(path, flats, sum(f.area for f in faces))
    whole = sum(len(f.mesh.faces) for f in flats) == sum(len(f.faces) for f in faces)
    if len(flats) > 1 or not whole:
        raise _several(path, f"{counted(len(faces), 'face')} that do not lie on one plane")
    return _sheet(path, flats[0].mesh, flats[0].normal, None)


def _flats(faces: Sequence[Mesh]) -> list[_Flat]:
    """The flat faces put together by plane, the largest first."""
    found: list[_Flat] = []
    for mesh in faces:
        vector = mesh.area_vectors.sum(axis=0)
        size = float(np.linalg.norm(vector))
        if not size > 0.0:
            continue
        normal = vector / size
        heights = mesh.vertices @ normal
        if np.ptp(heights) > FLAT:
            continue
        reach = float(heights.mean())
        for k, other in enumerate(found):
            if other.normal @ normal > 1.0 - _SAME and abs(other.reach - reach) <= FLAT:
                found[k] = replace(other, mesh=joined([other.mesh, mesh]))
                break
        else:
            found.append(_Flat(normal, reach, mesh))
    return sorted(found, key=lambda f: -f.area)


def _of_solid(path: Path, flats: Sequence[_Flat], whole: float) -> FlatFace:
    """The sheet midway between the two largest faces of a solid."""
    front = flats[0]
    backs = [f for f in flats[1:] if f.normal @ front.normal < _SAME - 1.0]
    back = min(backs, key=lambda f: abs(f.area - front.area), default=None)
    rival = next((f for f in flats[1:] if f is not back and f.area > _RIVAL * front.area), None)
    if rival is not None:
        raise _several(path, "a solid with several large flat sides")
    if back is None or abs(back.area - front.area) > _ALIKE * front.area:
        raise _no_sheet(path, "a solid whose largest flat side has no like opposite it")
    thickness = front.reach + back.reach
    if not 0.0 < thickness < _THIN * np.sqrt(front.area):
        raise _no_sheet(path, f"a solid {millimetres(abs(thickness))} thick")
    middle = Mesh(front.mesh.vertices - 0.5 * thickness * front.normal, front.mesh.faces)
    sheet = _sheet(path, middle, front.normal, thickness)
    edge = sum(_run(ring) for ring in (sheet.outer, *sheet.inner)) * thickness
    rest = 1.0 - (front.area + back.area + edge) / whole
    return replace(sheet, findings=_left_out(rest)) if rest > _ALIKE else sheet


def _run(ring: Floats) -> float:
    return float(np.linalg.norm(np.roll(ring, -1, axis=0) - ring, axis=1).sum())


def _sheet(path: Path, mesh: Mesh, normal: Floats, thickness: float | None) -> FlatFace:
    """Outline and holes of a flat mesh; where it faces, outlines turn left and holes right."""
    net = exactly_merged(mesh)
    rings = [net.vertices[ring] for ring in loops(net_sides(net.faces))]
    basis = plane_basis(normal)
    outer = [ring for ring in rings if outline_area([ring @ basis.T]) > 0.0]
    if len(outer) != 1:
        raise _several(path, f"{len(outer)} flat pieces that do not hang together")
    inner = [ring for ring in rings if ring is not outer[0]]
    face = FlatFace(outer[0], tuple(inner), thickness)
    places = [tuple(np.round(hole.mean(axis=0), _TENTH_MM)) for hole in face.holes]
    order = sorted(range(len(inner)), key=places.__getitem__)
    return replace(face, inner=tuple(inner[k] for k in order))


def _left_out(share: float) -> tuple[Finding, ...]:
    found = f"{100.0 * share:.0f} % of the solid's skin is bent away from its largest flat side"
    return (Finding("GEO-404", "the sheet", f"{found} and left out", "", "note"),)


_NEEDED = "one flat face, or one thin flat solid"


def _not_flat(path: Path, found: str) -> InputError:
    do = "export the sheet's flat face alone, or give the panel by `at`, `normal` and `outline`"
    return bad_file("GEO-401", path, found=found, needed=_NEEDED, do=do)


def _several(path: Path, found: str) -> InputError:
    do = "export one panel to a file, and give each its own entry under `baffles`"
    return bad_file("GEO-402", path, found=found, needed=_NEEDED, do=do)


def _no_sheet(path: Path, found: str) -> InputError:
    do = "export the panel's flat face alone; a body that only takes up room goes to `displacing`"
    return bad_file("GEO-403", path, found=found, needed=_NEEDED, do=do)
