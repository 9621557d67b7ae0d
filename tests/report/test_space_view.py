# SPDX-License-Identifier: Apache-2.0
"""The picture of a free space: well-formed, and with the words that a person looks for."""

from pathlib import Path
from xml.etree import ElementTree

import pytest

from sumpwright.report.space_view import space_view
from sumpwright.studies.space import space_with_bodies
from sumpwright.studies.space_ask import SpaceAsked
from sumpwright.studies.space_scene import space_scene
from tests.studies.box_job import JOB, box_job, box_mesh

CAR = """\
pose: {height: 250 mm, x: 1000 mm}
obstacles: [{name: beam & bolt, file: geometry/beam.stl, unit: mm, guard: true}]
"""


@pytest.mark.parametrize(("units", "unit"), [("metric", "mm"), ("us", "in")])
def test_the_picture_says_what_it_shows(tmp_path: Path, units: str, unit: str) -> None:
    text = JOB.replace("job: box\n", f"job: box\nunits: {units}\n") + CAR
    beam = box_mesh((1.1, -0.4, 0.11), (1.2, 0.4, 0.16))
    job = box_job(tmp_path, text, beam=beam)
    spaced = space_with_bodies(job, SpaceAsked(left=0.02, right=0.02, step=0.006))
    svg = space_view(spaced.result, space_scene(spaced))
    words = " ".join(e.text or "" for e in ElementTree.fromstring(svg).iter() if e.text)
    for said in (
        "Plan from above",
        "Cut along",
        "Cut across",
        "opening",
        "beam & bolt",
        "gap kept",
    ):
        assert said in words
    assert f"0 to {'30' if unit == 'mm' else '1.25'} {unit}" in words.replace("0.00 to", "0 to")
    assert "nan" not in svg.decode().lower()
