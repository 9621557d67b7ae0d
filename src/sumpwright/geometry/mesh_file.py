# SPDX-License-Identifier: Apache-2.0
"""A geometry file in, a mesh in metres out; or one clear sentence on why not.

The kind is told by content; a name that says otherwise is refused, since one of the two is a
mistake. Nothing is mended here: `soundness` judges the mesh and `repair` offers the mends.
"""

import math
from dataclasses import dataclass
from pathlib import Path

import numpy as np

from sumpwright.errors import Finding, InputError
from sumpwright.geometry import cad
from sumpwright.geometry.file_limit import (
    MAX_BYTES,
    MAX_STEP_BYTES,
    bad_file,
    too_large,
)
from sumpwright.geometry.merge import exactly_merged
from sumpwright.geometry.mesh import Faces, Mesh, Points
from sumpwright.geometry.place import counted
from sumpwright.geometry.ply import ply_mesh
from sumpwright.geometry.skin import body_count
from sumpwright.geometry.stl import is_ascii_stl, is_binary_stl, stl_triangles
from sumpwright.geometry.threemf import read_3mf

SUFFIXES = {".stl": "STL", ".ply": "PLY", ".3mf": "3MF", ".step": "STEP", ".stp": "STEP"}
DECLARED, READ = "declared", "read from the file"
_HEAD = 4096


@dataclass(frozen=True, eq=False)
class MeshFile:
    """A file's mesh, and how its numbers became metres."""

    mesh: Mesh
    unit: float
    """Metres per file unit."""
    unit_source: str
    """``declared`` or ``read from the file``."""
    bodies: int
    """Connected skins; a void inside a body counts as one."""
    kind: str
    """``STL``, ``PLY``, ``3MF`` or ``STEP``."""
    findings: tuple[Finding, ...] = ()
    """What was left out on reading."""


def read_mesh(
    path: Path,
    unit: float | None = None,
    *,
    tolerance: float = cad.TOLERANCE,
    angle: float = cad.ANGLE,
) -> MeshFile:
    """The mesh of an STL, PLY, 3MF or STEP file.

    Parameters
    ----------
    path : Path [-]
        The file.
    unit : float [m]
        Length of one file unit; needed for STL and PLY, which carry none, and checked against
        what 3MF and STEP say.
    tolerance : float [m]
        For STEP: largest distance of a chord from its curve.
    angle : float [rad]
        For STEP: largest angle between neighbouring chords.

    Returns
    -------
    file : MeshFile [m]
        The mesh as the file has it, equal points made one.

    Raises
    ------
    InputError
        GEO-201 to GEO-232, each with what to do.
    """
    head, size = _looked_at(path)
    kind = _kind(path, head, size)
    if kind == "STEP":
        return _from_step(path, unit, cad.read_step(path, tolerance=tolerance, angle=angle))
    if kind == "3MF":
        mesh, own = read_3mf(path)
        _check_unit(path, unit, own, f"{own * 1e3:g} mm per unit")
        _check_triangles(path, mesh.vertices, mesh.faces)
        return MeshFile(mesh, own, READ, body_count(mesh), kind)
    mesh = _bare_mesh(path, kind, unit)
    return MeshFile(mesh, unit or math.nan, DECLARED, body_count(mesh), kind)


def _from_step(path: Path, unit: float | None, solids: cad.StepSolids) -> MeshFile:
    mesh, own, source = solids.mesh, unit, DECLARED
    for name, length in solids.units:
        _check_unit(path, unit, length, f"{name} (1 = {length * 1e3:g} mm)")
        own, source = solids.units[0][1], READ
    if own is None:
        raise _no_unit(path, "no unit; this STEP file states none")
    if source == DECLARED:
        mesh = mesh.scaled(own / cad.ASSUMED_UNIT)
    return MeshFile(mesh, own, source, body_count(mesh), "STEP", solids.findings)


def _looked_at(path: Path) -> tuple[bytes, int]:
    """The file's first bytes and its size, or why it cannot be had."""
    try:
        if path.is_dir():
            raise bad_file(
                "GEO-202", path, found="a folder", needed="a file", do="name a file in the folder"
            )
        with path.open("rb") as stream:
            return stream.read(_HEAD), path.stat().st_size
    except FileNotFoundError:
        raise bad_file(
            "GEO-201", path, found="no such file", needed="a file", do="correct the name or place"
        ) from None
    except OSError as err:
        raise bad_file(
            "GEO-203",
            path,
            found=f"a file that cannot be opened ({err.strerror or err})",
            needed="a file that you may read",
            do="change its permissions, or close the program that holds it",
        ) from None


