# SPDX-License-Identifier: Apache-2.0
"""The job's section on logs: names of columns and their units."""

from pathlib import Path

import pytest

from sumpwright.errors import InputError
from sumpwright.job.load import load_job, read_job
from sumpwright.job.revision import input_hash

DEMO = Path(__file__).resolve().parents[2] / "examples" / "demo-b" / "job.yaml"


def test_takes_names_of_columns_and_units_without_making_answers_stale() -> None:
    text = DEMO.read_text(encoding="utf-8")
    named = read_job(
        text + "\nlogs: { columns: { pressure: Oil P }, units: { pressure: bar }, radius: 30 m }\n",
        DEMO,
    )
    assert named.job.logs.columns.pressure == "Oil P"
    assert named.job.logs.units.pressure == "bar"
    assert named.job.logs.radius == 30.0
    assert input_hash(named) == input_hash(load_job(DEMO))


def test_refuses_a_role_that_no_channel_has() -> None:
    text = DEMO.read_text(encoding="utf-8")
    with pytest.raises(InputError) as caught:
        read_job(text + "\nlogs: { columns: { presure: Oil P } }\n", DEMO)
    assert "logs.columns.presure" in caught.value.problems[0].where
