# SPDX-License-Identifier: Apache-2.0
"""Job folders whose answers have closed forms: pans and obstacles are boxes."""

from pathlib import Path

import numpy as np

from sumpwright.geometry.mesh import Mesh

# x 0 to 300, y -100 to 100, z -100 to 0 mm: 6 L, and 60 L a metre of depth
BOX = ((0.0, -0.1, -0.1), (0.3, 0.1, 0.0))

JOB = """\
job: box
new:
  cavity: {file: geometry/cavity.stl, unit: mm}
oil:
  fill: 3 L
  cold: 20 degC
  hot: 20 degC
"""


def box_mesh(low: tuple[float, float, float], high: tuple[float, float, float]) -> Mesh:
    """A closed box [m]."""
    a, b = np.array(low), np.array(high)
    unit = np.array([[x, y, z] for x in (0, 1) for y in (0, 1) for z in (0, 1)], dtype=float)
    quads = [(0, 1, 3, 2), (4, 6, 7, 5), (0, 4, 5, 1), (2, 3, 7, 6), (0, 2, 6, 4), (1, 5, 7, 3)]
    faces = [t for p, q, r, s in quads for t in ((p, q, r), (p, r, s))]
    return Mesh(a + unit * (b - a), np.array(faces))


def write_stl(path: Path, mesh: Mesh) -> None:
    """ASCII STL in millimetres, digits enough for float64."""
    lines = ["solid body"]
    for corners in mesh.corners * 1e3:
        lines += ["facet normal 0 0 0", "outer loop"]
        lines += ["vertex " + " ".join(repr(float(c)) for c in p) for p in corners]
        lines += ["endloop", "endfacet"]
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_text("\n".join([*lines, "endsolid body", ""]))


def box_job(folder: Path, text: str = JOB, **bodies: Mesh) -> Path:
    """A job folder with `text` as its job file; every body as geometry/NAME.stl."""
    folder.mkdir(parents=True, exist_ok=True)
    for name, mesh in {"cavity": box_mesh(*BOX), **bodies}.items():
        write_stl(folder / "geometry" / f"{name}.stl", mesh)
    (folder / "job.yaml").write_text(text, encoding="utf-8")
    return folder
