# SPDX-License-Identifier: Apache-2.0
"""A fault put into a sound log is found, alone, where it was put; a sound log has none.

Source: faults made here with place and size known. The limits are common practice, no source.
"""

from dataclasses import replace

import numpy as np
import pytest

from sumpwright.logs.health import fresh_rate, sensor_notes
from sumpwright.logs.log import Channel, Floats, Log, Role
from sumpwright.logs.note import Note

G = 9.80665
RPM = 2 * np.pi / 60
TIME = np.arange(0.0, 120.0, 0.01)
KEY_ON = TIME < 4.0
STOPPED = TIME > 108.0
ON = ~KEY_ON & ~STOPPED


def sound(**changes: Floats) -> Log:
    """Key on, two minutes of corners, engine off; every sensor quick, noisy and right."""
    rng = np.random.default_rng(11)
    within = np.mod(TIME, 7.0)
    speed = np.where(ON, 12.0 + 10.0 * np.sin(2 * np.pi * TIME / 20.0) ** 2, 0.0)
    rpm = np.where(ON, 3000.0 + 500.0 * within, 0.0) * RPM
    after = np.where(STOPPED, np.exp(-(TIME - 108.0) / 1.0), 0.0)  # pressure runs down
    still = ~ON
    values = {
        "pressure": np.where(ON, 1.2e5 + 700.0 * rpm, 3e5 * after) + rng.normal(0, 3e3, len(TIME)),
        "rpm": rpm * (1.0 + rng.normal(0, 1e-3, len(TIME))),
        "ax": np.where(still, 0, 3.0 * np.cos(TIME)) + rng.normal(0, 0.2, len(TIME)),
        "ay": np.where(still, 0, 9.0 * np.sin(TIME)) + rng.normal(0, 0.2, len(TIME)),
        "speed": np.maximum(speed + np.where(ON, rng.normal(0, 0.05, len(TIME)), 0.0), 0.0),
    }
    values.update(changes)
    return Log("day.csv", {r: channel(r, TIME, v) for r, v in values.items()})  # type: ignore[arg-type]


def channel(role: Role, time: Floats, value: Floats) -> Channel:
    return Channel(role, role, "", "given", time, value)


def with_channel(log: Log, role: Role, time: Floats, value: Floats) -> Log:
    return replace(log, channels={**log.channels, role: channel(role, time, value)})


def only(log: Log) -> Note:
    notes = sensor_notes(log)
    assert len(notes) == 1, [(n.channel, n.kind, n.text) for n in notes]
    return notes[0]


LOG = sound()
P = LOG["pressure"].value


def test_a_sound_log_has_no_note() -> None:
    assert sensor_notes(LOG) == ()


def test_a_gap_is_a_dropout() -> None:
    keep = (TIME < 50.0) | (TIME >= 51.5)
    note = only(with_channel(LOG, "pressure", TIME[keep], P[keep]))
    assert (note.channel, note.kind, note.matters) == ("pressure", "dropout", True)
    assert (note.start, note.end) == pytest.approx((49.99, 51.5))
    assert "1 gap without values, 1.51 s in all" in note.text


def test_a_reading_that_stays_is_stuck() -> None:
    held = np.where((TIME > 40.0) & (TIME < 45.0), P[4000], P)
    note = only(sound(pressure=held))
    assert (note.channel, note.kind, note.matters) == ("pressure", "stuck", True)
    assert (note.start, note.end) == pytest.approx((40.0, 44.99))


def test_a_sensor_that_never_moves_is_stuck() -> None:
    note = only(sound(ax=np.zeros(len(TIME))))
    assert (note.channel, note.kind, note.matters) == ("ax", "stuck", False)


def test_a_coarse_sensor_on_a_straight_is_not_stuck_but_in_turns_it_is() -> None:
    straight = np.where((TIME > 30.0) & (TIME < 36.0), 0.0, LOG["ay"].value)
    yaw = np.where(straight == 0.0, 0.0, np.sin(TIME)) + 1e-3 * np.cos(900.0 * TIME)
    assert sensor_notes(sound(ay=straight, yaw_rate=yaw * ON)) == ()
    note = only(sound(ay=straight, yaw_rate=np.sin(TIME) * ON + 1e-3 * np.cos(900.0 * TIME)))
    assert (note.channel, note.kind, note.matters) == ("ay", "stuck", False)


def test_engine_speed_that_is_never_there_is_stuck() -> None:
    notes = [n for n in sensor_notes(sound(rpm=np.zeros(len(TIME)))) if n.channel == "rpm"]
    assert [(n.kind, n.matters) for n in notes] == [("stuck", True)]


def test_a_relief_valve_that_holds_a_coarse_gauge_is_not_stuck() -> None:
    relief = np.minimum(np.round(P / 1e4) * 1e4, 3.3e5)
    assert "stuck" not in [n.kind for n in sensor_notes(sound(pressure=relief))]


