# SPDX-License-Identifier: Apache-2.0
"""Pressure bands from one reading, by proportion; without one the rule of thumb."""

import math
from pathlib import Path

import pytest

from sumpwright.job.load import load_job
from sumpwright.studies.plan_pressure import (
    BAND,
    has_reading,
    pressure_at,
    pressure_plan,
    reading_is_low,
)
from tests.studies.box_job import box_job
from tests.studies.feed_job import REAL, feed_folder

RPM = math.pi / 30.0
HOT = 373.15


def test_the_rule_of_thumb_is_10_psi_for_each_1000_rpm(tmp_path: Path) -> None:
    job = load_job(box_job(tmp_path)).job
    point = pressure_at(job, 6500.0 * RPM, job.oil.hot)
    # common practice, no source; 65 psi = 448.16 kPa by the definition of the psi, as printed
    assert point.abort_pa == pytest.approx(448.2e3, abs=50.0)
    assert point.high_pa is None
    assert not has_reading(job)


def test_pressure_goes_with_speed_from_the_reading_up_to_the_relief(tmp_path: Path) -> None:
    """240 kPa at 3000 rpm, displaced flow: 120 kPa at 1500, and 420 kPa from 5250 rpm on."""
    job = load_job(feed_folder(tmp_path, REAL)).job
    low = pressure_at(job, 1500.0 * RPM, HOT)
    assert (low.low_pa, low.high_pa) == pytest.approx((120e3 * (1 - BAND), 120e3 * (1 + BAND)))
    assert low.abort_pa == low.low_pa
    for rpm in (5300.0, 6500.0):
        assert pressure_at(job, rpm * RPM, HOT).low_pa == pytest.approx(420e3 * (1 - BAND))
    assert not reading_is_low(job)  # 30 psi is 207 kPa


def test_colder_oil_makes_more_pressure_and_the_line_rises_with_it(tmp_path: Path) -> None:
    found = pressure_plan(load_job(feed_folder(tmp_path, REAL)).job)
    at_2000 = [p for p in found.points if p.rpm == pytest.approx(2000.0)]
    lines = [p.abort_pa for p in sorted(at_2000, key=lambda p: p.temperature_k)]
    assert len(lines) == 4
    assert lines == sorted(lines, reverse=True)
    assert "reading" in found.band_source
