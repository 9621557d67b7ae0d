# SPDX-License-Identifier: Apache-2.0
"""A new job runs at once, whatever was answered."""

import re
from pathlib import Path

import numpy as np
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from sumpwright.errors import InputError
from sumpwright.geometry.mesh import Mesh
from sumpwright.geometry.mesh_file import read_mesh
from sumpwright.geometry.soundness import soundness
from sumpwright.job import template as module
from sumpwright.job.load import load_job
from sumpwright.job.starter_body import Triangles, box, stepped_pan
from sumpwright.job.template import TEMPLATES, Answers, job_text, new_job
from sumpwright.report.halves_write import halves_files
from sumpwright.studies.compartment import compartments_of
from sumpwright.studies.halves import halved_of
from sumpwright.studies.shape import shape_of
from sumpwright.units import to_si

EVERY = [(t, u, f) for t in TEMPLATES for u, f in (("metric", "4.5 L"), ("us", "4.8 qt"))]


def mesh_of(body: Triangles) -> Mesh:
    points, corners = np.unique(body.reshape(-1, 3), axis=0, return_inverse=True)
    return Mesh(points, corners.reshape(-1, 3))


def test_the_pan_holds_the_sum_of_its_two_boxes() -> None:
    pan = stepped_pan(length=460, well=200, half_width=120, shallow=55, deep=115)
    # exact: shallow box plus the rest of the well, integers
    assert mesh_of(pan).volume == pytest.approx(460 * 240 * 55 + 200 * 240 * 60, rel=1e-12)
    assert soundness(mesh_of(pan)).watertight


def test_the_skin_of_a_pan_is_a_wall_larger() -> None:
    skin = mesh_of(stepped_pan(length=460, well=200, half_width=120, shallow=55, deep=115, wall=3))
    assert skin.bounds.tolist() == [[-3, -123, -118], [463, 123, 0]]
    assert soundness(skin).watertight


def test_the_crossmember_is_its_box() -> None:
    beam = mesh_of(box((240, -350, 130), (310, 350, 180)))
    assert beam.volume == pytest.approx(70 * 700 * 50, rel=1e-12)
    assert soundness(beam).watertight


@pytest.mark.parametrize(("template", "units", "fill"), EVERY)
def test_a_new_job_loads_and_its_bodies_are_sound(
    template: str, units: str, fill: str, tmp_path: Path
) -> None:
    folder = tmp_path / "Ölwanne neu"
    path = new_job(folder, Answers('It\'s "new": 1 # job', template, units, fill))
    loaded = load_job(folder)
    assert loaded.path == path
    assert loaded.job.job == 'It\'s "new": 1 # job'
    assert (loaded.job.units, loaded.typed("oil", "fill")) == (units, fill)
    for file in sorted(folder.glob("geometry/*")):
        read = read_mesh(file, to_si("1 in" if units == "us" else "1 mm", "m"))
        assert soundness(read.mesh).watertight, file.name


@pytest.mark.parametrize(("template", "units", "fill"), EVERY)
def test_no_placeholder_is_left_in_the_text(template: str, units: str, fill: str) -> None:
    text = job_text(Answers("x", template, units, fill))
    assert not re.search(r"[<>~@]|\{HOW\}", text)
    assert max(map(len, text.splitlines())) <= 100


def test_every_section_is_explained_and_there_to_be_uncommented() -> None:
    minimal, full = (job_text(Answers("x", t)) for t in ("minimal", "full"))
    taken_off = re.sub(r"^#(?! |$)|^#(?=  )", "", minimal, flags=re.MULTILINE)
    head = "# {HOW}"
    assert head not in minimal
    body = taken_off.index("job: ")
    assert taken_off[body:] == full[full.index("job: ") :]
    for section in module_sections():
        assert re.search(rf"^{section}:", full, re.MULTILINE), section


def module_sections() -> list[str]:
    from sumpwright.job.model import Job

    return [name for name in Job.model_fields if name != "sumpwright"]


