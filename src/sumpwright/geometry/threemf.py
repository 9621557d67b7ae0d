# SPDX-License-Identifier: Apache-2.0
"""3MF models: unit, objects and their placements, as meshes in file units.

Parsed here rather than by a mesh library, because what makes a 3MF hostile (objects that contain
each other, thousand-fold placements, missing parts) must be stopped while the model is walked, and
because libraries pass over objects that are missing. lxml does the parsing; the tests compare with
trimesh and lib3mf. Source: [3MF-CORE] 1.3, with the production extension's `path`.
"""

from dataclasses import dataclass, field
from pathlib import Path
from typing import TYPE_CHECKING

import numpy as np

from sumpwright.errors import InputError
from sumpwright.geometry.archive import Archive, broken_model, safe_archive, safe_xml
from sumpwright.geometry.file_limit import bad_file, check_triangle_count
from sumpwright.geometry.merge import exactly_merged
from sumpwright.geometry.mesh import Mesh, Points, joined

if TYPE_CHECKING:
    from lxml.etree import _Element

UNITS = {
    "micron": 1e-6,
    "millimeter": 1e-3,
    "centimeter": 1e-2,
    "inch": 0.0254,
    "foot": 0.3048,
    "meter": 1.0,
}
"""Metres per unit, by the name the model states. Source: [3MF-CORE] 3.3 ST_Unit."""
MAX_PLACEMENTS = 10_000
_MAX_DEPTH = 64
_MODEL = "http://schemas.microsoft.com/3dmanufacturing/2013/01/3dmodel"
# Extensions that leave the triangles as they are; any other that a model requires is refused.
_HARMLESS = ("/material/2015/02", "/production/2015/06", "/trianglesets/2021/07")
_SHOWN = ("model", "surface")  # not support, solidsupport, other


@dataclass
class _Object:
    """One object: its own triangles, and the objects it is put together from."""

    mesh: Mesh | None
    children: list[tuple[str, str, Points]] = field(default_factory=list)
    """(part, object id, placement (4, 3))."""


def read_3mf(path: Path) -> tuple[Mesh, float]:
    """Everything a 3MF file builds, in metres, and metres per file unit.

    Parameters
    ----------
    path : Path [-]
        The file.

    Returns
    -------
    mesh : Mesh [m]
        Placed objects; vertices are shared inside an object, never between two.
    unit : float [m]
        Of one file unit.

    Raises
    ------
    InputError
        GEO-207 and GEO-220 to GEO-226.
    """
    with safe_archive(path) as archive:
        return _Model(archive).built()


