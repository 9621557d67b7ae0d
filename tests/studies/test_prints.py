# SPDX-License-Identifier: Apache-2.0
"""Fit-check prints of a box pan: its metal, the pieces, what they weigh and cost."""

import json
import math
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from sumpwright.errors import InputError
from sumpwright.geometry.cad_measure import volume
from sumpwright.geometry.mesh import Mesh
from sumpwright.geometry.solid import mesh_of, solid_of
from sumpwright.geometry.soundness import soundness
from sumpwright.job.load import load_job
from sumpwright.studies.prints import prints_of
from sumpwright.studies.prints_result import PrintsResult
from sumpwright.studies.shape_body import drawn_solids
from tests.studies.box_job import BOX, box_mesh
from tests.studies.housing_job import HousingJob, housing_folder

WALL = 0.006
PRINTER = "shop:\n  printer: {{name: desk, volume: {volume}{more}}}\n"
JOB = HousingJob(pan="  outside: {file: geometry/outside.stl, unit: mm}\n", end="")
RAIL = """\
rail:
  thread: M6
  holes:
    - {name: a, at: [50 mm, -116 mm]}
    - {name: b, at: [250 mm, 116 mm], diameter: 8 mm}
    - {name: off, at: [150 mm, 160 mm]}
"""


def outside(wall: float = WALL) -> Mesh:
    low, high = np.array(BOX)
    return box_mesh(tuple(low - wall), (*(high[:2] + wall), 0.0))  # type: ignore[arg-type]


def box_volume(wall: float = WALL) -> float:
    return (0.3 + 2 * wall) * (0.2 + 2 * wall) * (0.1 + wall)


METAL = box_volume() - 6e-3


def folder_of(
    folder: Path, *, volume: str = "[220 mm, 220 mm, 250 mm]", more: str = "", end: str = ""
) -> Path:
    printer = PRINTER.format(volume=volume, more=more)
    return housing_folder(folder, replace(JOB, end=end + printer), outside=outside())


def made(folder: Path, *, solid: bool = False, **how: str) -> PrintsResult:
    return prints_of(folder_of(folder, **how), solid=solid)


def pan(result: PrintsResult) -> list[Mesh]:
    return [p.mesh for p in result.pieces if p.of == "pan"]


def test_the_body_is_the_outside_less_the_inside(tmp_path: Path) -> None:
    result = made(tmp_path)
    assert result.how == "as drawn"
    assert result.body_m3 == pytest.approx(METAL, rel=1e-9)


def test_solid_fills_the_inside(tmp_path: Path) -> None:
    result = made(tmp_path, solid=True)
    assert (result.how, result.body_m3) == ("solid", pytest.approx(box_volume(), rel=1e-9))


def test_thinned_walls_leave_the_outside_as_it_is(tmp_path: Path) -> None:
    result = made(tmp_path, more=", wall: 2 mm")
    inner = (0.3 + 2 * WALL - 0.004) * (0.2 + 2 * WALL - 0.004) * (0.1 + WALL - 0.002)
    assert result.how == "thinned"
    assert result.body_m3 == pytest.approx(box_volume() - inner, rel=1e-6)


def test_pieces_fit_are_closed_and_are_the_body_but_for_their_pegs(tmp_path: Path) -> None:
    result = made(tmp_path)
    meshes = pan(result)
    assert len(meshes) == 2
    for piece in result.pieces:
        found = soundness(piece.mesh)
        assert found.sound
        assert found.watertight
        assert np.array(piece.size_m).max() <= 0.25
    pegs = next(p for p in result.pieces if p.of == "peg")
    radius = 0.5 * pegs.size_m[0]
    # [closed-form] each peg is a prism of 48 sides, in two holes 0.2 mm wider and 0.2 mm deeper
    side = 24.0 * math.sin(math.pi / 24.0)
    hole = side * (radius + 0.0002) ** 2 * (pegs.size_m[2] + 0.0004)
    holes = pegs.count * hole
    assert sum(m.volume for m in meshes) == pytest.approx(METAL - holes, rel=1e-6)
    assert pegs.volume_m3 == pytest.approx(side * radius**2 * pegs.size_m[2], rel=1e-5)


def test_steps_that_reach_beyond_a_cut_still_fit(tmp_path: Path) -> None:
    # 312 mm would be two pieces of 156 but for their steps of 4 mm: so there are three a row
    result = made(tmp_path, volume="[158 mm, 158 mm, 158 mm]", more=", wall: 2 mm")
    assert {j.kind for j in result.joints} == {"step"}
    assert max(max(p.size_m) for p in result.pieces) <= 0.158 + 1e-6
    assert max(p.size_m[k] for p in result.pieces for k in range(3)) > 0.104
    across = {j.cut for j in result.joints if j.cut.startswith("x")}
    assert len(across) == 2
    spread = [m.volume for m in pan(result)]
    lost = result.body_m3 - sum(spread)
    assert 0.0 < lost < 1e-3 * result.body_m3  # the clearance round the steps


def test_shrinkage_draws_everything_larger(tmp_path: Path) -> None:
    plain = made(tmp_path / "a", more=", clearance: 0 mm")
    shrunk = made(tmp_path / "b", more=", clearance: 0 mm, shrink: 2 %")
    assert shrunk.scale == pytest.approx(1.0 / 0.98)
    both = [sum(m.volume for m in pan(r)) for r in (plain, shrunk)]
    assert both[1] == pytest.approx(both[0] / 0.98**3, rel=1e-5)
    # a print of that volume comes out of the printer as drawn
    assert max(pan(shrunk)[0].bounds[1]) * 0.98 == pytest.approx(max(pan(plain)[0].bounds[1]))


