# SPDX-License-Identifier: Apache-2.0
"""A new job, the demo, another folder: what a page begins with, and what it is told otherwise."""

import os
from pathlib import Path
from typing import Any

import pytest
from typer.testing import CliRunner

from sumpwright.cli.main import app
from sumpwright.errors import InputError
from sumpwright.job.load import load_job
from sumpwright.web import demo
from sumpwright.web.desk import RefusedError
from sumpwright.web.start import job_folder, made_job
from tests.web.edit_case import job

pytestmark = pytest.mark.slow

EXAMPLES = Path(__file__).parents[2] / "examples"


def test_a_new_job_is_the_one_that_the_command_makes(tmp_path: Path) -> None:
    asked = {"folder": "low pan", "units": "us", "fill": "5 qt", "template": "full"}
    made = made_job(tmp_path, asked)
    args = ["new", str(tmp_path / "other" / "low pan"), "--units", "us", "--fill", "5 qt"]
    assert CliRunner().invoke(app, [*args, "--template", "full", "--yes"]).exit_code == 0
    other = tmp_path / "other" / "low pan"
    names = sorted(p.relative_to(made) for p in made.rglob("*"))
    assert names == sorted(p.relative_to(other) for p in other.rglob("*"))
    assert all((made / n).read_bytes() == (other / n).read_bytes() for n in names if n.suffix)
    assert made == tmp_path / "low pan"


def test_what_is_not_said_is_as_the_command_has_it(tmp_path: Path) -> None:
    made = made_job(tmp_path, {"folder": "a", "name": "Bench: engine", "fill": None})
    loaded = load_job(made).job
    assert (loaded.job, loaded.units) == ("Bench: engine", "metric")
    assert loaded.oil.fill == pytest.approx(0.0045, rel=1e-12)
    us = load_job(made_job(tmp_path, {"folder": "b", "units": "US", "fill": " "})).job
    assert us.oil.fill == pytest.approx(4.8 * 9.46352946e-4, rel=1e-12)  # qt, NIST SP 811 app. B


def test_a_new_job_may_go_into_another_folder(tmp_path: Path) -> None:
    (tmp_path / "jobs").mkdir()
    for parent in ("jobs", str(tmp_path / "jobs"), f'"{tmp_path / "jobs"}"'):
        made = made_job(tmp_path, {"parent": parent, "folder": f"n{len(parent)}"})
        assert made.parent == tmp_path / "jobs"


@pytest.mark.parametrize(
    ("asked", "code", "where"),
    [
        ({}, "CLI-401", "folder"),
        ({"folder": "../x"}, "CLI-401", "folder"),
        ({"folder": "a/b"}, "CLI-401", "folder"),
        ({"folder": "/x"}, "CLI-401", "folder"),
        ({"folder": ".."}, "CLI-401", "folder"),
        ({"folder": "nul"}, "CLI-401", "folder"),
        ({"folder": "C:x"}, "CLI-401", "folder"),
        ({"folder": "a\\b"}, "CLI-401", "folder"),
        ({"folder": "a\0"}, "CLI-401", "folder"),
        ({"folder": "x", "units": "imperial"}, "CLI-401", "units"),
        ({"folder": "x", "fill": "4,5 L"}, "CLI-401", "fill"),
        ({"folder": "x", "fill": "4.5"}, "CLI-401", "fill"),
        ({"folder": "x", "fill": "900 L"}, "CLI-401", "fill"),
        ({"folder": "x", "template": "huge"}, "CLI-401", "template"),
        ({"folder": "x", "parent": "not there"}, "JOB-110", "not there"),
        ({"folder": "full"}, "SAVE-305", "full"),
    ],
)
def test_an_answer_that_will_not_do_makes_nothing(
    tmp_path: Path, asked: dict[str, Any], code: str, where: str
) -> None:
    (tmp_path / "full").mkdir()
    (tmp_path / "full" / "file").write_text("mine", "utf-8")
    with pytest.raises(InputError) as caught:
        made_job(tmp_path, asked)
    problem = caught.value.problems[0]
    assert (problem.code, problem.where.endswith(where)) == (code, True)
    assert [p.name for p in tmp_path.rglob("*")] == ["full", "file"]


