# SPDX-License-Identifier: Apache-2.0
"""How a job says what a baffle is made like."""

import math

import pytest

from sumpwright.errors import InputError
from sumpwright.job.load import load_job

JOB = """\
job: x
new:
  cavity: geometry/new.step
  baffles:
    - name: a
      thickness: 1 mm
      at: [0 m, 0 m, 0 m]
      normal: [1, 0, 0]
      bend_radius: 1.5 mm
      tabs: [{ edge: top, at: -3 mm, width: 2 cm, flange: 10 mm, bends: behind%s }]
      joins: [{ to: b, kind: half-lap, slit: top }]
oil: { fill: 4 L }
"""


def test_reads_tabs_and_joins_in_si(make_job) -> None:
    (baffle,) = load_job(make_job(JOB % ", holes: { diameter: 4 mm, count: 2 }")).job.new.baffles
    (tab,) = baffle.tabs
    assert (tab.at, tab.width, tab.flange) == pytest.approx((-0.003, 0.02, 0.01))
    assert tab.angle == pytest.approx(math.radians(90.0))
    assert (tab.radius, baffle.bend_radius) == (None, pytest.approx(0.0015))
    assert tab.holes.use == "rivets"
    assert (baffle.joins[0].to, baffle.joins[0].slit, baffle.joins[0].count) == ("b", "top", None)


@pytest.mark.parametrize(
    ("key", "code"),
    [
        (", angle: 170 deg", "JOB-102"),
        (", radius: 1", "JOB-101"),
        (", bends: up", "JOB-107"),
        (", holes: { diameter: 4 mm, count: 0 }", "JOB-102"),
        (", hole: 3 mm", "JOB-103"),
    ],
)
def test_refuses_what_a_tab_cannot_be(make_job, key: str, code: str) -> None:
    text = JOB % key if "bends" not in key else (JOB % "").replace(", bends: behind", key)
    with pytest.raises(InputError) as caught:
        load_job(make_job(text))
    assert [p.code for p in caught.value.problems] == [code]
