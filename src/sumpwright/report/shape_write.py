# SPDX-License-Identifier: Apache-2.0
"""Write out/shape/ of a job: inside, outside and metal as STEP and STL, and a picture."""

from pathlib import Path

from sumpwright.atomic import write_atomic, write_problem
from sumpwright.errors import InputError
from sumpwright.geometry.cad_write import step_bytes
from sumpwright.report.shape_view import shape_view
from sumpwright.report.threemf_write import stl_bytes
from sumpwright.studies.shape_result import ShapeResult

FOLDER = "shape"


def write_shape(result: ShapeResult, folder: Path) -> tuple[Path, ...]:
    """The paths of the files, in `folder`'s out/shape/."""
    out = folder / "out" / FOLDER
    files = shape_files(result)
    try:
        out.mkdir(parents=True, exist_ok=True)
    except OSError as err:
        raise InputError([write_problem(out, err)]) from err
    for name, data in files.items():
        write_atomic(out / name, data)
    return tuple(out / name for name in files)


def shape_files(result: ShapeResult) -> dict[str, bytes]:
    """Contents by name."""
    made = result.solids
    bodies = (
        ("cavity", made.cavity, made.cavity_mesh),
        ("outside", made.outside, made.outside_mesh),
        ("body", made.body, result.metal),
    )
    files: dict[str, bytes] = {}
    for name, solid, mesh in bodies:
        files[f"{name}.step"] = step_bytes([solid], name)
        files[f"{name}.stl"] = stl_bytes(mesh, name)
    return files | {"shape.svg": shape_view(result)}
