# SPDX-License-Identifier: Apache-2.0
"""The addresses by which pages edit the job and begin, asked through the real worker."""

import asyncio
from collections.abc import Awaitable, Callable
from itertools import pairwise
from pathlib import Path
from typing import Any

import httpx
import pytest

from sumpwright.web.app import page_app
from sumpwright.web.desk import Desk, RefusedError
from sumpwright.web.edit import refuse_shape
from tests.web.edit_case import TEXT, job, text_of

pytestmark = pytest.mark.slow
Client = httpx.AsyncClient


def at_page(folder: Path | None, start: Path, do: Callable[[Client, Desk], Awaitable[Any]]) -> Any:
    """What `do` comes to with the job of `folder` open, without the guard around it."""

    async def run() -> Any:
        desk = Desk(start)
        try:
            await desk.open(folder)
            wire = httpx.ASGITransport(page_app(desk))
            async with Client(transport=wire, base_url="http://page") as client:
                return await do(client, desk)
        finally:
            desk.close()

    return asyncio.run(run())


def test_a_job_is_read_edited_and_undone_and_every_window_is_told(tmp_path: Path) -> None:
    folder = job(tmp_path)

    async def do(client: Client, desk: Desk) -> None:
        heard = desk.subscribe()
        form = (await client.get("/api/form?window=one")).json()
        assert (form["undo"], form["problems"]) == (None, [])
        change = {"key": "oil.fill", "value": "4.6 L", "before": "4.5 L", "window": "one"}
        said = await client.post("/api/set", json=change)
        assert (said.status_code, said.json()["typed"]) == (200, "4.6 L")
        told = heard.get_nowait()
        assert (told["type"], told["window"], told["head"]["can_undo"]) == ("job", "one", True)
        assert told["head"]["text_hash"] == said.json()["text_hash"] != form["text_hash"]
        again = await client.post("/api/set", json=change | {"value": "4.7 L"})
        assert (again.status_code, again.json()["conflict"]["theirs"]) == (409, "4.6 L")
        wrong = await client.post("/api/set", json=change | {"value": "4,7 L", "before": "4.6 L"})
        assert (wrong.status_code, wrong.json()["problems"][0]["code"]) == (422, "JOB-101")
        back = await client.post("/api/undo", json={"window": "one"})
        assert (back.status_code, back.json()["says"]) == (200, "oil.fill: 4.6 L -> 4.5 L")
        assert (await client.post("/api/undo", json={})).status_code == 409
        assert text_of(folder) == TEXT

    at_page(folder, tmp_path, do)


def test_two_windows_at_once_lose_nothing(tmp_path: Path) -> None:
    folder = job(tmp_path)

    async def do(client: Client, _desk: Desk) -> None:
        async def edits(key: str, values: list[str]) -> None:
            for before, value in pairwise(values):
                body = {"key": key, "value": value, "before": before, "window": key}
                assert (await client.post("/api/set", json=body)).status_code == 200

        await asyncio.gather(
            edits("oil.fill", ["4.5 L", "4.6 L", "4.7 L", "4.8 L"]),
            edits("ride.bump_travel", ["60 mm", "50 mm", "40 mm", "30 mm"]),
            edits("obstacles.rack.clearance", ["12 mm", "11 mm", "10 mm", "9 mm"]),
        )

    at_page(folder, tmp_path, do)
    expected = TEXT.replace("4.5 L", "4.8 L").replace("60 mm\n#", "30 mm\n#")
    assert text_of(folder) == expected.replace("12 mm", "9 mm")


def test_two_windows_at_one_key_at_once_one_is_told_of_the_other(tmp_path: Path) -> None:
    folder = job(tmp_path)

    async def do(client: Client, _desk: Desk) -> list[int]:
        bodies = [{"key": "oil.fill", "value": f"4.{i} L", "before": "4.5 L"} for i in (6, 7)]
        said = await asyncio.gather(*(client.post("/api/set", json=b) for b in bodies))
        return sorted(answer.status_code for answer in said)

    assert at_page(folder, tmp_path, do) == [200, 409]


