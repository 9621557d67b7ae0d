# SPDX-License-Identifier: Apache-2.0
"""The page's questions are answered by the studies behind the commands, and nothing is lost."""

import asyncio
import json
import os
import shutil
import signal
from collections.abc import Awaitable, Callable
from dataclasses import asdict, replace
from pathlib import Path
from typing import Any

import pytest
from typer.testing import CliRunner

from sumpwright.cli.main import app
from sumpwright.web.desk import Desk, RefusedError, Work

DEMO = Path(__file__).parents[2] / "examples" / "demo-b"
CIRCLE = {"radius": "20 m", "accel": "0.7 g", "duration": "4 s"}
pytestmark = pytest.mark.slow


@pytest.fixture(scope="module")
def demo(warm: Callable[[str], Path], tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A copy of the demo job, of this module alone."""
    folder = tmp_path_factory.mktemp("desk") / "demo-b"
    shutil.copytree(warm("demo-b"), folder)
    return folder


async def ended(desk: Desk, work: Work, seconds: float = 240.0) -> Work:
    """The work once nothing more will come of it."""
    async with asyncio.timeout(seconds):
        while not desk.work[work.id].ended:
            await asyncio.sleep(0.02)
    return desk.work[work.id]


def at_desk(folder: Path | None, do: Callable[[Desk], Awaitable[Any]]) -> Any:
    """What `do` comes to at a desk with the job of `folder` on it."""

    async def sat() -> Any:
        desk = Desk(start=Path())
        try:
            await desk.open(folder)
            return await do(desk)
        finally:
            desk.close()

    return asyncio.run(sat())


def answer_of(folder: Path, question: str, **args: Any) -> Any:
    async def do(desk: Desk) -> Any:
        work = await ended(desk, await desk.ask(question, args))
        assert work.state == "done", (work.error, work.problems)
        return json.loads(desk.answer(str(work.key)) or "")

    return at_desk(folder, do)


def said_by_command(*words: str) -> Any:
    return json.loads(CliRunner().invoke(app, [*words, "--json"]).stdout)


@pytest.mark.parametrize(
    ("question", "args", "options"),
    [
        ("check", {}, ["--no-report"]),
        ("compartments", {}, ["--no-picture"]),
        ("feed", {}, ["--no-report"]),
        ("plan", {}, ["--no-report"]),
        ("history", {}, []),
        ("release", {"torque": "9 Nm"}, ["--torque", "9 Nm"]),
    ],
)
def test_the_page_gets_what_the_command_prints(
    demo: Path, question: str, args: dict[str, Any], options: list[str]
) -> None:
    assert answer_of(demo, question, **args) == said_by_command(question, str(demo), *options)


def test_a_drive_is_the_commands(demo: Path) -> None:
    args = {"manoeuvre": "circle", "oil": "60 degC", "options": {"turn": "right", **CIRCLE}}
    words = ["drive", str(demo), "circle", "--oil", "60 degC", "--turn", "right", "--no-report"]
    said = said_by_command(*words, *(w for k, v in CIRCLE.items() for w in (f"--{k}", v)))
    assert answer_of(demo, "drive", **args) == said


def test_a_drive_begins_where_it_is_said_and_its_chances_are_the_commands(demo: Path) -> None:
    more = {"start": "C=1.2 L, E=0.8 L", "chance": "4", "seed": "3"}
    args = {"manoeuvre": "circle", "options": {"turn": "right", **CIRCLE}, **more}
    words = ["drive", str(demo), "circle", "--turn", "right", "--no-report"]
    typed = {**CIRCLE, **more}
    said = said_by_command(*words, *(w for k, v in typed.items() for w in (f"--{k}", v)))
    assert said["chances"][0]["samples"] == 4
    assert answer_of(demo, "drive", **args) == said


def test_a_log_is_read_as_by_the_command(demo: Path) -> None:
    said = said_by_command(
        "read", str(demo), str(demo / "tests/skidpad.csv"), "--no-report", "--no-record"
    )
    assert answer_of(demo, "read", logs=["tests/skidpad.csv"]) == said


def test_an_answer_is_there_for_the_next_server(demo: Path) -> None:
    first = answer_of(demo, "compartments")

    async def again(desk: Desk) -> Any:
        assert "compartments" in {w.question for w in desk.work.values() if w.state == "done"}
        work = await desk.ask("compartments", {})
        assert work.state == "done"  # at once: from the shelf
        return json.loads(desk.answer(str(work.key)) or "")

    assert at_desk(demo, again) == first


def test_a_changed_number_makes_answers_stale_and_old_verdicts_stop(
    demo: Path, tmp_path: Path
) -> None:
    folder = tmp_path / "job"
    shutil.copytree(demo, folder)

    async def do(desk: Desk) -> None:
        done = await ended(desk, await desk.ask("feed", {}))
        path = folder / "job.yaml"
        path.write_text(path.read_text("utf-8").replace("fill: 4.5 L", "fill: 4.4 L"), "utf-8")
        queue = desk.subscribe()
        await desk.refresh("window")
        assert desk.work[done.id].stale
        told = [queue.get_nowait() for _ in range(queue.qsize())]
        assert [m["window"] for m in told if m["type"] == "job"] == ["window"]
        assert (await desk.ask("feed", {})).id != done.id

    at_desk(folder, do)


def test_the_same_question_twice_is_one_work(demo: Path) -> None:
    async def do(desk: Desk) -> None:
        args = {"manoeuvre": "circle", "options": {**CIRCLE, "accel": "0.71 g"}}
        first, second = await desk.ask("drive", args), await desk.ask("drive", args)
        assert first.id == second.id
        await ended(desk, first)

    at_desk(demo, do)


def test_long_work_says_where_it_is_and_stops_when_told(
    warm: Callable[[str], Path], tmp_path: Path
) -> None:
    job = shutil.copytree(warm("demo-b"), tmp_path / "job")  # where no hold map is kept yet

    async def do(desk: Desk) -> None:
        queue = desk.subscribe()
        work = await desk.ask("hold", {})
        said: list[dict[str, Any]] = []
        while not any(s["text"] == "filling the hold maps" for s in said):
            message = await asyncio.wait_for(queue.get(), 120.0)
            said += [message["work"]] if message["type"] == "work" else []
        stopping = asyncio.create_task(desk.stop(work.id))
        await asyncio.sleep(0)
        assert desk.work[work.id].state == "stopped"
        assert {"waiting", "running"} == {s["state"] for s in said}
        # what is asked in the meantime does not go with the worker that would not stop
        assert (await ended(desk, await desk.ask("compartments", {}))).state == "done"
        await stopping

    at_desk(job, do)


def test_a_worker_that_dies_is_said_and_replaced(demo: Path) -> None:
    async def do(desk: Desk) -> None:
        args = {"manoeuvre": "circle", "options": {**CIRCLE, "accel": "0.72 g"}}
        work = await desk.ask("drive", args)
        while desk.work[work.id].state == "waiting":
            await asyncio.sleep(0.02)
        os.kill(desk._far.pid or 0, signal.SIGKILL)
        failed = await ended(desk, work)
        assert failed.state == "failed"
        assert "the worker that computed this ended" in str(failed.error)
        assert (await ended(desk, await desk.ask("drive", args))).state == "done"

    at_desk(demo, do)


@pytest.mark.parametrize(
    ("question", "args", "needle"),
    [
        ("drive", {"manoeuvre": "/etc/passwd.csv"}, "is not a file of this job"),
        ("drive", {"manoeuvre": "../other/tests/day.csv"}, "is not a file of this job"),
        ("read", {"logs": ["../../secret.csv"]}, "is not a file of this job"),
        ("read", {"logs": []}, "no log"),
        ("read", {"logs": ["tests/skidpad.csv"], "radius": "3,5 m"}, "3 m to 500 m"),
        ("drive", {"manoeuvre": "eight", "doors": "ajar"}, "working, stuck open"),
        ("drive", {"manoeuvre": "eight", "start": "A 1.2 L"}, "a compartment, =, and its oil"),
        ("drive", {"manoeuvre": "eight", "chance": "many"}, "without a unit"),
        ("print", {"question": "../x"}, "check, drive"),
    ],
)
def test_what_cannot_be_asked_is_said_in_a_sentence(
    demo: Path, question: str, args: dict[str, Any], needle: str
) -> None:
    async def do(desk: Desk) -> Work:
        return await ended(desk, await desk.ask(question, args))

    work = at_desk(demo, do)
    assert work.state == "failed"
    assert needle in f"{work.error} {work.problems}"


def test_a_question_nobody_knows_and_a_desk_without_a_job_are_refused(demo: Path) -> None:
    async def unknown(desk: Desk) -> None:
        with pytest.raises(RefusedError, match="no question 'weigh'; there are still, check"):
            await desk.ask("weigh", {})

    async def bare(desk: Desk) -> None:
        with pytest.raises(RefusedError, match="no job is open; start or open one first"):
            await desk.ask("check", {})

    at_desk(demo, unknown)
    at_desk(None, bare)


def test_a_broken_job_file_is_open_all_the_same_with_its_problems(tmp_path: Path) -> None:
    (tmp_path / "job.yaml").write_text("job: bench\noil: {fill: 4,5 L}\n", "utf-8")

    async def do(desk: Desk) -> None:
        assert desk.head.name == "bench"
        assert desk.head.input_hash is None
        assert any(p["where"].startswith("job.yaml:2") for p in desk.head.problems)
        with pytest.raises(RefusedError) as caught:
            await desk.ask("check", {})
        assert caught.value.problems == desk.head.problems

    at_desk(tmp_path, do)


def test_what_is_said_of_work_has_the_fields_the_page_knows() -> None:
    protocol = (Path(__file__).parents[2] / "page/src/protocol.ts").read_text("utf-8")
    block = protocol.partition("export interface Work {")[2].partition("}")[0]
    fields = {line.split(":")[0].strip() for line in block.splitlines() if ":" in line}
    assert set(asdict(replace(Work("1", "check", {}), state="done"))) == fields
