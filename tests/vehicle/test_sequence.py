# SPDX-License-Identifier: Apache-2.0
"""Motions one after the other and on top of each other."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sumpwright.errors import RangeError
from sumpwright.vehicle.kerb import kerb_strike
from sumpwright.vehicle.manoeuvre import brake, launch, steady_circle
from sumpwright.vehicle.motion import Motion
from sumpwright.vehicle.sequence import in_sequence, overlaid
from tests.vehicle.motions import G

CIRCLE = steady_circle(30.0, accel=G, duration=4.0)
KERB = kerb_strike(0.5 * G, 0.1, rebound=0.3, run_up=0.0, rest=0.0)


def test_launch_and_stop_put_together_keep_time_distance_and_spans() -> None:
    go, halt = launch(20.0, 5.0), brake(20.0, 8.0)
    both = in_sequence([go, halt])
    assert both.duration == pytest.approx(go.duration + halt.duration, rel=1e-15)  # rounding
    assert both.distance is not None
    assert go.distance is not None
    assert halt.distance is not None
    assert both.distance[-1] == pytest.approx(go.distance[-1] + halt.distance[-1], rel=1e-15)
    assert [s.name for s in both.spans] == ["launch", "braking"]
    assert both.spans[1].start == pytest.approx(go.duration + halt.spans[0].start, rel=1e-15)
    assert both.speed is not None
    assert both.speed[-1] == 0.0


@pytest.mark.parametrize(
    ("before", "after", "what"),
    [
        (CIRCLE, replace(CIRCLE, accel=CIRCLE.accel + np.array([0.0, 0.0, 1.0])), "acceleration"),
        (launch(20.0, 5.0), brake(21.0, 8.0), "speed"),
    ],
)
def test_refuses_a_jump(before: Motion, after: Motion, what: str) -> None:
    with pytest.raises(RangeError, match=f"{what} must not jump where motions meet"):
        in_sequence([before, after])


def test_what_one_does_not_know_the_whole_does_not_know() -> None:
    both = in_sequence([CIRCLE, kerb_strike(1.0, 0.1)])
    assert both.speed is None
    assert both.distance is None


@given(st.floats(0.0, 1.0))
def test_a_kerb_in_a_turn_adds_up_and_leaves_the_path_alone(share: float) -> None:
    start = share * (CIRCLE.duration - KERB.duration)
    both = overlaid(CIRCLE, KERB, start)
    during = start + KERB.time[1:-1]
    np.testing.assert_allclose(
        both.at(during), CIRCLE.at(during) + KERB.accel[1:-1], atol=1e-6
    )  # nodes closer than 1 ns are one: jerk times 1 ns
    assert both.duration == pytest.approx(CIRCLE.duration, abs=1e-8)  # the same nanosecond
    assert both.peak_jerk <= (CIRCLE.peak_jerk + KERB.peak_jerk) * (1.0 + 1e-6)  # rounding
    assert both.spans == CIRCLE.spans
    assert both.distance is not None
    assert CIRCLE.distance is not None
    assert both.distance[-1] == pytest.approx(CIRCLE.distance[-1], rel=1e-8)  # a nanosecond


def test_refuses_to_lay_on_what_does_not_fit_or_steps() -> None:
    with pytest.raises(RangeError, match="do not fit in"):
        overlaid(CIRCLE, KERB, CIRCLE.duration)
    with pytest.raises(RangeError, match="begin and end without acceleration"):
        overlaid(CIRCLE, Motion(np.array([0.0, 1.0]), np.ones((2, 3))), 1.0)
