# SPDX-License-Identifier: Apache-2.0
"""What changed between revisions. The box of proof_job.py: its answers are by hand."""

from pathlib import Path

import pytest

from sumpwright.job.edit import with_value
from sumpwright.job.revision import revise
from sumpwright.studies.history import Change, changes, grouped, history
from tests.studies.box_job import box_job, box_mesh, write_stl
from tests.studies.proof_job import DOORED


def edit(folder: Path, *keys: str | int, to: str) -> None:
    path = folder / "job.yaml"
    path.write_text(with_value(path.read_text("utf-8"), keys, to), encoding="utf-8")


def test_names_what_was_typed_otherwise_by_its_key() -> None:
    after = DOORED.replace("3 L", "3.2 L").replace("width: 40 mm", "width: 44 mm")
    assert set(changes(DOORED, after + "note: wider\n")) == {
        Change("oil.fill", "3 L", "3.2 L"),
        Change("new.baffles.wall.openings.door.width", "40 mm", "44 mm"),
        Change("note", "", "wider"),
    }
    assert changes(DOORED, DOORED + "# a comment\n") == ()


def test_an_entry_that_came_or_went_whole_is_one_line() -> None:
    bare = DOORED.replace("name: door\n", "name: hatch\n").replace("width: 40 mm", "width: 44 mm")
    told = changes(DOORED, bare)
    short = grouped(told)
    came = [c for c in short if c.key == "new.baffles.wall.openings.hatch"]
    went = [c for c in short if c.key == "new.baffles.wall.openings.door"]
    many = sum(c.key.startswith("new.baffles.wall.openings.hatch.") for c in told)
    assert many > 1
    assert came == [Change("new.baffles.wall.openings.hatch", "", f"new, {many} values")]
    assert went == [Change("new.baffles.wall.openings.door", f"{many} values", "")]
    assert len(short) == 2
    plain = changes(DOORED, DOORED.replace("3 L", "3.2 L"))
    assert grouped(plain) == plain


def test_tells_every_step_and_what_it_did_to_the_oil(tmp_path: Path) -> None:
    folder = box_job(tmp_path, DOORED)
    revise(folder)
    edit(folder, "oil", "fill", to="3.2 L")
    revise(folder)
    edit(folder, "oil", "fill", to="3.3 L")
    told = history(folder)
    assert [(s.before, s.after) for s in told.steps] == [("A", "B"), ("B", "C")]
    assert told.steps[0].changes == (Change("oil.fill", "3 L", "3.2 L"),)
    moved = {m.name: (m.before, m.after) for m in told.steps[0].figures}
    assert moved["full mark"] == pytest.approx((0.003, 0.0032), rel=1e-12)  # as typed
    low, high = moved["static hold, brake"]
    assert high > low > 0.0  # the pickup is in the rear half


def test_gives_no_figures_of_geometry_that_is_not_what_it_was(tmp_path: Path) -> None:
    folder = box_job(tmp_path, DOORED)
    revise(folder)
    edit(folder, "oil", "fill", to="3.2 L")
    write_stl(folder / "geometry" / "cavity.stl", box_mesh((0.0, -0.1, -0.12), (0.3, 0.1, 0.0)))
    step = history(folder).steps[0]
    assert step.changes == (Change("oil.fill", "3 L", "3.2 L"),)
    assert step.figures == ()
    assert "no longer those of revision A" in step.why_no_figures


def test_a_job_without_a_past_has_no_steps(tmp_path: Path) -> None:
    assert history(box_job(tmp_path, DOORED)).steps == ()
