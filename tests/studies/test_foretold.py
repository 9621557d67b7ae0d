# SPDX-License-Identifier: Apache-2.0
"""Prediction against measurement: spells, hits and misses, and a log that the network made itself.

A log out of the network shows that the code finds what was put in; it validates nothing.
"""

from pathlib import Path

import numpy as np
import pytest

from sumpwright.job.load import load_job
from sumpwright.studies.body_file import read_bodies
from sumpwright.studies.foretold import Session, foretell, hits_of, spells

DEMO = Path(__file__).resolve().parents[2] / "examples" / "demo-a"


def test_spells_a_moment_apart_are_one() -> None:
    time = np.arange(0.0, 10.0, 0.1)
    air = ((time > 2.0) & (time < 3.0)) | ((time > 3.3) & (time < 4.0)) | (time > 7.0)
    found = spells(time, air.astype(float))
    np.testing.assert_allclose(found, [(2.1, 4.0), (7.1, 9.9)], atol=1e-9)


def test_counts_hits_misses_and_false_alarms() -> None:
    assert hits_of(((1.0, 2.0), (10.0, 11.0)), ((2.5, 3.0), (20.0, 21.0))) == (1, 1, 1)
    assert hits_of((), ()) == (0, 0, 0)


def _circles() -> Session:
    time = np.arange(0.0, 30.0, 0.04)
    ay = 0.8 * (np.clip(time - 3.0, 0.0, 1.0) - np.clip(time - 12.0, 0.0, 1.0))
    ay -= 0.8 * (np.clip(time - 17.0, 0.0, 1.0) - np.clip(time - 26.0, 0.0, 1.0))
    missing = np.where((time > 19.0) & (time < 26.5), 0.7, 0.0)
    return Session(
        time, 0.0 * time, ay, np.full(len(time), 4000.0), 373.15, ((19.0, 26.5),), missing
    )


@pytest.mark.slow
def test_foretells_the_right_turn_that_the_demo_cannot_hold_and_keeps_both() -> None:
    loaded = load_job(DEMO)
    found, said = foretell(loaded, read_bodies(loaded), _circles())
    assert (found.original.hits, found.original.misses, found.original.false_alarms) == (1, 0, 0)
    assert said == ()
    assert found.fitted is not None
    assert found.fitted.hits == 1
    assert [p.name for p in found.parameters] == [
        "retained oil",
        "returns lag",
        "discharge",
        "door gap",
    ]
    assert all(p.low < p.after < p.high for p in found.parameters)
