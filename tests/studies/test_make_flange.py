# SPDX-License-Identifier: Apache-2.0
"""Bolt pitch against the flange, by hand: [TEMA-RGP] with gasket factors of [ASME-VIII-1]."""

from pathlib import Path

import pytest

from sumpwright.job.load import load_job
from sumpwright.studies.body_file import read_bodies
from sumpwright.studies.make_flange import bolt_pitch, flange_of
from sumpwright.studies.rail import rail_with
from tests.studies.rail_job import rail_job
from tests.studies.shape_job import shape_job

HOLES = ("    - { name: 1, at: [-10 mm, 0 mm] }\n", "".join(
    f"    - {{ name: {k + 1}, at: [{x} mm, {y} mm] }}\n"
    for k, (x, y) in enumerate([(-10, -110), (45, -110), (310, -110), (310, 110), (-10, 110)])
))  # fmt: skip


def test_the_widest_pitch_is_held_against_the_guide(tmp_path: Path) -> None:
    loaded = load_job(shape_job(tmp_path / "job", HOLES))
    bodies = read_bodies(loaded)
    pitch = bolt_pitch(loaded, bodies, rail_with(loaded))
    assert pitch is not None
    assert (pitch.flange_m, pitch.bolt) == (0.008, "M6")
    assert pitch.widest_m == pytest.approx(0.320)
    assert pitch.between == ("4", "5")
    assert pitch.least_m == pytest.approx(0.055)
    # 2 x 6 + 6 x 8 / (m + 0.5): 60 mm for m 0.5, 44 mm for m 1
    assert list(pitch.most_m.values()) == pytest.approx([0.060, 0.044])
    assert pitch.grows == pytest.approx((320.0 / 20.0) ** 0.5)  # over 2 x 6 + 8
    assert pitch.usual_m == (0.040, 0.060)


def test_without_a_flange_nothing_is_said(tmp_path: Path) -> None:
    loaded = load_job(rail_job(tmp_path / "job"))
    bodies = read_bodies(loaded)
    assert flange_of(loaded, bodies) is None
    assert bolt_pitch(loaded, bodies, rail_with(loaded)) is None
