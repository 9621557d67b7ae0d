# SPDX-License-Identifier: Apache-2.0
"""Bodies of a job: judged, mended only where the job allows it, placed, kept between runs."""

from pathlib import Path

import numpy as np
import pytest

from sumpwright.errors import InputError
from sumpwright.geometry.mesh import Mesh
from sumpwright.job.load import load_job
from sumpwright.studies.bodies import Bodies
from sumpwright.studies.body_file import read_bodies
from sumpwright.studies.check import check
from tests.studies.box_job import BOX, JOB, box_job, box_mesh, write_stl

HOLED = Mesh(box_mesh(*BOX).vertices, box_mesh(*BOX).faces[1:])
FLIPPED = box_mesh(*BOX).flipped()


def bodies_of(folder: Path) -> Bodies:
    return read_bodies(load_job(folder))


def refusal(folder: Path) -> InputError:
    with pytest.raises(InputError) as caught:
        bodies_of(folder)
    return caught.value


@pytest.mark.parametrize("body", [HOLED, FLIPPED], ids=["holed", "inside out"])
def test_an_unsound_cavity_is_refused_by_file_and_key_and_a_repair_offered(
    tmp_path: Path, body: Mesh
) -> None:
    error = refusal(box_job(tmp_path, cavity=body))
    assert all("job.yaml:3  new.cavity -> geometry/cavity.stl" in p.where for p in error.problems)


def test_an_inside_out_cavity_is_turned_where_the_job_allows_it(tmp_path: Path) -> None:
    allowed = JOB.replace("unit: mm", "unit: mm, repair: true")
    bodies = bodies_of(box_job(tmp_path, allowed, cavity=FLIPPED))
    assert bodies.new.cavity.volume == pytest.approx(6e-3, rel=1e-12)
    assert any("geometry/cavity.stl" in f.place for f in bodies.findings)
    # and said again when it comes from the cache
    assert bodies_of(tmp_path).findings == bodies.findings


def test_an_open_shell_is_capped_at_the_rail(tmp_path: Path) -> None:
    # the box without its two top triangles, open at z = 0
    whole = box_mesh(*BOX)
    top = (whole.corners[:, :, 2] == 0.0).all(axis=1)
    shell = Mesh(whole.vertices, whole.faces[~top])
    capped = JOB.replace("unit: mm", "unit: mm, cap_at: 0 mm")
    assert bodies_of(box_job(tmp_path, capped, cavity=shell)).new.cavity.volume == pytest.approx(
        6e-3, rel=1e-9
    )


def test_a_cavity_is_the_outside_less_its_wall(tmp_path: Path) -> None:
    text = JOB.replace(
        "  cavity: {file: geometry/cavity.stl, unit: mm}\n",
        "  outside: {file: geometry/cavity.stl, unit: mm}\n  cavity: {wall: 4 mm}\n",
    )
    cavity = bodies_of(box_job(tmp_path, text)).new.cavity
    # 4 mm off four sides and the floor, nothing off the rail
    assert cavity.volume == pytest.approx(0.292 * 0.192 * 0.096, rel=1e-9)


def test_a_pickup_outside_the_cavity_is_refused_with_its_place(tmp_path: Path) -> None:
    pickup = "  pickup: {centre: [150 mm, 90 mm, -90 mm], diameter: 40 mm}\noil:\n"
    error = refusal(box_job(tmp_path, JOB.replace("oil:\n", pickup)))
    assert error.problems[0].code == "JOB-153"
    assert "of 16 points of the inlet rim are outside the cavity" in error.problems[0].found
    assert error.problems[0].where.startswith("job.yaml:4  new.pickup")


def test_every_bad_file_is_named_at_once(tmp_path: Path) -> None:
    text = JOB.replace("oil:\n", "stock:\n  cavity: {file: geometry/stock.stl, unit: mm}\noil:\n")
    error = refusal(box_job(tmp_path, text, cavity=FLIPPED, stock=HOLED))
    assert {p.where.split("  ")[1].split(" ")[0] for p in error.problems} == {
        "new.cavity",
        "stock.cavity",
    }


