# SPDX-License-Identifier: Apache-2.0
"""Bodies to 3MF and binary STL text that comes out the same each time. Millimetres in the file."""

import ctypes
import hashlib
import uuid

import numpy as np

from sumpwright.geometry.mesh import Mesh

MM = 1e3
_HEADER = 80
_RECORD = np.dtype([("normal", "<3f4"), ("corners", "<9f4"), ("attribute", "<u2")])


def threemf_bytes(mesh: Mesh, name: str) -> bytes:
    """A 3MF file of one named body."""
    import lib3mf

    library = lib3mf.get_wrapper()
    model = library.CreateModel()
    model.SetUnit(lib3mf.ModelUnit.MilliMeter)
    body = model.AddMeshObject()
    body.SetName(name)
    points = (MM * mesh.vertices).astype(np.float32)
    body.SetGeometry(
        [lib3mf.Position((ctypes.c_float * 3)(*p)) for p in points.tolist()],
        [lib3mf.Triangle((ctypes.c_uint32 * 3)(*f)) for f in mesh.faces.tolist()],
    )
    item = model.AddBuildItem(body, library.GetIdentityTransform())
    # the library numbers things at random; the same body shall give the same bytes
    digest = hashlib.sha256(points.tobytes() + mesh.faces.tobytes() + name.encode()).hexdigest()
    marks = [str(uuid.uuid5(uuid.NAMESPACE_OID, f"{digest} {k}")) for k in range(3)]
    body.SetUUID(marks[0])
    model.SetBuildUUID(marks[1])
    item.SetUUID(marks[2])
    return bytes(model.QueryWriter("3mf").WriteToBuffer())


def stl_bytes(mesh: Mesh, name: str) -> bytes:
    """A binary STL file of one body; its unit, which STL cannot say, is in the header's text."""
    corners = (MM * mesh.corners).astype(np.float32)
    size = np.linalg.norm(mesh.area_vectors, axis=1, keepdims=True)
    records = np.zeros(len(corners), dtype=_RECORD)
    records["normal"] = mesh.area_vectors / np.where(size > 0.0, size, 1.0)
    records["corners"] = corners.reshape(-1, 9)
    head = f"{name}, millimetres".encode("ascii", "replace")[:_HEADER].ljust(_HEADER)
    return head + len(corners).to_bytes(4, "little") + records.tobytes()
