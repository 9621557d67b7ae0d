# SPDX-License-Identifier: Apache-2.0
"""The third demo, drawn once: its pan against the second's STEP files, and its cage of sheets.

That a check says the same of a drawn pan as of its files is test_shape.py's, on a small pan.
"""

import math
import shutil
import time
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

import numpy as np
import pytest

from sumpwright.job.load import LoadedJob, load_job
from sumpwright.studies.bodies import Bodies
from sumpwright.studies.body_file import read_bodies
from sumpwright.studies.compartment import parted
from sumpwright.studies.fill import fill
from sumpwright.studies.hold import hold
from sumpwright.studies.sheet_part import sheets_with

EXAMPLES = Path(__file__).parents[2] / "examples"

pytestmark = pytest.mark.slow  # draws a pan, and reads another's STEP files


@dataclass(frozen=True, eq=False)
class Read:
    """A job with its bodies."""

    loaded: LoadedJob
    bodies: Bodies


def _read(folder: Path) -> Read:
    loaded = load_job(folder)
    return Read(loaded, read_bodies(loaded))


@pytest.fixture(scope="module")
def third(tmp_path_factory: pytest.TempPathFactory) -> Read:
    folder = tmp_path_factory.mktemp("third") / "job"
    shutil.copytree(EXAMPLES / "demo-c", folder, ignore=shutil.ignore_patterns("out"))
    return _read(folder)


@pytest.fixture(scope="module")
def filed(warm: Callable[[str], Path]) -> Read:
    return _read(warm("demo-b"))


@pytest.fixture(scope="module")
def drawn(third: Read, filed: Read, tmp_path_factory: pytest.TempPathFactory) -> Read:
    """The second demo with its files replaced by the third's numbers; drawn already."""
    folder = tmp_path_factory.mktemp("drawn") / "job"
    shutil.copytree(filed.loaded.folder, folder)
    shutil.copytree(third.loaded.folder / "out", folder / "out", dirs_exist_ok=True)
    numbers = (EXAMPLES / "demo-c" / "job.yaml").read_text(encoding="utf-8")
    shape = _between(numbers, "  shape:", "  split:")
    rail = _between(numbers, "\nrail:", "\n  measured:")
    text = (folder / "job.yaml").read_text(encoding="utf-8")
    files = _between(text, "  cavity:", "  pickup:")
    assert "new-outside.step" in files
    (folder / "job.yaml").write_text(text.replace(files, shape) + rail + "\n", encoding="utf-8")
    return _read(folder)


def _between(text: str, start: str, end: str) -> str:
    return text[text.index(start) : text.index(end, text.index(start))]


def test_the_drawn_pan_is_what_its_step_files_hold(drawn: Read, filed: Read) -> None:
    mine, other = drawn.bodies.new, filed.bodies.new
    assert mine.cavity.volume == pytest.approx(other.cavity.volume, rel=1e-4)
    assert mine.room.volume == pytest.approx(other.room.volume, rel=1e-4)
    assert mine.outside is not None
    assert other.outside is not None
    # the drawn one has 20 bolt holes of 6.6 mm through 8 mm
    holes = 20 * math.pi * 0.0033**2 * 0.008
    assert mine.outside.volume + holes == pytest.approx(other.outside.volume, rel=1e-4)
    np.testing.assert_allclose(mine.outside.bounds, other.outside.bounds, atol=2e-5)  # as typed


def test_it_fills_and_holds_as_its_step_files_do(drawn: Read, filed: Read) -> None:
    mine, other = (fill(d.loaded.job, d.bodies) for d in (drawn, filed))
    assert mine is not None
    assert other is not None
    for name in ("usable_m3", "full_m3", "full_depth_m", "crank_gap_m"):
        # zones are typed to 0.01 mm, and both are triangles within 5e-5 m
        wanted = pytest.approx(getattr(other, name), rel=2e-3, abs=1e-4)
        assert getattr(mine, name) == wanted, name
    one, two = (hold(d.loaded.job, d.bodies) for d in (drawn, filed))
    assert one is not None
    assert two is not None
    for way in ("left_g", "right_g", "brake_g", "accelerate_g"):
        assert getattr(one, way) == pytest.approx(getattr(two, way), rel=2e-3, abs=1e-4), way


def test_its_baffles_part_it_as_they_part_its_step_files(drawn: Read, filed: Read) -> None:
    mine, other = (parted(d.loaded.job, d.bodies) for d in (drawn, filed))
    assert mine.findings == other.findings
    assert mine.pickup == other.pickup
    assert mine.parts.names == other.parts.names
    np.testing.assert_allclose(mine.parts.volumes, other.parts.volumes, rtol=2e-3, atol=1e-6)
    kinds = [[(p.kind, p.behind, p.ahead) for p in d.passages] for d in (mine, other)]
    assert kinds[0] == kinds[1]
    assert mine.labels == other.labels
    for one, two in zip(mine.passages, other.passages, strict=True):
        np.testing.assert_allclose(one.spot, two.spot, atol=1e-3, err_msg=one.name)


def test_its_cage_goes_together_and_comes_back(third: Read) -> None:
    start = time.process_time()
    result = sheets_with(third.loaded, third.bodies)
    assert time.process_time() - start < 8.0  # of the processor: others may be at it too
    assert result.verdict == "met"
    walls = [item for item in result.items if item.kind == "baffle"]
    assert {w.name for w in walls} >= {"rear wall", "front wall", "left wall", "right wall"}
    assert all(item.stray is not None and item.stray < 1e-5 for item in walls)
    assert not [f for f in result.findings if f.code in ("SHEE-519", "SHEE-516")]
    assert sum(len(s.laid) for s in result.sheets) == len(result.items)
    assert len(result.pins) == 4
    # every part has an order to bend it in, and every tab lies on the tray
    assert all(len(item.order) == len(item.pattern.bends) for item in result.items)
    assert not [w for item in result.items for w in item.warnings
                if w.code in ("SHEE-526", "SHEE-527", "SHEE-528", "SHEE-529")]  # fmt: skip
