# SPDX-License-Identifier: Apache-2.0
"""The picture of the housing: drawn to one scale, everything named, nothing beside the sheet."""

import re
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
from lxml import etree

from sumpwright.report.housing_view import COLOURS, WIDE, housing_view
from sumpwright.studies.housing import housing_of
from tests.studies.housing_job import SOCKET, HousingJob, housing_folder

JOB = HousingJob()
BOX = replace(
    JOB,
    plan="box: [80 mm, 60 mm]\n    radius: 8 mm",
    height="32 mm",
    wall="5 mm",
    socket=SOCKET.replace("{", "{leaves: side, direction: 20 deg, "),
    retainer="{thickness: 3 mm, thread: M3, at: [[38 mm, 28 mm], [-38 mm, -28 mm]], lug: 4 mm}",
)
BARE = replace(JOB, screen="", retainer="")


@pytest.mark.parametrize(("job", "parts"), [(JOB, 3), (BOX, 3), (BARE, 1)])
def test_every_part_is_drawn_and_named_within_the_sheet(
    tmp_path: Path, job: HousingJob, parts: int
) -> None:
    result = housing_of(housing_folder(tmp_path, job))
    assert result.scene is not None
    root = etree.fromstring(housing_view(result, result.scene))
    words = " ".join(root.itertext())
    assert "Inlet 10.0 mm over the floor" in words
    fills = {e.get("fill") for e in root.iter("{*}rect")}
    assert len(fills & set(COLOURS.values())) == parts
    tall = float(root.get("viewBox").split()[3])
    for text in root.iter("{*}text"):
        assert 0.0 <= float(text.get("x")) <= WIDE
        assert 0.0 <= float(text.get("y")) <= tall


def test_the_height_on_paper_is_the_height_to_scale(tmp_path: Path) -> None:
    result = housing_of(housing_folder(tmp_path, JOB))
    assert result.scene is not None
    root = etree.fromstring(housing_view(result, result.scene))
    path = next(e for e in root.iter("{*}path") if e.get("fill") == COLOURS["pickup-housing"])
    spots = np.array([float(n) for n in re.findall(r"[-\d.]+", path.get("d"))]).reshape(-1, 2)
    wide, tall = np.ptp(spots, axis=0)
    # 54 mm across; from the flange's upper face at 3 mm to the socket's end, 8 mm over 22 mm
    assert tall / wide == pytest.approx((22 + 8 - 3) / 54, rel=1e-2)
