# SPDX-License-Identifier: Apache-2.0
"""Names that came over the wire: those that stay in the folder, and one for each way out of it."""

import os
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sumpwright.web.inside import OutsideError, inside


@pytest.fixture
def job(tmp_path: Path) -> Path:
    folder = tmp_path / "job"
    (folder / "tests").mkdir(parents=True)
    (folder / "tests" / "day.csv").write_text("Time,RPM\n", encoding="utf-8")
    (tmp_path / "secret.csv").write_text("mine\n", encoding="utf-8")
    (tmp_path / "job-other").mkdir()
    return folder


@pytest.mark.parametrize("name", ["tests/day.csv", "out/plan.pdf", "job.yaml", "a b/ä.csv", "..a"])
def test_a_name_from_the_folder_is_its_path(job: Path, name: str) -> None:
    assert inside(job, name) == job.resolve() / name


@pytest.mark.parametrize(
    "name",
    [
        "",
        "..",
        ".",
        "../secret.csv",
        "tests/../../secret.csv",
        "tests/./day.csv",
        "tests//day.csv",
        "tests/",
        "/etc/passwd",
        "//server/share/day.csv",
        "\\\\server\\share\\day.csv",
        "..\\secret.csv",
        "C:/secret.csv",
        "C:secret.csv",
        "tests/day.csv:stream",
        "file:///etc/passwd",
        "tests/day.csv\0.pdf",
        "tests/\nday.csv",
        "tests/day.csv.",
        "tests/day.csv ",
        " tests/day.csv",
        "NUL",
        "nul.csv",
        "tests/COM1.csv",
        "tests/lpt¹",
        "aux.tar.gz",
        "conin$",
        "con .csv",
        "x" * 256,
        "x/" * 600 + "y",
        "tests/\udc80.csv",
    ],
)
def test_refuses_a_name_that_some_system_leads_out_by(job: Path, name: str) -> None:
    with pytest.raises(OutsideError, match="is not a file of this job: "):
        inside(job, name)


def test_refuses_a_link_to_a_file_outside(job: Path) -> None:
    (job / "tests" / "link.csv").symlink_to(job.parent / "secret.csv")
    with pytest.raises(OutsideError, match="it leads out of the folder"):
        inside(job, "tests/link.csv")


def test_refuses_a_linked_folder_that_leads_outside(job: Path) -> None:
    (job / "up").symlink_to(job.parent)
    with pytest.raises(OutsideError, match="it leads out of the folder"):
        inside(job, "up/secret.csv")


def test_refuses_a_folder_beside_it_that_begins_with_the_same_letters(job: Path) -> None:
    (job / "twin").symlink_to(job.parent / "job-other")
    with pytest.raises(OutsideError, match="it leads out of the folder"):
        inside(job, "twin/x.csv")


def test_refuses_a_link_to_the_folder_itself(job: Path) -> None:
    (job / "self").symlink_to(job)
    with pytest.raises(OutsideError, match="it leads out of the folder"):
        inside(job, "self")


def test_a_link_that_stays_inside_is_followed(job: Path) -> None:
    (job / "tests" / "same.csv").symlink_to("day.csv")
    assert inside(job, "tests/same.csv") == (job / "tests" / "day.csv").resolve()


def test_links_that_go_in_circles_lead_nowhere_outside(job: Path) -> None:
    (job / "a").symlink_to("b")
    (job / "b").symlink_to("a")
    assert str(inside(job, "a/x")).startswith(str(job.resolve()) + os.sep)


def test_a_job_folder_that_is_itself_a_link_is_a_job_folder(job: Path) -> None:
    linked = job.parent / "linked"
    linked.symlink_to(job)
    assert inside(linked, "tests/day.csv") == (job / "tests" / "day.csv").resolve()


def test_says_a_long_name_in_short_and_without_its_control_characters(job: Path) -> None:
    with pytest.raises(OutsideError) as told:
        inside(job, "\x1b[2J" + "x" * 500)
    assert "\x1b" not in str(told.value)
    assert len(str(told.value)) < 200


pieces = st.lists(st.sampled_from(["..", ".", "", "a", "/", "\\", "C:", "\0", "tests"]), max_size=8)


@given(pieces, st.sampled_from(["/", "\\", ""]))
def test_whatever_is_asked_nothing_outside_is_named(parts: list[str], mark: str) -> None:
    root = Path(__file__).parent
    try:
        found = inside(root, mark.join(parts))
    except OutsideError:
        return
    assert found.is_relative_to(root.resolve())
    assert found != root.resolve()
