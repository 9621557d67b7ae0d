# SPDX-License-Identifier: Apache-2.0
"""The demo's pan from numbers to solids, beside reading the same pan from its STEP files."""

from pathlib import Path

from bench.table import Row, seconds
from sumpwright.geometry.cad import read_step
from sumpwright.geometry.cad_pan import pan_solids
from sumpwright.job.load import load_job
from sumpwright.studies.shape_form import pan_form

DEMO = Path(__file__).parents[1] / "examples"
CLOSE = 1e-4  # of the inside's volume: both are triangles within 5e-5 m


def rows() -> list[Row]:
    """Numbers to three solids, measured a second way, with their triangles."""
    form = pan_form(load_job(DEMO / "demo-c"), "new")
    files = [DEMO / "demo-b" / "geometry" / f"new-{name}.step" for name in ("cavity", "outside")]
    drawn, read = pan_solids(form).cavity_mesh.volume, read_step(files[0]).mesh.volume
    assert abs(drawn - read) < CLOSE * read
    one = seconds(lambda: pan_solids(form), times=3)
    other = seconds(lambda: [read_step(f) for f in files], times=3)
    return [
        Row("pan from numbers to solids, each measured twice", one, must=3.0, aim=1.0),
        Row("  reading the same pan from its two STEP files", other),
    ]
