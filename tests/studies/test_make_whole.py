# SPDX-License-Identifier: Apache-2.0
"""The pan whole in the pack: solids that read back and add up, or triangles."""

from pathlib import Path

import pytest

from sumpwright.geometry.cad_measure import bounds, volume
from sumpwright.geometry.cad_step import step_solid
from sumpwright.geometry.cad_write import step_bytes
from sumpwright.job.load import load_job
from sumpwright.studies.body_file import read_bodies
from sumpwright.studies.make_whole import WholeBody, whole_pan
from tests.studies.box_job import box_job
from tests.studies.halves_job import DEPTH, FLANGE, OUT, SIDES, WALL, halves_job, outline


def whole(folder: Path) -> dict[str, WholeBody]:
    loaded = load_job(folder)
    return {b.key: b for b in whole_pan(loaded, read_bodies(loaded), None)}


def test_solids_read_back_from_step_and_add_up(tmp_path: Path) -> None:
    found = whole(halves_job(tmp_path / "job"))
    assert set(found) == {"pan", "pan-outside", "pan-cavity"}
    volumes = {}
    for key, body in found.items():
        path = tmp_path / f"{key}.step"
        path.write_bytes(step_bytes([body.solid], key))
        again = step_solid(path)
        volumes[key] = volume(again)
        assert volumes[key] == pytest.approx(volume(body.solid), rel=1e-9)
        assert bounds(again) == pytest.approx(bounds(body.solid), abs=1e-9)
        assert body.mesh.volume == pytest.approx(volumes[key], rel=2e-3)  # chords of its corners
    # prisms by hand: the flange stands out of the walls
    walls, flange, inside = (outline(v).area for v in (WALL, OUT, 0.0))
    outside = walls * (DEPTH + WALL) + (flange - walls) * FLANGE
    assert volumes["pan-outside"] == pytest.approx(outside, rel=1e-9)
    assert volumes["pan-cavity"] == pytest.approx(inside * DEPTH, rel=1e-9)
    assert volumes["pan"] == pytest.approx(outside - inside * DEPTH, rel=1e-9)


def test_a_pan_of_triangles_stays_triangles(tmp_path: Path) -> None:
    found = whole(halves_job(tmp_path / "job", end="stl"))
    assert {key: body.solid for key, body in found.items()} == dict.fromkeys(
        ("pan", "pan-outside", "pan-cavity")
    )
    low, high = found["pan-cavity"].mesh.bounds
    assert high - low == pytest.approx([*SIDES, DEPTH], abs=1e-6)


def test_of_an_inside_alone_there_is_the_inside(tmp_path: Path) -> None:
    (body,) = whole(box_job(tmp_path / "job")).values()
    assert (body.key, body.solid) == ("pan-cavity", None)
    assert body.mesh.volume == pytest.approx(6e-3)
