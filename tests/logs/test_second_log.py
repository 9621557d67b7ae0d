# SPDX-License-Identifier: Apache-2.0
"""Logs by another hand and other physics: a test of the code, not a validation against oil."""

import numpy as np
import pytest

from sumpwright.logs.judge import judged
from tools.second_log import second

EARLY = 0.2
"""[s] a start may be off: what was promised."""

CASES = [
    ("usual", "right", False),
    ("usual", "left", False),
    ("usual", "brake", False),
    ("usual", "right", True),
    ("weak", "left", False),
    ("strong", "right", False),
]


@pytest.mark.parametrize(("engine", "where", "cold"), CASES)
@pytest.mark.parametrize("seed", [1, 2])
def test_finds_every_dip_on_a_track_that_is_never_gentle(
    seed: int, engine: str, where: str, cold: bool
) -> None:
    made = second(seed, engine=engine, where=where, cold=cold)
    assert made.dips
    dips = judged(made.log).dips
    assert len(dips) == len(made.dips)
    for true, found in zip(made.dips, dips, strict=True):
        assert abs(found.start - true.start) <= EARLY
        assert found.turn == true.turn


@pytest.mark.parametrize("engine", ["usual", "weak", "strong"])
@pytest.mark.parametrize("cold", [False, True])
def test_shifts_blips_brakes_and_the_relief_valve_are_no_dips(engine: str, cold: bool) -> None:
    assert judged(second(3, engine=engine, where="none", cold=cold).log).dips == ()


def test_learns_pressure_to_a_few_percent_where_nothing_is_gentle() -> None:
    made = second(4, where="none")
    found = judged(made.log).motion
    there = (found.time > 14.0) & (found.speed > 150.0)
    left = found.pressure[there] / found.expected[there] - 1.0
    assert np.percentile(np.abs(left), 50) < 0.02  # the noise is 0.6 to 2 % of the pressure
    assert np.percentile(np.abs(left), 95) < 0.06
