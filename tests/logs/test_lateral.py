# SPDX-License-Identifier: Apache-2.0
"""Acceleration to the side from what was logged instead.

Source: [ISO-4138], v^2 / r of the steady circle: 60 km/h at 30 m is 0.9439 g and 100 km/h at 100 m
0.7865 g, the usual worked values, which were worked with 9.81 m/s^2.
"""

import math

import numpy as np
import pytest

from sumpwright.errors import RangeError
from sumpwright.logs.lateral import track_curve, with_lateral
from sumpwright.logs.log import Channel, Floats, Log

G = 9.81
WORKED = [(60 / 3.6, 30.0, 0.9439), (100 / 3.6, 100.0, 0.7865)]
TIME = np.arange(0.0, 40.0, 0.05)
PRINTED = 5e-5  # four digits behind the point


def log_of(time: Floats = TIME, **values: Floats) -> Log:
    channels = {
        role: Channel(role, role, "", "given", time, np.broadcast_to(v, time.shape) * 1.0)
        for role, v in values.items()
    }
    return Log("day.csv", channels)


def circle(speed: float, radius: float, *, way: int = 1, time: Floats = TIME) -> dict[str, Floats]:
    """Latitude and longitude, near 47 degrees north, on the sphere of the geodesist's mean."""
    angle, north = way * speed / radius * time, math.radians(47.0)
    return {
        "latitude": north + radius * np.sin(angle) / 6371008.8,
        "longitude": radius * np.cos(angle) / 6371008.8 / math.cos(north),
    }


@pytest.mark.parametrize(("speed", "radius", "size"), WORKED)
@pytest.mark.parametrize("way", [1, -1])
def test_speed_times_yaw_rate_is_the_worked_value(speed, radius, size, way) -> None:
    log, text = with_lateral(log_of(speed=speed, yaw_rate=way * speed / radius))
    np.testing.assert_allclose(log["ay"].value / G, way * size, atol=PRINTED)
    assert text == "acceleration to the side: speed times yaw rate, as if the car did not slide"


@pytest.mark.parametrize(("speed", "radius", "size"), WORKED)
@pytest.mark.parametrize("way", [1, -1])
@pytest.mark.parametrize("with_speed", [True, False])
def test_speed_and_gps_track_are_the_worked_value(speed, radius, size, way, with_speed) -> None:
    more = {"speed": np.array(speed)} if with_speed else {}
    log, text = with_lateral(log_of(**circle(speed, radius, way=way), **more))
    # a parabola over 1 s of an arc of half a radian: its speed and bend are off by (0.25)^2 / 10
    np.testing.assert_allclose(log["ay"].value[20:-20] / G, way * size, rtol=0.02)
    assert "GPS track" in (text or "")


def test_gps_that_wanders_and_is_repeated_still_gives_the_circle() -> None:
    rng = np.random.default_rng(4)
    held = np.floor(TIME * 10.0 + 1e-6) / 10.0  # fixes at 10 Hz in a log at 20 Hz
    track = circle(60 / 3.6, 30.0, time=held)
    noise = {
        k: v + np.repeat(rng.normal(0.0, 0.1, len(TIME) // 2), 2) / 6.371e6
        for k, v in track.items()
    }
    log, _ = with_lateral(log_of(**noise, speed=np.array(60 / 3.6)))
    # 0.1 m of noise on the second derivative of 11 fixes over 1 s is near 0.4 m/s^2, middle less
    assert np.mean(log["ay"].value) / G == pytest.approx(0.944, rel=0.03)


def test_a_car_that_stands_has_no_curve_though_its_fixes_wander() -> None:
    rng = np.random.default_rng(5)
    wander = [rng.normal(0.0, 0.05, len(TIME)) / 6.371e6 for _ in range(2)]
    _, speed, bend = track_curve(TIME, *wander)
    np.testing.assert_array_equal(bend[speed < 2.0], 0.0)
    assert np.mean(speed < 2.0) > 0.95  # 0.05 m over 1 s


@pytest.mark.parametrize(("speed", "radius", "size"), WORKED)
def test_radius_and_speed_are_the_worked_value_and_say_what_is_not_known(
    speed, radius, size
) -> None:
    log, text = with_lateral(log_of(speed=speed), radius=radius)
    np.testing.assert_allclose(log["ay"].value / G, size, atol=PRINTED)
    assert "nothing in the log tells left from right" in (text or "")


def test_radius_and_yaw_rate_know_the_side() -> None:
    log, _ = with_lateral(log_of(yaw_rate=-60 / 3.6 / 30.0), radius=30.0)
    np.testing.assert_allclose(log["ay"].value / G, -0.9439, atol=PRINTED)


def test_radius_and_lap_times_give_whole_laps_only() -> None:
    # 1 g at 30.48 m is a lap of 11.075 s; the lap is rounded to a row of 5 ms
    time = np.arange(0.0, 60.0, 0.005)
    number = np.searchsorted(4.0 + 11.075 * np.arange(5), time, side="right")
    log, text = with_lateral(log_of(time, lap=number), radius=30.48)
    np.testing.assert_allclose(log["ay"].value / G, 1.0, rtol=1e-3)  # 5 ms of 11 s, squared
    assert log["ay"].time[0] == pytest.approx(4.0, abs=0.005)  # a row
    assert log["ay"].time[-1] < 4.0 + 4 * 11.075
    assert "each whole lap" in (text or "")


def test_leaves_a_log_alone_that_has_it_or_cannot_have_it() -> None:
    logged = log_of(ay=3.0, speed=20.0, yaw_rate=0.9)
    assert with_lateral(logged) == (logged, None)
    for poor in (log_of(speed=20.0), log_of(rpm=300.0)):
        assert with_lateral(poor) == (poor, None)
    assert with_lateral(log_of(rpm=300.0), radius=30.0)[1] is None


def test_channels_of_different_rates_meet_where_both_were_logged() -> None:
    slow, quick = np.arange(5.0, 35.0, 0.2), np.arange(0.0, 30.0, 0.01)
    channels = {
        "speed": Channel("speed", "v", "", "given", slow, slow * 1.0),
        "yaw_rate": Channel("yaw_rate", "w", "", "given", quick, np.full(len(quick), 0.5)),
    }
    ay = with_lateral(Log("day.csv", channels))[0]["ay"]
    assert (ay.time[0], ay.time[-1]) == (5.0, quick[-1])
    np.testing.assert_allclose(ay.value, 0.5 * ay.time, rtol=1e-12)


@pytest.mark.parametrize("radius", [0.0, -30.0, float("nan")])
def test_refuses_a_radius_that_is_none(radius: float) -> None:
    with pytest.raises(RangeError, match="over 0 m"):
        with_lateral(log_of(speed=20.0), radius=radius)