class _Model:
    """The walk from the build list down to triangles."""

    def __init__(self, archive: Archive) -> None:
        self.archive, self.path = archive, archive.path
        self.objects: dict[tuple[str, str], _Object] = {}
        self.roots: dict[str, _Element] = {}
        self.bodies: list[Mesh] = []
        self.triangles = self.placements = 0

    def built(self) -> tuple[Mesh, float]:
        main = _model_part(self.archive)
        root = self.root(main)
        unit_name = root.get("unit", "millimeter")
        if unit_name not in UNITS:
            raise _unknown_unit(self.path, unit_name)
        self.check_extensions(root)
        for item in root.iterfind("{*}build/{*}item"):
            self.place(self.target(item, main), self.placement(item), ())
        if not self.bodies:
            return Mesh(np.zeros((0, 3)), np.zeros((0, 3), dtype=np.int64)), UNITS[unit_name]
        return joined(self.bodies).scaled(UNITS[unit_name]), UNITS[unit_name]

    def root(self, part: str) -> "_Element":
        if part not in self.roots:
            data = self.archive.part(part)
            check_triangle_count(self.path, data.count(b"<triangle "))
            self.roots[part] = safe_xml(self.path, part, data)
        return self.roots[part]

    def check_extensions(self, root: "_Element") -> None:
        for prefix in root.get("requiredextensions", "").split():
            name = root.nsmap.get(prefix, prefix)
            if not str(name).endswith(_HARMLESS):
                raise broken_model(self.path, f"a model that requires the extension {name}")

    def target(self, element: "_Element", part: str) -> tuple[str, str]:
        """(part, object id) that an item or a component points at."""
        path = next((v for k, v in element.attrib.items() if k.endswith("}path")), None)
        found = part if path is None else self.archive.named(str(path))
        if found is None:
            raise broken_model(self.path, f"the part {path!r} is missing from the archive")
        return found, str(element.get("objectid"))

    def placement(self, element: "_Element") -> Points:
        """(4, 3) matrix for row vectors (x, y, z, 1). Source: [3MF-CORE] 3.3 ST_Matrix3D."""
        text = element.get("transform")
        if text is None:
            return np.eye(4)[:, :3]
        try:
            matrix = np.array([float(word) for word in text.split()]).reshape(4, 3)
        except ValueError:
            raise broken_model(
                self.path, f"the placement {text[:60]!r} is not 12 numbers"
            ) from None
        if not np.isfinite(matrix).all() or np.linalg.det(matrix[:3]) == 0.0:
            raise broken_model(self.path, f"the placement {text[:60]!r} flattens the object")
        return matrix

    def place(
        self, key: tuple[str, str], matrix: Points, above: tuple[tuple[str, str], ...]
    ) -> None:
        """Add an object and all it is put together from."""
        self.placements += 1
        if key in above or len(above) > _MAX_DEPTH:
            raise broken_model(self.path, f"object {key[1]} contains itself")
        if self.placements > MAX_PLACEMENTS:
            raise broken_model(self.path, f"more than {MAX_PLACEMENTS:,} placed objects")
        thing = self.object(key)
        if thing.mesh is not None and len(thing.mesh.faces):
            self.triangles += len(thing.mesh.faces)
            check_triangle_count(self.path, self.triangles)
            self.bodies.append(_placed(thing.mesh, matrix))
        for part, name, own in thing.children:
            turned = own @ matrix[:3] + np.vstack([np.zeros((3, 3)), matrix[3]])
            self.place((part, name), turned, (*above, key))

    def object(self, key: tuple[str, str]) -> _Object:
        if key not in self.objects:
            part, name = key
            found = self.root(part).iterfind("{*}resources/{*}object")
            element = next((e for e in found if e.get("id") == name), None)
            if element is None:
                raise broken_model(self.path, f"object {name} is placed but not there")
            self.objects[key] = self.read_object(element, part)
        return self.objects[key]

    def read_object(self, element: "_Element", part: str) -> _Object:
        if element.get("type", "model") not in _SHOWN:
            return _Object(None)
        mesh = element.find("{*}mesh")
        children = [
            (*self.target(c, part), self.placement(c))
            for c in element.iterfind("{*}components/{*}component")
        ]
        return _Object(None if mesh is None else self.mesh(mesh, str(element.get("id"))), children)

    def mesh(self, element: "_Element", name: str) -> Mesh:
        points = element.iterfind("{*}vertices/{*}vertex")
        triangles = element.iterfind("{*}triangles/{*}triangle")
        try:
            places = [(float(p.get("x")), float(p.get("y")), float(p.get("z"))) for p in points]
            corners = [(int(t.get("v1")), int(t.get("v2")), int(t.get("v3"))) for t in triangles]
            vertices = np.array(places, dtype=np.float64).reshape(-1, 3)
            faces = np.array(corners, dtype=np.int64).reshape(-1, 3)
        except (TypeError, ValueError, OverflowError):
            raise broken_model(
                self.path, f"object {name} has a point or triangle that is no number"
            ) from None
        if len(faces) and (faces.min() < 0 or faces.max() >= len(vertices)):
            raise broken_model(
                self.path, f"object {name} has a triangle on a point that is not there"
            )
        return exactly_merged(Mesh(vertices, faces))


def _placed(mesh: Mesh, matrix: Points) -> Mesh:
    moved = Mesh(mesh.vertices @ matrix[:3] + matrix[3], mesh.faces)
    return moved.flipped() if np.linalg.det(matrix[:3]) < 0.0 else moved  # a mirror turns it out


def _model_part(archive: Archive) -> str:
    """The part that the archive's own relations name as the model, or the usual name."""
    relations = archive.named("_rels/.rels")
    name: str | None = "3D/3dmodel.model"
    if relations is not None:
        root = safe_xml(archive.path, relations, archive.part(relations))
        targets = (r.get("Target") for r in root if r.get("Type") == _MODEL)
        name = next(targets, name)
    found = archive.named(str(name))
    if found is None:
        raise bad_file(
            "GEO-224",
            archive.path,
            found=f"an archive without the model part {name}",
            needed="a 3MF file, which holds a 3D model",
            do="export the 3MF again; this ZIP archive is something else",
        )
    return found


def _unknown_unit(path: Path, name: str) -> InputError:
    return bad_file(
        "GEO-226",
        path,
        found=f"a model in the unit {name!r}",
        needed="one of " + ", ".join(UNITS),
        do="export the 3MF again, in millimeter",
    )
