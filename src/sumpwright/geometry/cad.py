# SPDX-License-Identifier: Apache-2.0
"""STEP files through the CAD kernel, which only the cad modules of this folder meet.

A solid becomes triangles face by face. The kernel cuts an edge into the same points for both faces
that meet there, so joining equal points closes the skin exactly; nothing is welded by distance.

Two traps of the kernel (OCP 8): asked for shapes after a failed read it takes the process down, and
it talks on stdout unless its printers are taken away.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from sumpwright.errors import Finding, InputError, SolveError
from sumpwright.geometry.cad_triangle import face_mesh, solid_mesh
from sumpwright.geometry.file_limit import bad_file, check_triangle_count
from sumpwright.geometry.mesh import Mesh, joined
from sumpwright.geometry.place import counted

TOLERANCE = 5e-5
"""Default distance of a chord from its curve [m]: half the width of a fine machined tolerance."""
ANGLE = 0.2
"""Default angle between neighbouring chords [rad]: 32 sides to a circle."""
_MM = 1e-3  # the kernel turns every length unit into millimetres
ASSUMED_UNIT = _MM
"""What the kernel takes a file to mean that states no length unit [m]."""

# Metres per unit, by the kernel's names: SI prefixes, and the based units of ISO 10303-41.
_PREFIX = {"micro": 1e-6, "milli": 1e-3, "centi": 1e-2, "deci": 0.1, "": 1.0, "kilo": 1e3}
_NAMED = {"inch": 0.0254, "in": 0.0254, "foot": 0.3048, "feet": 0.3048, "ft": 0.3048}
_NAMED |= {"mil": 2.54e-5, "yard": 0.9144, "mm": 1e-3, "cm": 1e-2, "m": 1.0, "micron": 1e-6}


@dataclass(frozen=True, eq=False)
class StepSolids:
    """What a STEP file holds, in metres."""

    mesh: Mesh
    solids: int
    units: tuple[tuple[str, float], ...]
    """Each length unit that the file uses: its name and metres per unit."""
    findings: tuple[Finding, ...]


def read_step(path: Path, *, tolerance: float = TOLERANCE, angle: float = ANGLE) -> StepSolids:
    """The solids of a STEP part or assembly, each where the assembly puts it.

    Chords lie inside a bulge and outside a hollow, so a volume errs by at most `tolerance` times
    the curved area, in practice two thirds of that.

    Parameters
    ----------
    path : Path [-]
        The file.
    tolerance : float [m]
        Largest distance of a chord from its curve.
    angle : float [rad]
        Largest angle between neighbouring chords.

    Returns
    -------
    solids : StepSolids [m]
        Closed triangles facing outward; vertices are shared inside a solid, never between two.

    Raises
    ------
    InputError
        GEO-207 too many triangles, GEO-230 not readable, GEO-231 no solids, GEO-232 a solid that
        the kernel cannot turn into triangles, GEO-234 the kernel lacks a system library.
    """
    _wake(path)
    from OCP.BRepMesh import BRepMesh_IncrementalMesh
    from OCP.TopAbs import TopAbs_ShapeEnum as Kind

    shape, units = _shape(path)
    if shape is None:
        raise _no_solids(path, 0)
    solids = list(_parts(shape, Kind.TopAbs_SOLID))
    loose = len(list(_parts(shape, Kind.TopAbs_FACE, outside=Kind.TopAbs_SOLID)))
    if not solids:
        raise _no_solids(path, loose)
    BRepMesh_IncrementalMesh(shape, tolerance / _MM, False, angle, False)
    meshes = [_solid_mesh(path, number + 1, solid) for number, solid in enumerate(solids)]
    check_triangle_count(path, sum(len(m.faces) for m in meshes))
    return StepSolids(joined(meshes), len(solids), units, _left_out(loose))


def read_step_faces(
    path: Path, *, tolerance: float = TOLERANCE, angle: float = ANGLE
) -> tuple[tuple[tuple[Mesh, ...], ...], tuple[Mesh, ...]]:
    """The faces of a STEP part or assembly, each where the assembly puts it.

    Parameters
    ----------
    path : Path [-]
        The file.
    tolerance : float [m]
        Largest distance of a chord from its curve.
    angle : float [rad]
        Largest angle between neighbouring chords.

    Returns
    -------
    solids : tuple of tuple of Mesh [m]
        Each solid's faces; points of neighbours along their common edge are equal.
    loose : tuple of Mesh [m]
        Faces of no solid.

    Raises
    ------
    InputError
        GEO-230 not readable, GEO-234 the kernel lacks a system library.
    """
    _wake(path)
    from OCP.BRepMesh import BRepMesh_IncrementalMesh
    from OCP.TopAbs import TopAbs_ShapeEnum as Kind

    shape, _ = _shape(path)
    if shape is None:
        return (), ()
    BRepMesh_IncrementalMesh(shape, tolerance / _MM, False, angle, False)
    solids = (_parts(s, Kind.TopAbs_FACE) for s in _parts(shape, Kind.TopAbs_SOLID))
    loose = _parts(shape, Kind.TopAbs_FACE, outside=Kind.TopAbs_SOLID)
    return tuple(_face_meshes(faces) for faces in solids), _face_meshes(loose)


def _face_meshes(faces: Iterator[Any]) -> tuple[Mesh, ...]:
    """Faces in metres, without those that the kernel cannot turn into triangles."""
    found = (face_mesh(face) for face in faces)
    return tuple(Mesh(m.vertices * _MM, m.faces) for m in found if m is not None)


def _shape(path: Path) -> tuple[Any, tuple[tuple[str, float], ...]]:
    """Everything in the file as one shape, None where that is nothing, and its length units."""
    from OCP.collections import Sequence_TCollection_AsciiString
    from OCP.IFSelect import IFSelect_ReturnStatus
    from OCP.STEPControl import STEPControl_Reader

    reader = STEPControl_Reader()
    try:
        if reader.ReadFile(str(path)) != IFSelect_ReturnStatus.IFSelect_RetDone:
            raise _unreadable(path, "its text is not STEP, or it was cut short")
        names = [Sequence_TCollection_AsciiString() for _ in range(3)]
        reader.FileUnits(*names)
        reader.TransferRoots()
        shape = reader.OneShape()
    except InputError:
        raise
    except Exception as err:  # whatever the kernel met in the file
        raise _unreadable(path, f"the CAD kernel stopped with {type(err).__name__}") from err
    if shape is None or shape.IsNull():
        return None, ()
    lengths = [names[0].Value(i + 1).ToCString() for i in range(names[0].Length())]
    return shape, tuple((n, _metres(n)) for n in dict.fromkeys(lengths))


def _metres(name: str) -> float:
    """Metres per unit of that name; not a number where the name is none we know."""
    plain = name.strip().lower()
    if plain in _NAMED:
        return _NAMED[plain]
    for ending in ("metre", "meter"):
        if plain.endswith(ending):
            return _PREFIX.get(plain.removesuffix(ending), float("nan"))
    return float("nan")


def _parts(shape: Any, kind: Any, *, outside: Any = None) -> Iterator[Any]:
    """Sub-shapes of a kind, placed; only those not inside an `outside` where that is given."""
    from OCP.TopAbs import TopAbs_ShapeEnum as Kind
    from OCP.TopExp import TopExp_Explorer

    found = TopExp_Explorer(shape, kind, Kind.TopAbs_SHAPE if outside is None else outside)
    while found.More():
        yield found.Current()
        found.Next()


def _solid_mesh(path: Path, number: int, solid: Any) -> Mesh:
    """One solid's faces as one closed mesh in metres."""
    try:
        return solid_mesh(solid)
    except SolveError as err:
        raise bad_file(
            "GEO-232",
            path,
            found=f"solid {number} has a face that cannot be turned into triangles",
            needed="sound faces",
            do="repair the solid in the CAD program, or export STL or 3MF from it",
        ) from err


