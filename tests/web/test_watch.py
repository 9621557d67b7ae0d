# SPDX-License-Identifier: Apache-2.0
"""What others change in the job's folder is noticed, once it is whole, and only then."""

import asyncio
import os
from collections.abc import Awaitable, Callable
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

import pytest

from sumpwright.web.desk import Desk
from sumpwright.web.edit_verb import changed
from sumpwright.web.head import job_head
from sumpwright.web.watch import Folder, own_change, watch
from tests.web.edit_case import TEXT, job

pytestmark = pytest.mark.slow

PAUSE = 0.03
Doing = Callable[["Seen"], Awaitable[None]]


@dataclass(eq=False)
class Seen(Desk):
    """A desk without workers, which counts how often it looks at the job anew."""

    looks: list[str | None] = field(default_factory=list)

    async def refresh(self, window: str | None = None) -> None:
        assert self.folder is not None
        self.head = job_head(self.folder)
        self.looks.append(window)

    async def while_watched(self, doing: Doing) -> list[str | None]:
        self.head = job_head(self.folder or Path())
        task = asyncio.create_task(watch(self, PAUSE))
        await asyncio.sleep(6 * PAUSE)
        await doing(self)
        await asyncio.sleep(12 * PAUSE)
        assert not task.done()
        task.cancel()
        return self.looks


def watched(folder: Path, doing: Doing) -> list[str | None]:
    """Whose changes the desk was told of."""
    return asyncio.run(Seen(start=folder, folder=folder).while_watched(doing))


def act(do: Callable[[], Any]) -> Doing:
    async def doing(_desk: Seen) -> None:
        do()

    return doing


CHANGES: dict[str, Callable[[Path], Any]] = {
    "the job file": lambda f: (f / "job.yaml").write_text(TEXT.replace("4.5 L", "4.6 L")),
    "the job file by another in its place": lambda f: _replaced(f / "job.yaml", TEXT + "#\n"),
    "the job file gone": lambda f: (f / "job.yaml").unlink(),
    "a body": lambda f: (f / "geometry/new.step").write_bytes(b"another"),
    "a new log": lambda f: (f / "tests/more.csv").write_bytes(b"a,b"),
    "a log gone": lambda f: (f / "tests/day.csv").unlink(),
    "a first record": lambda f: _written(f / "records/x.yaml"),
    "of the same size": lambda f: (f / "geometry/new.step").write_bytes(b"N" * 22),
}


def _replaced(path: Path, text: str) -> None:
    other = path.with_name(".part")
    other.write_text(text)
    os.replace(other, path)


def _written(path: Path) -> None:
    path.parent.mkdir()
    path.write_text("x")


@pytest.mark.parametrize("name", CHANGES)
def test_a_change_from_outside_is_noticed_once(tmp_path: Path, name: str) -> None:
    folder = job(tmp_path)
    assert watched(folder, act(lambda: CHANGES[name](folder))) == [None]


QUIET: dict[str, Callable[[Path], Any]] = {
    "nothing": lambda _f: None,
    "saved again as it was": lambda f: (f / "job.yaml").write_text(TEXT),
    "touched": lambda f: os.utime(f / "geometry/new.step", (1, 1)),
    "something in out": lambda f: _written(f / "out" / "x"),
    "a hidden file": lambda f: (f / "geometry" / ".x.part").write_text("x"),
    "a file beside": lambda f: (f / "notes.txt").write_text("x"),
}


@pytest.mark.parametrize("name", QUIET)
def test_what_is_no_change_is_not_told(tmp_path: Path, name: str) -> None:
    folder = job(tmp_path)
    assert watched(folder, act(lambda: QUIET[name](folder))) == []


def test_a_file_is_looked_at_once_it_is_written_whole(tmp_path: Path) -> None:
    folder = job(tmp_path)
    text = TEXT.replace("4.5 L", "4.6 L")

    async def slowly(desk: Seen) -> None:
        with (folder / "job.yaml").open("w") as stream:
            for start in range(0, len(text), 80):
                stream.write(text[start : start + 80])
                stream.flush()
                await asyncio.sleep(PAUSE / 2)
                assert desk.looks == []

    assert watched(folder, slowly) == [None]


def test_one_file_that_goes_on_growing_does_not_hide_another(tmp_path: Path) -> None:
    folder = job(tmp_path)

    async def growing(desk: Seen) -> None:
        (folder / "geometry/beam.step").write_bytes(b"moved")
        with (folder / "tests/long.csv").open("wb") as stream:
            for _ in range(30):
                stream.write(b"1,2\n" * 100)
                stream.flush()
                await asyncio.sleep(PAUSE / 2)
        assert desk.looks == [None]

    assert watched(folder, growing) == [None, None]


def test_a_page_s_own_change_is_not_told_as_another_s(tmp_path: Path) -> None:
    folder = job(tmp_path)

    async def own(desk: Seen) -> None:
        with own_change(desk, "tests/mine.csv"):
            body = {"key": "oil.fill", "value": "4.6 L", "before": "4.5 L", "window": "one"}
            await asyncio.to_thread(changed, folder, "set", body)
            (folder / "tests/mine.csv").write_text("a")
            await asyncio.sleep(4 * PAUSE)
            await desk.refresh("one")

    assert watched(folder, own) == ["one"]


def test_a_change_from_outside_in_the_midst_of_an_own_one_is_told(tmp_path: Path) -> None:
    folder = job(tmp_path)

    async def both(desk: Seen) -> None:
        with own_change(desk, "tests/mine.csv"):
            (folder / "tests/mine.csv").write_text("a")
            (folder / "tests/theirs.csv").write_text("b")
            await asyncio.sleep(4 * PAUSE)

    assert watched(folder, both) == [None]


def test_another_folder_on_the_desk_is_watched_instead(tmp_path: Path) -> None:
    first, second = job(tmp_path / "a"), job(tmp_path / "b")

    async def opened(desk: Seen) -> None:
        desk.folder = second
        await desk.refresh("opened")
        await asyncio.sleep(6 * PAUSE)
        (first / "job.yaml").write_text(TEXT + "# a\n")
        await asyncio.sleep(8 * PAUSE)
        assert desk.looks == ["opened"]
        (second / "job.yaml").write_text(TEXT + "# b\n")

    assert watched(first, opened) == ["opened", None]


def test_a_change_before_the_first_look_is_told(tmp_path: Path) -> None:
    folder = job(tmp_path)

    async def early() -> list[str | None]:
        desk = Seen(start=folder, folder=folder)
        desk.head = job_head(folder)
        (folder / "job.yaml").write_text(TEXT + "# just now\n")
        task = asyncio.create_task(watch(desk, PAUSE))
        await asyncio.sleep(8 * PAUSE)
        task.cancel()
        return desk.looks

    assert asyncio.run(early()) == [None]


def test_looking_at_an_idle_folder_reads_no_file(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    folder = Folder(job(tmp_path))
    folder.look()
    assert folder.look() != set()  # the first time that each keeps still
    monkeypatch.setattr("sumpwright.web.watch._digest", lambda *_: pytest.fail("read again"))
    assert folder.look() == set()