def test_every_answer_is_judged_at_once_in_the_command_s_words(tmp_path: Path) -> None:
    with pytest.raises(InputError) as caught:
        made_job(tmp_path, {"folder": "x", "units": "mm", "fill": "4,5 L", "template": "x"})
    told = caught.value.problems
    assert [p.where for p in told] == ["units", "fill", "template"]
    args = ["new", str(tmp_path / "x"), "--units", "mm", "--fill", "4,5 L", "--template", "x"]
    output = CliRunner().invoke(app, [*args, "--yes"]).output
    for problem in told:
        assert all(text in output for text in (problem.found, problem.needed, problem.do))


def test_an_answer_that_is_no_text_is_not_understood(tmp_path: Path) -> None:
    with pytest.raises(RefusedError, match="units is a text"):
        made_job(tmp_path, {"folder": "x", "units": ["us"]})


def test_a_job_is_opened_by_its_folder_or_its_file(tmp_path: Path) -> None:
    folder = job(tmp_path / "my job")
    typed = (str(folder), f' "{folder}" ', "my job", str(folder / "job.yaml"), f"{folder}/")
    assert {job_folder(tmp_path, text) for text in typed} == {folder.resolve()}
    (tmp_path / "link").symlink_to(folder)
    assert job_folder(tmp_path, "link") == folder.resolve()


@pytest.mark.parametrize(
    ("typed", "code"),
    [("my jb", "JOB-110"), ("my job/geometry", "JOB-111"), ("~nobody/x", "JOB-110")],
)
def test_a_folder_that_is_no_job_says_what_the_command_says(
    tmp_path: Path, typed: str, code: str
) -> None:
    job(tmp_path / "my job")
    with pytest.raises(InputError, match=code):
        job_folder(tmp_path, typed)


@pytest.mark.parametrize("name", demo.DEMOS)
def test_the_demo_is_copied_whole_to_a_folder_of_its_own_each_time(
    tmp_path: Path, name: str
) -> None:
    first, second = demo.copied_demo(tmp_path, name), demo.copied_demo(tmp_path, name)
    assert {first.name, second.name} == {f"sumpwright-{name}", f"sumpwright-{name}-2"}
    kept = {p.relative_to(first) for p in first.rglob("*") if p.is_file()}
    source = EXAMPLES / name
    files = {p.relative_to(source) for p in source.rglob("*") if p.is_file()}
    assert kept == {p for p in files if p.parts[0] != "out"}
    assert all((first / p).read_bytes() == (source / p).read_bytes() for p in kept)
    assert load_job(first).job.job
    assert sorted(p.name for p in tmp_path.iterdir()) == [first.name, second.name]


def test_a_demo_of_a_protected_package_can_be_worked_on(tmp_path: Path, bound: Any) -> None:
    packed = tmp_path / "packed"
    job(packed / "demo-b")
    for path in packed.rglob("*"):
        path.chmod(0o555 if path.is_dir() else 0o444)
    (tmp_path / "mine").mkdir()
    told = bound(
        "from sumpwright.web import demo\n"
        f"    demo._PACKED = Path({str(packed)!r})\n"
        f"    folder = demo.copied_demo(Path({str(tmp_path / 'mine')!r}), 'demo-b')\n"
        "    (folder / 'geometry' / 'more.stl').write_bytes(b'')\n"
        "    (folder / 'job.yaml').write_text('changed')"
    )
    assert told == ""
    for path in packed.rglob("*"):
        path.chmod(0o755)


def test_where_nothing_can_be_written_the_demo_leaves_nothing(tmp_path: Path, bound: Any) -> None:
    os.chmod(tmp_path, 0o555)
    told = bound(
        f"from sumpwright.web import demo\n    demo.copied_demo(Path({str(tmp_path)!r}), 'demo-b')"
    )
    os.chmod(tmp_path, 0o755)
    assert "[SAVE-302]" in told
    assert list(tmp_path.iterdir()) == []


def test_there_is_no_other_demo(tmp_path: Path) -> None:
    with pytest.raises(InputError, match="CLI-401"):
        demo.copied_demo(tmp_path, "../demo-b")


def test_a_demo_says_what_it_is() -> None:
    assert demo.demo_says("demo-a").startswith("First idea.")