def _kind(path: Path, head: bytes, size: int) -> str:
    """What the file is, by content; its suffix may only agree."""
    if not size:
        raise bad_file(
            "GEO-204", path, found="an empty file", needed="geometry", do="export the file again"
        )
    named = SUFFIXES.get(path.suffix.lower())
    kind = _kind_by_content(head, size)
    if size > (MAX_STEP_BYTES if kind == "STEP" else MAX_BYTES):
        raise too_large(path, f"a file of {size / 2**20:,.0f} MiB")
    if kind is None and named != "STL":
        raise bad_file(
            "GEO-205" if named is None else "GEO-206",
            path,
            found=f"content that is not {named or 'a known kind of geometry'}",
            needed="STL, PLY, 3MF or STEP",
            do="export the body as STEP, or as STL with its unit",
        )
    if kind and named and kind != named:
        raise bad_file(
            "GEO-206",
            path,
            found=f"a {kind} file whose name ends in {path.suffix}",
            needed=f"a name that fits, such as {path.stem}.{kind.lower()}",
            do="rename the file, or export it again",
        )
    return kind or "STL"


def _kind_by_content(head: bytes, size: int) -> str | None:
    if is_binary_stl(head, size):
        return "STL"
    begin = head.lstrip(b"\xef\xbb\xbf \t\r\n")
    for mark, kind in ((b"PK\x03\x04", "3MF"), (b"PK\x05\x06", "3MF"), (b"ISO-10303-21", "STEP")):
        if begin.startswith(mark):
            return kind
    if begin[:4] in (b"ply\n", b"ply\r"):
        return "PLY"
    return "STL" if is_ascii_stl(head) else None


def _bare_mesh(path: Path, kind: str, unit: float | None) -> Mesh:
    """The triangles of a file that carries no unit, in metres."""
    if unit is None:
        raise _no_unit(path, f"no unit; {kind} files carry none")
    data = path.read_bytes()
    if kind == "PLY":
        vertices, faces = ply_mesh(path, data)
    else:
        vertices = stl_triangles(path, data).reshape(-1, 3)
        faces = np.arange(len(vertices)).reshape(-1, 3)
    _check_triangles(path, vertices, faces)
    return exactly_merged(Mesh(vertices * unit, faces))


def _check_triangles(path: Path, vertices: Points, faces: Faces) -> None:
    """Refuse what no later check could say anything about."""
    found = code = ""
    if not len(faces):
        code, found = "GEO-212", "no triangles"
    elif faces.min() < 0 or faces.max() >= len(vertices):
        bad = int(((faces < 0) | (faces >= len(vertices))).any(axis=1).argmax()) + 1
        code, found = "GEO-214", f"triangle {bad} with a corner on a point that is not there"
    elif not (good := np.isfinite(vertices[faces]).all(axis=(1, 2))).all():
        first = int(good.argmin()) + 1
        code = "GEO-211"
        many = counted(int((~good).sum()), "triangle")
        found = f"{many} with a corner that is no number, first triangle {first}"
    elif not Mesh(vertices, faces).area_vectors.any():
        code, found = "GEO-213", f"{len(faces):,} triangles, all without area"
    if found:
        needed = "triangles with finite corners and some area"
        cloud = code == "GEO-212" and len(vertices)
        do = "mesh the cloud of points first" if cloud else "export the file again"
        raise bad_file(code, path, found=found, needed=needed, do=do)


def _check_unit(path: Path, declared: float | None, own: float, name: str) -> None:
    """Refuse a declared unit that is not the file's own."""
    if math.isnan(own):
        raise bad_file(
            "GEO-226",
            path,
            found=f"a file in the unit {name!r}",
            needed="a metric or inch unit",
            do="export the file again, in millimetres",
        )
    if declared is not None and not math.isclose(declared, own, rel_tol=1e-9):
        raise bad_file(
            "GEO-209",
            path,
            found=f"a declared unit of {declared * 1e3:g} mm where the file itself says {name}",
            needed=f"{own * 1e3:g} mm per unit, as the file says",
            do="take the declared unit away, or export the file again in the right one",
        )


def _no_unit(path: Path, found: str) -> InputError:
    return bad_file(
        "GEO-208",
        path,
        found=found,
        needed="the unit the file was exported in",
        do="write `unit: mm` (or in, cm, m) beside the file's name, or --unit mm",
    )
