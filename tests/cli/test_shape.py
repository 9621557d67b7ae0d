# SPDX-License-Identifier: Apache-2.0
"""`shape` as a person reads it, and the files it writes."""

import json
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
import typer
from typer.testing import CliRunner

from sumpwright.cli.door import door
from sumpwright.cli.shape import shape
from sumpwright.cli.shape_text import WIDTH, shape_text
from sumpwright.geometry.cad import read_step
from sumpwright.studies.shape import shape_of
from tests.studies.shape_job import shape_job

APP = typer.Typer(pretty_exceptions_enable=False)
APP.command()(door(shape))
OUT = Path("out", "shape")


def test_the_answer_fits_eighty_columns_and_the_solids_read_back(tmp_path: Path) -> None:
    folder = shape_job(tmp_path, boss=True)
    done = CliRunner().invoke(APP, [str(folder)])
    assert done.exit_code == 0, done.output
    assert done.stdout.startswith("DRAWN  drawn, revision A: pan from numbers")
    lines = [line for line in done.stdout.splitlines() if str(folder) not in line]
    assert max(map(len, lines)) <= WIDTH
    result = shape_of(folder)
    for name, litres in (("cavity", result.holds_m3), ("body", result.metal_m3)):
        read = read_step(folder / OUT / f"{name}.step", tolerance=1e-6, angle=0.05)
        assert read.solids == 1
        assert read.mesh.volume == pytest.approx(litres, rel=1e-4)  # chords of 1e-6 m
    outside = read_step(folder / OUT / "outside.step").mesh
    np.testing.assert_allclose(outside.bounds, [result.low_m, result.high_m], atol=1e-5)


@pytest.mark.parametrize(("units", "room"), [("metric", "1000.0 cm³"), ("us", "61.02 in³")])
def test_room_for_the_crank_is_in_the_jobs_own_units(tmp_path: Path, units: str, room: str) -> None:
    job = ("job: drawn\n", f"job: drawn\nunits: {units}\n")
    result = replace(shape_of(shape_job(tmp_path, job)), relieved_m3=1e-3)
    line = next(r for r in shape_text(result, ()).splitlines() if "room for crank" in r)
    assert room in line  # a litre is 61.0237 cubic inches


def test_triangles_and_picture_are_written_beside_them(tmp_path: Path) -> None:
    folder = shape_job(tmp_path)
    CliRunner().invoke(APP, [str(folder)])
    from sumpwright.geometry.mesh_file import read_mesh
    from sumpwright.geometry.soundness import soundness

    for name in ("cavity", "outside", "body"):
        mesh = read_mesh(folder / OUT / f"{name}.stl", 1e-3).mesh
        assert not [f for f in soundness(mesh).findings if f.severity == "error"]
    picture = (folder / OUT / "shape.svg").read_text(encoding="utf-8")
    assert picture.startswith("<svg")
    for words in ("From above, nose to the right", "Cut along at y 0 mm", "340 mm", "5.9"):
        assert words in picture


def test_the_same_files_come_out_byte_for_byte(tmp_path: Path) -> None:
    found = []
    for name in ("a", "b"):
        folder = shape_job(tmp_path / name, boss=True)
        CliRunner().invoke(APP, [str(folder)])
        found.append({p.name: p.read_bytes() for p in sorted((folder / OUT).iterdir())})
    assert len(found[0]) == 7
    assert found[0] == found[1]


def test_json_is_the_study_s_own_and_no_files_writes_none(tmp_path: Path) -> None:
    folder = shape_job(tmp_path)
    done = CliRunner().invoke(APP, [str(folder), "--json", "--no-files"])
    assert json.loads(done.stdout) == json.loads(json.dumps(shape_of(folder).as_json()))
    assert not (folder / OUT).exists()


def test_bad_numbers_leave_with_2_and_one_sentence(tmp_path: Path) -> None:
    folder = shape_job(tmp_path, ("depth: 100 mm", "depth: 8 mm"))
    done = CliRunner().invoke(APP, [str(folder)])
    assert done.exit_code == 2
    assert "new.shape.zones.0  [SHAP-504]" in done.stderr
    assert "Traceback" not in done.stderr
    assert not (folder / OUT).exists()