def test_a_sensor_at_its_end_is_clipped() -> None:
    ay = LOG["ay"].value
    note = only(sound(ay=np.clip(ay, -7.0, 20.0)))
    assert (note.channel, note.kind) == ("ay", "clipped")
    assert f"{np.count_nonzero(ay <= -7.0)} rows at exactly the least value" in note.text


def test_a_plateau_that_a_smooth_channel_comes_to_gently_is_not_clipped() -> None:
    from scipy.ndimage import gaussian_filter1d

    yaw = np.round(gaussian_filter1d(ON * 0.8 * np.sign(np.sin(TIME / 3.0)), 25.0), 4)
    assert "clipped" not in [n.kind for n in sensor_notes(sound(yaw_rate=yaw))]
    cut = ON * np.clip(np.sin(TIME / 3.0) + 1e-2 * np.cos(900.0 * TIME), -0.8, 0.8)
    assert "clipped" in [n.kind for n in sensor_notes(sound(yaw_rate=cut))]


def test_single_rows_that_leap_are_spikes() -> None:
    leaps = P.copy()
    leaps[[3000, 5000, 7000]] = 0.0
    note = only(sound(pressure=leaps))
    assert (note.channel, note.kind, note.matters) == ("pressure", "spikes", True)
    assert note.text.startswith("3 spikes of a single row")
    assert note.start in (TIME[2999], TIME[4999], TIME[6999])


def test_a_dip_of_a_tenth_of_a_second_is_no_spike() -> None:
    dip = np.where((TIME > 50.0) & (TIME < 50.1), 0.3 * P, P)
    assert sensor_notes(sound(pressure=dip)) == ()


@pytest.mark.parametrize(
    ("offset", "says"), [(3e4, "set the sensor's zero"), (1.01e5, "an absolute one")]
)
def test_pressure_with_the_engine_off_is_an_offset(offset: float, says: str) -> None:
    note = only(sound(pressure=P + offset))
    assert (note.channel, note.kind, note.matters) == ("pressure", "offset", True)
    assert f"reads {offset / 1e3:.0f} kPa with the engine off, at 0.0 s" in note.text
    assert says in note.text


def test_a_zero_that_moves_is_drift() -> None:
    note = only(sound(pressure=P + 4e4 * (TIME - 2.0) / 120.0))
    assert (note.channel, note.kind, note.matters) == ("pressure", "drift", True)
    # the last rest is 113 to 120 s, its middle 116.5 s: 4e4 (116.5 - 2) / 120 is 38 kPa
    assert "from 0 kPa at 0.0 s to 38 kPa" in note.text


def test_a_logger_that_is_not_level_has_an_offset() -> None:
    note = only(sound(ay=LOG["ay"].value + 0.1 * G))
    assert (note.channel, note.kind, note.matters) == ("ay", "offset", False)
    assert "reads 0.10 g with the car standing" in note.text


def test_a_slow_sensor_is_slow() -> None:
    from scipy.signal import lfilter

    keep = np.exp(-0.01 / 0.25)  # first order, 0.25 s
    clean = np.where(ON, 1.2e5 + 700.0 * LOG["rpm"].value, 0.0)
    slow = lfilter([1 - keep], [1, -keep], clean) + np.random.default_rng(1).normal(0, 3e3, 12000)
    notes = {note.kind: note for note in sensor_notes(sound(pressure=slow))}
    assert notes["slow"].matters
    assert "a time constant of about 0.2" in notes["slow"].text


def test_ten_rows_a_second_are_too_few_also_where_the_logger_repeats_them() -> None:
    thin = with_channel(LOG, "pressure", TIME[::10], P[::10])
    held = sound(pressure=np.repeat(P[::10], 10))
    for log in (thin, held):
        assert fresh_rate(log["pressure"]) == pytest.approx(10.0)
        notes = [n for n in sensor_notes(log) if n.kind == "rate"]
        assert [(n.channel, n.matters) for n in notes] == [("pressure", True)]
        assert "2.5 samples in a dip of 0.25 s" in notes[0].text


def test_engine_speed_once_a_second_is_too_seldom() -> None:
    log = with_channel(LOG, "rpm", TIME[::100], LOG["rpm"].value[::100])
    assert ("rpm", "rate", True) in [(n.channel, n.kind, n.matters) for n in sensor_notes(log)]


def test_typed_readings_say_only_that_dips_between_were_not_seen() -> None:
    log = with_channel(LOG, "pressure", np.array([0.0, 30.0, 60.0]), np.array([4e5, 3e5, 4e5]))
    note = only(replace(log, typed=True))
    assert (note.kind, note.matters) == ("rate", True)
    assert "30 s apart" in note.text


def test_what_matters_to_dips_stands_first_and_empty_channels_are_passed_over() -> None:
    log = sound(ay=LOG["ay"].value + 0.1 * G, pressure=P + 3e4)
    log = with_channel(log, "temperature", np.zeros(0), np.zeros(0))
    assert [n.channel for n in sensor_notes(log)] == ["pressure", "ay"]
    assert sensor_notes(Log("empty", {})) == ()
