# SPDX-License-Identifier: Apache-2.0
"""Which way a log counts: left for right is the one mistake that no verdict may make in silence."""

from pathlib import Path

import numpy as np
import pytest

from sumpwright.errors import InputError
from sumpwright.studies.read import ReadAsked, read_logs
from sumpwright.studies.read_sense import opposed, without_minus
from tests.studies.logged import Session


def test_two_channels_that_turn_opposite_ways_are_refused(tmp_path: Path) -> None:
    path = Session(dips=((61.0, 62.0),)).write(tmp_path, lateral=-1.0, yaw=True)
    with pytest.raises(InputError, match=r"LatG and speed times Yaw have opposite signs in 100%"):
        read_logs(ReadAsked(None, (path,)))


def test_a_minus_turns_a_channel_round(tmp_path: Path) -> None:
    # driven to the right from 60 s on: the dip at 61 s is a right one
    path = Session(dips=((61.0, 62.0),)).write(tmp_path, lateral=-1.0, yaw=True)
    found = read_logs(ReadAsked(None, (path,), {"ay": "-LatG"})).result
    assert [e.turn for e in found.events if e.kind == "dip"] == ["right"]
    assert next(c.column for c in found.channels if c.role == "ay") == "-LatG"


def test_agreeing_channels_are_taken_without_a_word(tmp_path: Path) -> None:
    path = Session(dips=((61.0, 62.0),)).write(tmp_path, lateral=1.0, yaw=True)
    found = read_logs(ReadAsked(None, (path,))).result
    assert [e.turn for e in found.events if e.kind == "dip"] == ["right"]
    assert not any("counts to the left" in a for a in found.assumptions)


def test_a_sign_that_nothing_tells_is_said(tmp_path: Path) -> None:
    path = Session().write(tmp_path, lateral=1.0)
    found = read_logs(ReadAsked(None, (path,))).result
    assert any(a.startswith("LatG counts to the left") for a in found.assumptions)


def test_a_forward_channel_that_counts_braking_up_is_refused(tmp_path: Path) -> None:
    path = Session(stop=True).write(tmp_path, lateral=1.0, forward=-1.0)
    with pytest.raises(InputError, match=r"LongG and the change of Speed have opposite signs"):
        read_logs(ReadAsked(None, (path,)))
    good = Session(stop=True).write(tmp_path, lateral=1.0, forward=1.0)
    assert read_logs(ReadAsked(None, (good,))).result.summary.dips == 0


def test_opposed_counts_only_where_both_push_hard() -> None:
    time = np.arange(0.0, 10.0, 0.1)
    # 5 m/s^2 against -5 in the second half, 1 against -1 in the first: 5 s, all of it opposed
    one = np.where(time < 5.0, 1.0, 5.0)
    share, lasted = opposed(time, one, time, -one)
    assert share == 1.0
    assert lasted == pytest.approx(5.0, abs=0.15)
    assert opposed(time, one, time, one)[0] == 0.0
    assert opposed(time[:1], one[:1], time, one) == (0.0, 0.0)


def test_only_roles_with_a_way_lose_their_minus() -> None:
    assert without_minus({"ay": "-LatG", "pressure": "-P"}) == (
        {"ay": "LatG", "pressure": "-P"},
        ("ay",),
    )
