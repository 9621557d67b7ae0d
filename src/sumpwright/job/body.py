# SPDX-License-Identifier: Apache-2.0
"""How the job file names a body: a geometry file, its unit and its frame."""

from typing import Annotated, Literal

from pydantic import Field

from sumpwright.job.section import FileKind, Section

GEOMETRY = FileKind(
    ".step",
    ".stp",
    ".stl",
    ".3mf",
    ".ply",
    needed="a STEP, STL, 3MF or PLY file",
    do="export the body in one of these; STEP keeps the shape and the unit",
)
GeometryPath = Annotated[str, GEOMETRY]


class Body(Section):
    """How the coordinates of a geometry file are to be read."""

    unit: Literal["mm", "cm", "m", "in", "ft"] | None = Field(
        None,
        description="Unit of the numbers in the file. STL and PLY need it; STEP and 3MF carry it.",
    )
    frame: Literal["engine", "car"] = Field(
        "engine",
        description="Frame of the coordinates: the engine's (pan rail at z = 0) or the car's.",
    )
    repair: bool = Field(
        False,
        description="Accept the repair that `check` offers for an unsound mesh; "
        "what was done is written in the report.",
    )


class GeometryFile(Body):
    """A closed body in a file; `file: pan.step` may be written as just `pan.step`."""

    file: GeometryPath = Field(
        min_length=1, description="STEP, STL, 3MF or PLY, relative to the job folder."
    )