def test_obstacles_in_the_car_need_the_engines_height(tmp_path: Path) -> None:
    beam = "obstacles: [{name: beam, file: geometry/beam.stl, unit: mm}]\n"
    error = refusal(box_job(tmp_path, JOB + beam, beam=box_mesh(*BOX)))
    assert [p.code for p in error.problems] == ["JOB-154"]


def test_an_open_scan_will_do_for_an_obstacle(tmp_path: Path) -> None:
    beam = "pose: {height: 200 mm}\nobstacles: [{name: beam, file: geometry/beam.stl, unit: mm}]\n"
    bodies = bodies_of(box_job(tmp_path, JOB + beam, beam=HOLED))
    assert len(bodies.obstacles) == 1
    assert all(f.severity == "note" for f in bodies.findings)
    assert any("geometry/beam.stl" in f.place for f in bodies.findings)


def test_frames_are_placed_by_the_pose(tmp_path: Path) -> None:
    text = JOB + (
        "pose: {height: 200 mm, x: 1 m, yaw: 90 deg}\n"
        "obstacles: [{name: beam, file: geometry/beam.stl, unit: mm, frame: engine}]\n"
    )
    beam = bodies_of(box_job(tmp_path, text, beam=box_mesh(*BOX))).obstacles[0].mesh
    # yaw 90: engine x becomes car y, engine y becomes car -x
    np.testing.assert_allclose(beam.bounds, [[0.9, 0.0, 0.1], [1.1, 0.3, 0.2]], atol=1e-15)


def test_a_crank_sweep_may_be_a_file(tmp_path: Path) -> None:
    sweep = "engine: {crank_sweep: {body: {file: geometry/sweep.stl, unit: mm}}}\n"
    body = box_mesh((0, -0.05, -0.01), (0.3, 0.05, 0.1))
    fill = check(box_job(tmp_path, JOB + sweep, sweep=body)).fill
    assert fill.crank_gap_m == pytest.approx(0.04, rel=1e-12)


def test_the_cache_follows_the_file_and_survives_damage(tmp_path: Path) -> None:
    folder = box_job(tmp_path)
    assert bodies_of(folder).new.cavity.volume == pytest.approx(6e-3)
    kept = list((folder / "out" / "cache").glob("*.npz"))
    assert len(kept) == 1
    kept[0].write_bytes(b"PK\x03\x04 not a cache entry")
    assert bodies_of(folder).new.cavity.volume == pytest.approx(6e-3)
    write_stl(folder / "geometry" / "cavity.stl", box_mesh((0, 0, -0.1), (0.1, 0.1, 0)))
    assert bodies_of(folder).new.cavity.volume == pytest.approx(1e-3)


def test_a_wide_hole_is_not_offered_a_repair_that_cannot_close_it(tmp_path: Path) -> None:
    (problem,) = refusal(box_job(tmp_path, cavity=HOLED)).problems
    assert problem.code == "GEO-301"
    assert "repair: true" not in problem.do
    assert "`cap_at: 0 mm`" in problem.do


def test_a_body_in_the_wrong_unit_is_told_to_correct_the_unit(tmp_path: Path) -> None:
    error = refusal(box_job(tmp_path, JOB.replace("unit: mm", "unit: m")))
    assert [p.code for p in error.problems] == ["GEO-312"]
    assert "correct the unit" in error.problems[0].do


def test_a_problem_in_a_file_has_the_name_that_the_job_gives_it(tmp_path: Path) -> None:
    folder = box_job(tmp_path)
    (folder / "geometry" / "cavity.stl").write_bytes(b"")
    assert refusal(folder).problems[0].where == "job.yaml:3  new.cavity -> geometry/cavity.stl"
    shell = Mesh(box_mesh(*BOX).vertices, box_mesh(*BOX).faces[:-1])
    capped = JOB.replace("unit: mm", "unit: mm, cap_at: -200 mm")
    (problem,) = refusal(box_job(tmp_path, capped, cavity=shell)).problems
    assert problem.where.startswith("job.yaml:3  new.cavity -> geometry/cavity.stl: shell")
