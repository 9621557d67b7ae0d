# SPDX-License-Identifier: Apache-2.0
"""The demo jobs go along in the wheel, and nothing that was computed from them does."""

import zipfile
from pathlib import Path

import pytest

from sumpwright.web.demo import DEMOS

pytestmark = pytest.mark.slow

ROOT = Path(__file__).parents[2]
EXAMPLES = ROOT / "examples"


def test_the_wheel_holds_the_demo_jobs(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    from hatchling.build import build_wheel

    monkeypatch.chdir(ROOT)
    wheel = tmp_path / build_wheel(str(tmp_path))
    packed = {n for n in zipfile.ZipFile(wheel).namelist() if n.startswith("sumpwright/demo/")}
    files = (p.relative_to(EXAMPLES) for p in EXAMPLES.rglob("*") if p.is_file())
    wanted = {f"sumpwright/demo/{p.as_posix()}" for p in files if p.parts[1] != "out"}
    assert packed == wanted
    assert {n.split("/")[2] for n in packed} == set(DEMOS)
