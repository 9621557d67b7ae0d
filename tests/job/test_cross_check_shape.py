# SPDX-License-Identifier: Apache-2.0
"""A pan comes from files or from numbers, once."""

from pathlib import Path

import pytest

from sumpwright.errors import InputError
from sumpwright.job.load import load_job

PAN = """\
job: drawn
new:
  shape:
    wall: 3 mm
    zones:
      - { name: well, box: [0 mm, 300 mm, -100 mm, 100 mm], depth: 100 mm }
oil: { fill: 3 L }
"""


def said(folder: Path, text: str) -> str:
    """Everything that is wrong with a job."""
    (folder / "job.yaml").write_text(text, encoding="utf-8")
    with pytest.raises(InputError) as caught:
        load_job(folder)
    return str(caught.value)


def test_numbers_alone_are_a_pan(tmp_path: Path) -> None:
    (tmp_path / "job.yaml").write_text(PAN, encoding="utf-8")
    shape = load_job(tmp_path).job.new.shape
    assert shape is not None
    assert shape.zones[0].depth == pytest.approx(0.1)


def test_a_pan_of_nothing_lacks_its_inside(tmp_path: Path) -> None:
    text = "job: bare\nnew: { name: none }\noil: { fill: 3 L }\n"
    assert said(tmp_path, text) == (
        "job.yaml:2  new.cavity  [JOB-104]\n"
        "  found   nothing\n"
        "  needed  the inside of the pan: `cavity`, a file; or `shape`, numbers to draw it from\n"
        "  do      add `cavity:` with the file of its inside, or `shape:` with its zones"
    )


def test_refuses_the_pan_twice(tmp_path: Path) -> None:
    (tmp_path / "pan.step").write_text("", encoding="utf-8")
    found = said(tmp_path, PAN.replace("new:\n", "new:\n  cavity: pan.step\n"))
    assert (
        "job.yaml:3  new.cavity  [SHAP-501]\n  found   pan.step, and new.shape on line 4" in found
    )


def test_refuses_a_roof_under_its_floor(tmp_path: Path) -> None:
    found = said(tmp_path, PAN.replace("depth: 100 mm", "depth: 100 mm, top: 100 mm"))
    assert "new.shape.zones.0.top  [SHAP-503]\n  found   100 mm" in found


def test_refuses_a_hole_wider_than_its_boss(tmp_path: Path) -> None:
    boss = (
        "    bosses: [{ name: plug, kind: drain, at: [150 mm, 0 mm, -110 mm], "
        "facing: [0, 0, -1], diameter: 12 mm, height: 12 mm, bore: 12 mm }]\noil:"
    )
    assert "new.shape.bosses.0.bore  [SHAP-509]" in said(tmp_path, PAN.replace("oil:", boss))


def threaded(across: int) -> str:
    """That pan with a plug's boss so many millimetres across."""
    boss = (
        "    bosses: [{ name: plug, kind: drain, at: [150 mm, 0 mm, -110 mm], facing: [0, 0, -1], "
        f"diameter: {across} mm, height: 12 mm, thread: M14x1.5 }}]\noil:"
    )
    return PAN.replace("oil:", boss)


@pytest.mark.parametrize("across", [12, 13, 14])  # 12.5 mm are drilled, 14 mm are cut by the tap
def test_refuses_a_thread_as_wide_as_its_boss(tmp_path: Path, across: int) -> None:
    found = said(tmp_path, threaded(across))
    assert "new.shape.bosses.0.thread  [SHAP-509]\n  found   M14x1.5" in found


def test_takes_a_thread_with_metal_round_it(tmp_path: Path) -> None:
    (tmp_path / "job.yaml").write_text(threaded(15), encoding="utf-8")
    assert load_job(tmp_path).job.new.shape is not None


@pytest.mark.parametrize(
    ("typed", "needed"),
    [
        ("name: well, depth", "`outline` or `box`"),
        ("name: well, box: [0 mm, 1 mm, 0 mm, 1 mm], outline: [], depth", "at least 3 entries"),
    ],
)
def test_a_zone_is_drawn_one_way(tmp_path: Path, typed: str, needed: str) -> None:
    text = PAN.replace("name: well, box: [0 mm, 300 mm, -100 mm, 100 mm], depth", typed)
    assert needed in said(tmp_path, text)