def test_a_broken_job_still_opens_and_shows_where_and_then_works_again(tmp_path: Path) -> None:
    folder = job(tmp_path, TEXT.replace("oil:\n", "oil: [\n"))

    async def do(client: Client, desk: Desk) -> None:
        form = (await client.get("/api/form")).json()
        assert form["broken"]["line"] == TEXT[: TEXT.index("oil:")].count("\n") + 1
        body = {"key": "oil.fill", "value": "4 L", "before": "4.5 L"}
        said = await client.post("/api/set", json=body)
        assert (said.status_code, said.json()["problems"][0]["code"]) == (422, "JOB-116")
        (folder / "job.yaml").write_text(TEXT, "utf-8")
        await desk.refresh()
        assert (await client.get("/api/form")).json()["broken"] is None
        assert (await client.post("/api/set", json=body)).status_code == 200

    at_page(folder, tmp_path, do)


def test_files_of_the_folder_are_listed_and_none_of_out_or_outside(tmp_path: Path) -> None:
    folder = job(tmp_path / "job")
    (folder / "out").mkdir()
    (folder / "out/x.stl").write_bytes(b"")
    (tmp_path / "mine.stl").write_bytes(b"")
    (folder / "geometry/link.stl").symlink_to(tmp_path / "mine.stl")

    async def do(client: Client, _desk: Desk) -> None:
        bodies = (await client.get("/api/files?as=geometry")).json()
        assert [b["name"] for b in bodies] == [
            "geometry/beam.step",
            "geometry/new.step",
            "geometry/rack.stl",
        ]
        assert bodies[0]["bytes"] == 22
        logs = (await client.get("/api/files?as=log")).json()
        assert [log["name"] for log in logs] == ["tests/day.csv"]
        assert (await client.get("/api/files?as=secrets")).status_code == 400

    at_page(folder, tmp_path, do)


def test_from_nothing_to_a_new_job_to_the_demo_to_a_folder(tmp_path: Path) -> None:
    other = job(tmp_path / "other")

    async def do(client: Client, desk: Desk) -> None:
        asked = (await client.get("/api/start")).json()
        assert asked["parent"] == str(tmp_path)
        assert [d["name"] for d in asked["demos"]] == ["demo-a", "demo-b", "demo-c"]
        assert (await client.get("/api/form")).status_code == 409
        new = await client.post("/api/start/new", json={"folder": "first"})
        assert new.json()["folder"] == str(tmp_path / "first")
        assert new.json()["job"]["input_hash"]
        twice = await client.post("/api/start/new", json={"folder": "first"})
        assert (twice.status_code, twice.json()["problems"][0]["code"]) == (422, "SAVE-305")
        demo = (await client.post("/api/start/demo", json={})).json()
        assert demo["job"]["name"] == "Dunlin low pan"
        opened = (await client.post("/api/start/open", json={"folder": "other"})).json()
        assert (opened["folder"], opened["job"]["name"]) == (str(other), "Bench engine")
        nothing = await client.post("/api/start/open", json={"folder": " "})
        assert (nothing.status_code, desk.folder) == (422, other)

    at_page(None, tmp_path, do)


@pytest.mark.parametrize(
    ("verb", "body"),
    [
        ("set", {}),
        ("set", {"key": "oil.fill"}),
        ("set", {"key": 1, "value": "x"}),
        ("set", {"key": "", "value": "x"}),
        ("set", {"key": "oil.fill", "value": 4}),
        ("set", {"key": "oil.fill", "value": "4 L", "before": ["4.5 L"]}),
        ("set", {"changes": []}),
        ("set", {"changes": {}}),
        ("set", {"changes": ["oil.fill"]}),
        ("set", {"changes": [{"key": "a", "value": "b"}] * 201}),
        ("add", {"key": "new.baffles", "values": {"name": 1}}),
        ("add", {"key": "new.baffles", "values": ["x"]}),
        ("add", {"key": "new.baffles", "values": {}}),
        ("take", {"key": "ride", "seen": 1}),
        ("undo", {"past": 1}),
        ("undo", {"window": {}}),
    ],
)
def test_what_no_page_of_ours_asks_is_refused(verb: str, body: dict[str, Any]) -> None:
    with pytest.raises(RefusedError) as caught:
        refuse_shape(verb, body)
    assert caught.value.status == 400
