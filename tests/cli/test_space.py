# SPDX-License-Identifier: Apache-2.0
"""`sumpwright space`: words, options, and files that other programs can open."""

import json
from pathlib import Path

import pytest
import trimesh
import typer
from typer.testing import CliRunner

from sumpwright.cli.door import door
from sumpwright.cli.space import space
from sumpwright.geometry.cad import read_step
from sumpwright.geometry.inside import SkinTree
from sumpwright.geometry.mesh_file import read_mesh
from tests.studies.box_job import JOB, box_job, box_mesh

app = typer.Typer(pretty_exceptions_enable=False)
app.command()(door(space))

CAR = """\
pose: {height: 250 mm, x: 1000 mm}
obstacles: [{name: beam, file: geometry/beam.stl, unit: mm, guard: true}]
movement: [{name: roll, roll: 3 deg}]
"""
BEAM = box_mesh((1.1, -0.4, 0.11), (1.2, 0.4, 0.16))
COARSE = ["--grid", "6 mm", "--kick-out", "24 mm"]


@pytest.fixture(scope="module")
def job(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return box_job(tmp_path_factory.mktemp("space") / "job", JOB + CAR, beam=BEAM)


def test_answers_in_sentences_and_writes_what_cad_can_open(job: Path) -> None:
    done = CliRunner().invoke(app, [str(job), *COARSE])
    assert done.exit_code == 0, done.output
    assert "left and right kick-outs bring" in done.output
    assert "The beam alone takes" in done.output
    assert max(map(len, done.stdout.split("Files")[0].splitlines())) <= 80
    out = job / "out" / "space"
    skin = trimesh.load(out / "free-space.stl")
    assert skin.is_watertight
    assert 0 < len(skin.faces) < 200_000
    said = json.loads(CliRunner().invoke(app, [str(job), *COARSE, "--json"]).stdout)
    # 5 %: on a grid of 6 mm the skin is drawn in by some tenths of a millimetre, until chords
    # round the beam's edges keep the gap too; 0.3 m^2 of skin
    assert skin.volume * 1e-9 == pytest.approx(said["inside_m3"], rel=0.05)
    assert skin.volume * 1e-9 < said["inside_m3"]
    assert said["files"]["stl_m3"] == pytest.approx(
        skin.volume * 1e-9, rel=1e-5
    )  # single precision
    assert (out / "free-space.svg").read_text("utf-8").startswith("<svg")


def test_the_terraces_are_one_body_inside_the_space(job: Path) -> None:
    if not (job / "out" / "space" / "free-space.step").exists():
        CliRunner().invoke(app, [str(job), *COARSE])
    found = read_mesh(job / "out" / "space" / "free-space.step")
    skin = read_mesh(job / "out" / "space" / "free-space.stl", 1e-3).mesh
    assert read_step(job / "out" / "space" / "free-space.step").solids == 1
    assert 0.85 * skin.volume < found.mesh.volume < skin.volume
    points = found.mesh.vertices
    distance, _ = SkinTree(skin).nearest(points)
    outside = ~SkinTree(skin).encloses(points)
    # the terraces keep to the true space, the skin is drawn in from it by some tenths
    assert distance[outside].max(initial=0.0) < 5e-4


def test_says_every_option_that_cannot_be_used(job: Path) -> None:
    done = CliRunner().invoke(
        app, [str(job), "--kick-out", "12", "--left", "3 mm", "--wall", "3,5 mm"]
    )
    assert done.exit_code == 2
    for said in ("--kick-out and --left", "CLI-402", "'12 mm'", "'3.5 mm'", "3 problems"):
        assert said in done.output


def test_a_space_too_small_for_the_fill_is_not_met(job: Path) -> None:
    done = CliRunner().invoke(app, [str(job), "--depth", "30 mm", "--no-files", "--grid", "6 mm"])
    assert done.exit_code == 1, done.output
    assert "does not fit" in done.output
    assert "Files" not in done.output