def _wake(path: Path) -> None:
    """Load the kernel, silent; a bare server lacks the graphics library it is linked against."""
    try:
        silence()
    except ImportError as err:
        raise _no_kernel(path, str(err)) from err


def silence() -> None:
    """Take the kernel's printers away; what it has to say reaches the person as a `Problem`."""
    from OCP.Message import Message

    Message.DefaultMessenger_s().ChangePrinters().Clear()


def _left_out(loose: int) -> tuple[Finding, ...]:
    if not loose:
        return ()
    found = f"{counted(loose, 'face')} of no solid left out"
    return (Finding("GEO-233", "beside the solids", found, "", "note"),)


def _no_kernel(path: Path, why: str) -> InputError:
    return bad_file(
        "GEO-234",
        path,
        found=f"a STEP file, and a CAD kernel that does not start here: {why}",
        needed="the system libraries that the kernel is linked against, libGL above all",
        do="on Debian or Ubuntu `apt-get install libgl1`; or give the body as STL, PLY or 3MF",
    )


def _unreadable(path: Path, why: str) -> InputError:
    return bad_file(
        "GEO-230",
        path,
        found=f"a STEP file that cannot be read: {why}",
        needed="a STEP file (AP203, AP214 or AP242)",
        do="export or copy the file again",
    )


def _no_solids(path: Path, faces: int) -> InputError:
    what = f"shells or surfaces only ({counted(faces, 'face')})" if faces else "no shapes at all"
    return bad_file(
        "GEO-231",
        path,
        found=f"a STEP file with {what}",
        needed="at least one solid",
        do="close or sew the surfaces into a solid in the CAD program, and export that as STEP",
    )
