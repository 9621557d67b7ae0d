# SPDX-License-Identifier: Apache-2.0
"""A clock that begins anew: the parts of a session are kept, one after another."""

import numpy as np

from sumpwright.logs.clock import APART, rising


def test_parts_of_a_clock_that_begins_anew_are_laid_one_after_another() -> None:
    one, other = np.arange(0.0, 20.0, 0.5), np.arange(3.0, 33.0, 0.5)
    clock = rising(np.concatenate([one, other]), "day.csv")
    assert len(clock.time) == len(one) + len(other)
    assert (np.diff(clock.time) > 0.0).all()
    assert clock.time[len(one)] == one[-1] + APART
    assert clock.time[-1] == one[-1] + APART + 29.5
    assert [(f.code, f.severity) for f in clock.findings] == [("LOG-225", "note")]


def test_of_a_time_that_jumps_about_the_longest_part_is_kept() -> None:
    time = np.concatenate([np.arange(0.0, 2.0, 0.5)] * 5 + [np.arange(0.0, 8.0, 0.5)])
    clock = rising(time, "day.csv")
    assert len(clock.time) == 16
    assert [(f.code, f.severity) for f in clock.findings] == [("LOG-225", "error")]