@settings(
    max_examples=25, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture]
)
@given(st.floats(0.1, 50.0), st.sampled_from(["L", "qt"]), st.sampled_from(["minimal", "full"]))
def test_any_fill_suits_the_bodies(
    tmp_path_factory, litres: float, unit: str, template: str
) -> None:
    folder = tmp_path_factory.mktemp("new") / "job"
    fill = f"{min(max(litres, 0.11), 49.0):.2f} {unit}"
    new_job(folder, Answers("x", template, "us" if unit == "qt" else "metric", fill))
    loaded = load_job(folder)
    scale = to_si("1 in" if unit == "qt" else "1 mm", "m")
    cavity = read_mesh(folder / "geometry" / "new-cavity.stl", scale).mesh
    # drawn for 4.5 L in 8.952 L; STL keeps 7 digits of a length
    assert loaded.job.oil.fill / cavity.volume == pytest.approx(4.5 / 8.952, rel=1e-5)


@pytest.mark.slow
def test_a_pan_from_numbers_is_drawn_and_parted_at_once(tmp_path: Path) -> None:
    """Leaning sides into rounded floors: where the CAD kernel's own sums differ the most."""
    new_job(tmp_path / "job", Answers("x", "drawn"))
    halved = halved_of(tmp_path / "job")
    assert [name for name, _ in halves_files(halved)][:2] == ["upper-half.step", "lower-half.step"]
    assert halved.result.verdict == "met"


@pytest.mark.slow
@pytest.mark.parametrize(("units", "fill"), [("metric", "2 L"), ("us", "20 qt")])
def test_a_pan_from_numbers_can_be_drawn_for_any_fill(
    tmp_path: Path, units: str, fill: str
) -> None:
    new_job(tmp_path / "job", Answers("x", "drawn", units, fill))
    result = shape_of(tmp_path / "job")
    assert [f.code for f in result.findings] == []
    # two boxes that overlap, without roundings, draft and slope, which all take a little
    boxes = (420 * 50 + 210 * 65) * 176e-9 * to_si(fill, "m^3") / 4.5e-3
    assert 0.9 * boxes < result.holds_m3 < boxes


@pytest.mark.parametrize("units", ["metric", "us"])
@pytest.mark.parametrize("fill", ["2 L", "4.5 L", "9 L"])
def test_the_baffle_of_a_full_job_parts_its_pan(tmp_path: Path, fill: str, units: str) -> None:
    new_job(tmp_path / "job", Answers("x", "full", units, fill))
    result = compartments_of(tmp_path / "job")
    assert [c.where for c in result.compartments] == ["right", "left"]
    assert {w.kind for w in result.compartments[1].ways} >= {"window", "door", "open"}
    assert result.findings == ()


def test_takes_an_empty_folder_and_makes_the_ones_above(tmp_path: Path) -> None:
    (tmp_path / "empty").mkdir()
    new_job(tmp_path / "empty", Answers("x"))
    new_job(tmp_path / "a" / "b" / "c", Answers("x"))
    assert load_job(tmp_path / "a" / "b" / "c").job.job == "x"


def test_refuses_a_folder_with_something_in_it(tmp_path: Path) -> None:
    (tmp_path / ".kept").write_text("mine")
    with pytest.raises(InputError, match=r"\[SAVE-305\]"):
        new_job(tmp_path, Answers("x"))
    with pytest.raises(InputError, match=r"\[SAVE-305\]"):
        new_job(tmp_path / ".kept", Answers("x"))
    assert [p.name for p in tmp_path.iterdir()] == [".kept"]


def test_takes_back_what_it_made_when_it_is_stopped(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    write = module.write_atomic

    def stop_at_the_job(path: Path, data: bytes) -> None:
        if path.name == "job.yaml":
            raise KeyboardInterrupt
        write(path, data)

    monkeypatch.setattr(module, "write_atomic", stop_at_the_job)
    with pytest.raises(KeyboardInterrupt):
        new_job(tmp_path / "deep" / "job", Answers("x", "full"))
    assert list(tmp_path.iterdir()) == []


def test_says_a_folder_that_may_not_be_written_to(tmp_path: Path, bound) -> None:
    tmp_path.chmod(0o555)
    new = str(tmp_path / "new")
    line = f"import sumpwright.job.template as t; t.new_job(Path({new!r}), t.Answers('x'))"
    said = bound(line)
    tmp_path.chmod(0o755)
    assert "[SAVE-302]" in said
