# SPDX-License-Identifier: Apache-2.0
"""A job whose pan is a rounded box with a flange, so that its halves have closed forms."""

import math
from pathlib import Path

from sumpwright.geometry.cad import silence
from sumpwright.geometry.cad_measure import mesh_of
from sumpwright.geometry.cad_solid import fused, less, prism, rod
from sumpwright.geometry.cad_write import step_bytes
from sumpwright.geometry.profile import Profile, rounded_profile
from tests.studies.box_job import write_stl

SIDES, RADIUS, WALL, DEPTH = (0.30, 0.20), 0.020, 0.004, 0.10
FLANGE, OUT = 0.008, 0.020

JOB = """\
job: rounded box
new:
  cavity: {{file: geometry/cavity.{end}{unit}}}
  outside: {{file: geometry/outside.{end}{unit}}}
  split:
    {split}
oil: {{fill: 3 L, cold: 20 degC, hot: 20 degC}}
shop:
  machine: {{name: mill, travel: [600 mm, 400 mm, 400 mm], price_hour: 50}}
  cutters:
    - {{name: long, diameter: 16 mm, reach: 110 mm, holder: 40 mm}}
    - {{name: short, diameter: 10 mm, corner: 1 mm, reach: 30 mm, holder: 30 mm}}
  stock:
    - {{name: tall, size: [400 mm, 300 mm, 80 mm], material: aluminium 6061-T6, price: 100}}
    - {{name: flat, size: [400 mm, 300 mm, 60 mm], material: aluminium 6061-T6, price: 80}}
    - {{name: steel, size: [400 mm, 300 mm, 90 mm], material: steel, price: 1}}
  prices: {{removal: 60 cm^3/min, weld_hour: 60, weld_rate: 20 mm/min}}
"""
GIVEN = "{height: -45 mm, skim: 1 mm}"


def around(out: float) -> float:
    """Length of the inside's plan, `out` larger all round; Steiner [m]."""
    return 2.0 * (sum(SIDES) - 4.0 * RADIUS) + 2.0 * math.pi * (RADIUS + out)


def outline(out: float) -> Profile:
    (x, y), r = SIDES, RADIUS + out
    corners = [(-out, -out), (x + out, -out), (x + out, y + out), (-out, y + out)]
    return rounded_profile(corners, [r] * 4)


def halves_job(
    folder: Path, split: str = GIVEN, *, end: str = "step", post: bool = False, text: str = JOB
) -> Path:
    """The job's folder; `post` sets a pillar in the pan, from its floor to 20 mm under the rail."""
    silence()
    cavity = prism(outline(0.0), -DEPTH, 0.0)
    walls = prism(outline(WALL), -DEPTH - WALL, 0.0)
    outside = fused([walls, prism(outline(OUT), -FLANGE, 0.0)])
    if post:
        cavity = less(cavity, [rod((0.15, 0.10, -DEPTH - 0.001), (0.15, 0.10, -0.02), 0.01)])
    (folder / "geometry").mkdir(parents=True)
    for name, solid in (("cavity", cavity), ("outside", outside)):
        path = folder / "geometry" / f"{name}.{end}"
        if end == "step":
            path.write_bytes(step_bytes([solid], name))
        else:
            write_stl(path, mesh_of(solid, tolerance=1e-5))
    unit = "" if end == "step" else ", unit: mm"
    done = text.format(end=end, unit=unit, split=split)
    (folder / "job.yaml").write_text(done, encoding="utf-8")
    return folder
