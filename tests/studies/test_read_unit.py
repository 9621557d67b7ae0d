# SPDX-License-Identifier: Apache-2.0
"""A unit that a person tells stands before the log's own, and says so."""

from pathlib import Path

import pytest

from sumpwright.studies.read import ReadAsked, read_logs
from tests.studies.logged import Session


@pytest.mark.parametrize(("told", "noted"), [("psi", True), ("kPa", False), ("", False)])
def test_a_unit_against_the_logs_own_is_noted(tmp_path: Path, told: str, noted: bool) -> None:
    path = Session().write(tmp_path, lateral=1.0)
    units = {"pressure": told} if told else {}
    found = read_logs(ReadAsked(None, (path,), {}, units)).result
    codes = [f.code for f in found.findings]
    assert ("LOG-231" in codes) == noted
    # 6.894757 kPa a psi ([NIST-SP-811]); about 300 kPa by the log's own word
    most = next(c.high for c in found.channels if c.role == "pressure")
    assert (most > 1e6) == (told == "psi")
