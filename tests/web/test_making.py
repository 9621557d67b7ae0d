# SPDX-License-Identifier: Apache-2.0
"""What the page asks about shaping and making is what the commands print, with its files."""

import asyncio
import json
import shutil
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from typer.testing import CliRunner

from sumpwright.cli.main import app
from sumpwright.errors import InputError
from sumpwright.studies.space_typed import space_typed as typed_on_a_command
from sumpwright.web import file_out
from sumpwright.web.desk import Desk, Work
from sumpwright.web.making import MAKING, space_asked
from sumpwright.web.question import QUESTIONS
from tests.studies.box_job import JOB, box_job, box_mesh
from tests.studies.halves_job import halves_job
from tests.studies.shape_job import shape_job

DEMOS = Path(__file__).parents[2] / "examples"
ASKED = {
    "rail": "--no-picture",
    "housing": "--no-files",
    "sheets": "--no-files",
    "prints": "--no-files",
}


async def _asked_of(folder: Path) -> dict[str, tuple[Work, Any]]:
    desk = Desk(start=Path())
    try:
        await desk.open(folder)
        said = {}
        async with asyncio.timeout(240.0):
            for question in ASKED:
                work = await desk.ask(question, {})
                while not desk.work[work.id].ended:
                    await asyncio.sleep(0.02)
                done = desk.work[work.id]
                said[question] = done, json.loads(desk.answer(str(done.key)) or "null")
        return said
    finally:
        desk.close()


@pytest.fixture(scope="module")
def job(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A copy of the demo that is to be made, its cache with it."""
    folder = tmp_path_factory.mktemp("making") / "demo-c"
    shutil.copytree(DEMOS / "demo-c", folder, ignore=shutil.ignore_patterns("page"))
    return folder


@pytest.fixture(scope="module")
def said(job: Path) -> dict[str, tuple[Work, Any]]:
    """Every question's work and answer, asked at one desk."""
    return asyncio.run(_asked_of(job))


@pytest.mark.slow
@pytest.mark.parametrize("question", ASKED)
def test_the_page_is_told_what_the_command_prints(
    job: Path, said: dict[str, tuple[Work, Any]], question: str
) -> None:
    work, answer = said[question]
    assert work.state == "done", (work.error, work.problems)
    printed = CliRunner().invoke(app, [question, str(job), ASKED[question], "--json"])
    assert answer == json.loads(printed.stdout)


@pytest.mark.slow
@pytest.mark.parametrize("question", ASKED)
def test_its_files_are_there_and_can_be_fetched(
    job: Path, said: dict[str, tuple[Work, Any]], question: str
) -> None:
    files = said[question][0].files
    assert files
    assert all(name.startswith(f"{question}/") for name in files)
    for name in files:
        path = file_out.out_path(job, name)
        assert file_out.content_of(path)
        assert path.suffix in file_out.TYPES | file_out.FETCHED


COARSE = {"kick_out": "24 mm", "grid": "12 mm", "depth": "60 mm"}
BEAM = box_mesh((1.1, -0.4, 0.11), (1.2, 0.4, 0.16))
UNDER = """\
pose: {height: 250 mm, x: 1000 mm}
obstacles: [{name: beam, file: geometry/beam.stl, unit: mm}]
"""
SMALL: dict[str, tuple[Callable[[Path], Path], dict[str, Any], list[str]]] = {
    "shape": (shape_job, {}, []),
    "halves": (halves_job, {}, []),
    "space": (
        lambda folder: box_job(folder, JOB + UNDER, beam=BEAM),
        COARSE,
        [word for k, v in COARSE.items() for word in (f"--{k.replace('_', '-')}", v)],
    ),
    "make": (box_job, {"anyway": True}, ["--anyway"]),
}
"""Jobs in which what is slow to draw is drawn quickly, what the page asks, and the same typed"""


@pytest.mark.parametrize("question", SMALL)
def test_what_is_slow_to_draw_is_told_as_the_command_prints_it(
    tmp_path: Path, question: str
) -> None:
    made, args, options = SMALL[question]
    folder = made(tmp_path / "job")
    answer = QUESTIONS[question].run(folder, args, lambda _text, _share: None)
    told = json.loads(json.dumps(answer.json, allow_nan=False))  # as it goes over the wire
    printed = CliRunner().invoke(app, [question, str(folder), *options, "--json"])
    assert _timeless(told) == _timeless(json.loads(printed.stdout))
    assert answer.files
    for name in answer.files:
        path = file_out.out_path(folder, name)
        assert file_out.content_of(path)
        assert path.suffix in file_out.TYPES | file_out.FETCHED


def _timeless(said: dict[str, Any]) -> dict[str, Any]:
    """Without what a pack says of the minute in which it was made."""
    if "made" not in said:
        return said
    files = [file["path"] for file in said["files"]]
    return {**said, "made": None, "files": files}


@pytest.mark.parametrize("name", sorted(MAKING))
def test_files_and_answer_are_never_of_two_jobs(name: str) -> None:
    assert not QUESTIONS[name].kept  # an answer off the shelf could stand beside newer files


@pytest.mark.parametrize(
    ("name", "code"), [("rail", "RAIL-5"), ("shape", "SHAP-5"), ("housing", "HOUS-5")]
)
def test_a_job_without_the_keys_is_told_in_the_studys_own_words(
    tmp_path: Path, name: str, code: str
) -> None:
    folder = tmp_path / "demo-b"
    shutil.copytree(DEMOS / "demo-b", folder, ignore=shutil.ignore_patterns("out"))
    with pytest.raises(InputError) as refused:
        MAKING[name](folder, {}, lambda _text, _share: None)
    printed = CliRunner().invoke(app, [name, str(folder), "--json"])
    assert printed.exit_code == 2
    assert [p.code[:6] for p in refused.value.problems] == [code]
    assert all(p.found in printed.output.replace("\n", " ") for p in refused.value.problems)
    assert not (folder / "out" / name).exists()


EVERY = ("left", "right", "front", "rear", "flange", "wall", "corner", "depth", "grid")


@pytest.mark.parametrize(
    "typed",
    [
        {},
        {"kick_out": "12 mm"},
        {"kick_out": "0.5 in", "depth": "100 mm", "grid": "5 mm"},
        {key: f"{10 + k} mm" for k, key in enumerate(EVERY)},
    ],
)
def test_free_space_is_asked_for_as_on_a_command(typed: dict[str, str]) -> None:
    assert space_asked(typed) == typed_on_a_command(typed)


def test_what_is_left_empty_on_the_page_is_not_asked() -> None:
    assert space_asked({"kick_out": " 12 mm ", "depth": "  "}) == space_asked({"kick_out": "12 mm"})


@pytest.mark.parametrize(
    "typed",
    [
        dict.fromkeys(EVERY, "3,5 mm"),
        dict.fromkeys(EVERY, "3 km"),
        {"kick_out": "twelve", "left": "3 mm", "right": "4", "depth": "5 mm"},
    ],
)
def test_what_cannot_be_used_is_said_in_the_command_s_words(typed: dict[str, str]) -> None:
    said = []
    for asked in (space_asked, typed_on_a_command):
        with pytest.raises(InputError) as refused:
            asked(typed)
        said.append(refused.value.problems)
    assert len(said[0]) >= len(typed)
    assert said[0] == said[1]
