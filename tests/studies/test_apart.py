# SPDX-License-Identifier: Apache-2.0
"""A pan with two wells over a saddle: one level is taken, and what it hides is said.

Volumes by hand: each well is 100 x 200 mm, the saddle between them 40 mm high, all 300 mm long.
"""

from pathlib import Path

import pytest

from sumpwright.geometry.mesh import Mesh
from sumpwright.studies.check import check
from sumpwright.studies.result import CheckResult
from tests.geometry.bodies import prism
from tests.studies.box_job import box_job

OUTLINE = [(0, 0), (0.1, 0), (0.1, 0.04), (0.2, 0.04), (0.2, 0), (0.3, 0), (0.3, 0.1), (0, 0.1)]
WELLS: Mesh = prism(OUTLINE, 0.2).moved([[1, 0, 0], [0, 1, 0], [0, 0, 1]], [0, -0.1, -0.1])
JOB = """\
job: two wells
new:
  name: Two wells
  cavity: {file: geometry/cavity.stl, unit: mm}
  pickup: {centre: [50 mm, 0 mm, -95 mm], diameter: 10 mm}
oil:
  fill: 2.4 L
  low: 1.2 L
  cold: 20 degC
  hot: 20 degC
requirements: {hold_brake: 0.2 g, hold_accelerate: 0.2 g}
"""


@pytest.fixture(scope="module")
def result(tmp_path_factory: pytest.TempPathFactory) -> CheckResult:
    return check(box_job(tmp_path_factory.mktemp("wells"), JOB, cavity=WELLS))


def test_one_pool_at_the_full_mark_and_two_at_the_low(result: CheckResult) -> None:
    # 1.6 L fill both wells to the saddle
    assert result.hold is not None
    assert result.hold.apart.at_rest_m3 == 0.0
    assert result.hold.apart.low_at_rest_m3 == pytest.approx(0.6e-3, rel=1e-9)


def test_what_lies_apart_is_said_with_its_litres(result: CheckResult) -> None:
    said = next(s for s in result.assumptions if s.startswith("Two wells: some oil lies in pools"))
    assert "0.60 L at rest at the low mark" in said


def test_a_limit_reached_with_oil_apart_says_so(result: CheckResult) -> None:
    # braking throws the oil forward, away from the rear well that the pickup is in
    assert result.hold is not None
    apart = result.hold.apart.brake_m3
    assert apart > 1e-3
    line = next(r for r in result.requirements if r.id == "hold_brake")
    assert f"{apart * 1e3:.2f} L of the oil does not touch the pickup's pool there" in line.reason


def test_a_box_never_has_oil_apart(tmp_path: Path) -> None:
    hold = check(box_job(tmp_path, JOB)).hold
    assert hold is not None
    assert set(vars(hold.apart).values()) == {0.0}
    assert hold.brake_g < 1.6
