# SPDX-License-Identifier: Apache-2.0
"""The job's section on fitting: words for a sheet, on which no answer turns."""

from pathlib import Path

import pytest

from sumpwright.errors import InputError
from sumpwright.job.load import load_job
from sumpwright.job.revision import input_hash, part_hash
from tests.studies.box_job import JOB, box_job


def test_torque_is_kept_as_it_was_given_and_moves_no_fingerprint(tmp_path: Path) -> None:
    bare = load_job(box_job(tmp_path / "bare"))
    given = load_job(box_job(tmp_path / "given", f"{JOB}fitting: {{torque: 10 Nm dry}}\n"))
    assert (bare.job.fitting.torque, given.job.fitting.torque) == (None, "10 Nm dry")
    assert input_hash(given) == input_hash(bare)
    assert part_hash(given) == part_hash(bare)


def test_another_key_is_refused_by_its_place(tmp_path: Path) -> None:
    with pytest.raises(InputError) as caught:
        load_job(box_job(tmp_path, f"{JOB}fitting: {{torqe: 10 Nm}}\n"))
    assert "fitting.torqe" in caught.value.problems[0].where