def test_mass_and_cost_are_volume_density_and_price(tmp_path: Path) -> None:
    result = made(tmp_path, more=", density: 1100 kg/m^3, price_kg: 30")
    first = result.pieces[0]
    assert first.mass_kg == pytest.approx(1100.0 * first.mesh.volume)
    assert first.cost == pytest.approx(30.0 * first.mass_kg)
    total = sum(p.count * p.mass_kg for p in result.pieces)
    assert (result.mass_kg, result.cost) == pytest.approx((total, 30.0 * total))
    lines = result.parts()
    assert [p.key for p in lines] == [f"print-{p.key}" for p in result.pieces]
    assert {p.how for p in lines} == {"printed"}
    assert all("not for hot oil" in p.note for p in lines)


def test_the_rail_s_holes_are_drilled_through_the_flange_only(tmp_path: Path) -> None:
    low, high = np.array(BOX)
    flange = box_mesh((*(low[:2] - 0.026), -0.008), (*(high[:2] + 0.026), 0.0))  # type: ignore[arg-type]
    whole = mesh_of(solid_of(outside(), what="outside") + solid_of(flange, what="flange"))
    volumes = []
    for name, rail in (("a", ""), ("b", RAIL)):
        end = rail + PRINTER.format(volume="[220 mm, 220 mm, 250 mm]", more="")
        folder = housing_folder(tmp_path / name, replace(JOB, end=end), outside=whole)
        volumes.append(prints_of(folder).body_m3)
    # [closed-form] 48 sides in circles of 6.6 mm (ISO 273 medium, M6) and 8 mm; 8 mm of flange;
    # the third hole stands beside the pan
    holes = 24.0 * math.sin(math.pi / 24.0) * 0.008 * (0.0033**2 + 0.004**2)
    assert volumes[0] - volumes[1] == pytest.approx(holes, rel=1e-6)


def test_the_housing_is_printed_too(tmp_path: Path) -> None:
    keys = [p.key for p in made(tmp_path).pieces]
    assert keys[-2:] == ["pickup-housing", "retaining-flange"]


def test_a_caution_is_always_said(tmp_path: Path) -> None:
    (caution,) = [f for f in made(tmp_path).findings if f.code == "PRIN-519"]
    assert "never for hot oil" in caution.found


def test_as_json_holds_numbers_only(tmp_path: Path) -> None:
    said = json.loads(json.dumps(made(tmp_path).as_json(), allow_nan=False))
    assert said["joints"][0]["kind"] == "pegs"
    assert "mesh" not in said["pieces"][0]


@pytest.mark.parametrize(
    ("pan_keys", "end", "code"),
    [
        (JOB.pan, "", "PRIN-502"),
        ("", PRINTER.format(volume="[200 mm, 200 mm, 200 mm]", more=""), "PRIN-501"),
        (JOB.pan, PRINTER.format(volume="[20 mm, 200 mm, 200 mm]", more=""), "PRIN-503"),
        (JOB.pan, PRINTER.format(volume="[50 mm, 50 mm, 200 mm]", more=""), "PRIN-503"),
    ],
)
def test_what_is_missing_is_one_sentence(
    tmp_path: Path, pan_keys: str, end: str, code: str
) -> None:
    folder = housing_folder(tmp_path, replace(JOB, pan=pan_keys, end=end), outside=outside())
    with pytest.raises(InputError) as caught:
        prints_of(folder)
    assert [p.code for p in caught.value.problems] == [code]


SHAPE = """\
job: drawn
new:
  shape:
    wall: 4 mm
    corner_radius: 10 mm
    flange: {thickness: 8 mm}
    zones: [{name: well, box: [0 mm, 240 mm, -80 mm, 80 mm], depth: 70 mm}]
rail:
  thread: M6
  margin: 10 mm
  opening:
    [{at: [-4 mm, -84 mm]}, {at: [244 mm, -84 mm]}, {at: [244 mm, 84 mm]}, {at: [-4 mm, 84 mm]}]
  holes:
    - {name: a, at: [-12 mm, -92 mm]}
    - {name: b, at: [252 mm, -92 mm]}
    - {name: c, at: [252 mm, 92 mm]}
    - {name: d, at: [-12 mm, 92 mm]}
oil: {fill: 1 L, cold: 20 degC, hot: 20 degC}
shop:
  printer: {name: desk, volume: [180 mm, 180 mm, 180 mm]}
"""


def test_a_pan_from_numbers_is_printed_as_the_kernel_drew_it(tmp_path: Path) -> None:
    (tmp_path / "job.yaml").write_text(SHAPE, encoding="utf-8")
    result = prints_of(tmp_path)
    solids = drawn_solids(load_job(tmp_path), "new")
    assert result.how == "as drawn"
    # chords of 50 um at most on the rounded corners
    assert result.body_m3 == pytest.approx(volume(solids.body), rel=2e-3)
    assert result.body_m3 < volume(solids.outside) - solids.cavity_mesh.volume + 1e-7
    assert all(soundness(m).watertight for m in pan(result))
    assert prints_of(tmp_path).body_m3 == result.body_m3  # from the cache
