# SPDX-License-Identifier: Apache-2.0
"""The open job: what is asked of it, what runs, what is done, and who is told.

Two worker processes: the near one keeps the job at hand for tilts and verdicts, the far one takes
long work, one at a time, and goes when there is none. Closing the page stops nothing.
"""

import asyncio
import uuid
from dataclasses import asdict, dataclass, field, replace
from pathlib import Path
from typing import Any

from sumpwright.web import shelf
from sumpwright.web.hand import Call, Came
from sumpwright.web.lane import Crew
from sumpwright.web.question import QUESTIONS

_REST = 60.0
"""Seconds after which the far worker, idle, gives its memory back."""
_MOST_WORK = 200
_LANES = {
    **{"tilt": "pan", "scene": "pan", "space_scene": "pan"},
    **{"log": "log", "log_columns": "log"},
}
"""Of functions that may take a while, so that no form waits for them."""
_VERDICT = ("still", "check")
"""Questions that a newer job makes pointless."""


class RefusedError(Exception):
    """What the page asked cannot be done; the sentence says why."""

    def __init__(self, status: int, error: str, problems: tuple[dict[str, str], ...] = ()) -> None:
        super().__init__(error)
        self.status = status
        self.problems = problems


@dataclass(frozen=True)
class Work:
    """One question asked, and where it is; protocol.ts has the same."""

    id: str
    question: str
    args: dict[str, Any]
    state: str = "waiting"
    """``waiting``, ``running``, ``done``, ``failed`` or ``stopped``"""
    text: str = ""
    share: float = 0.0
    key: str | None = None
    input_hash: str | None = None
    problems: tuple[dict[str, str], ...] = ()
    error: str | None = None
    files: tuple[str, ...] = ()
    stale: bool = False

    @property
    def ended(self) -> bool:
        """Whether nothing more will come of it."""
        return self.state in ("done", "failed", "stopped")


@dataclass(eq=False)
class Desk:
    """One job on this machine, and everybody who looks at it."""

    start: Path
    """Where the command was given: new jobs go there"""
    folder: Path | None = None
    head: Any = None
    """JobHead of the open job"""
    work: dict[str, Work] = field(default_factory=dict)
    _near: Crew = field(default_factory=lambda: Crew(killable=False))
    _far: Crew = field(default_factory=lambda: Crew(killable=True))
    _answers: dict[str, str] = field(default_factory=dict)
    _listeners: set["asyncio.Queue[dict[str, Any]]"] = field(default_factory=set)
    _tasks: set["asyncio.Task[None]"] = field(default_factory=set)

    async def open(self, folder: Path | None) -> None:
        """Put another job on the desk; work on the last one ends."""
        self.close()
        self.work.clear()
        self._answers.clear()
        self.folder, self.head = folder, None
        if folder is not None:
            await self.refresh()

    def close(self) -> None:
        """End the workers."""
        self._near.end()
        self._far.end()

    async def refresh(self, window: str | None = None) -> None:
        """Look at the job again, after a change by `window`, or by None from outside."""
        if self.folder is None:
            return
        self.head = await self.live("head")
        now = self.head.input_hash
        self._take_from_shelf(now)
        for work in list(self.work.values()):
            stale = work.input_hash != now
            if stale and work.question in _VERDICT and not work.ended:
                await self.stop(work.id)
            elif stale != work.stale:
                self._put(replace(work, stale=stale))
        self.say({"type": "job", "head": asdict(self.head), "window": window})

    async def ask(self, question: str, args: dict[str, Any]) -> Work:
        """The work on a question: begun, going on already, or done from the shelf."""
        folder, asked = self._opened(), QUESTIONS.get(question)
        if asked is None:
            raise RefusedError(404, f"no question {question!r}; there are {', '.join(QUESTIONS)}")
        now = self.head.input_hash
        if now is None:
            raise RefusedError(422, "the job file has problems", self.head.problems)
        key = shelf.answer_key(question, args, now)
        if not asked.kept:
            key = shelf.answer_key(question + uuid.uuid4().hex, args, now)
        for going in self.work.values():
            same = (going.question, going.args, going.input_hash) == (question, args, now)
            if same and not going.ended:
                return going
        work = Work(uuid.uuid4().hex, question, args, key=key, input_hash=now)
        on_shelf = shelf.found(folder, key) if asked.kept else None
        if on_shelf is not None:
            return self._put(replace(work, state="done", share=1.0, files=on_shelf.files))
        self._put(work)
        task = asyncio.create_task(self._run(folder, work))
        self._tasks.add(task)
        task.add_done_callback(self._tasks.discard)
        return work

    async def stop(self, id: str) -> None:
        """End a work; what it finished in parts is kept for the next time."""
        work = self.work.get(id)
        if work is None or work.ended:
            return
        self._put(replace(work, state="stopped", text="stopped"))
        await self._crew(work.question).stop(id)

    def answer(self, key: str) -> str | None:
        """The JSON of a finished answer."""
        if key in self._answers:
            return self._answers[key]
        kept = None if self.folder is None else shelf.found(self.folder, key)
        return None if kept is None else kept.text

    async def live(self, name: str, *args: Any) -> Any:
        """What the function `name` of live_function.py says of the open job."""
        id = uuid.uuid4().hex
        lane = _LANES.get(name, "form")
        call = Call(id, lane, name, str(self._opened()), args, live=True)
        came = await self._near.call(call)
        if came.problems or came.error:
            raise RefusedError(422, came.error or "", came.problems)
        return came.answer

    def subscribe(self) -> "asyncio.Queue[dict[str, Any]]":
        """A queue of everything that is said from now on."""
        queue: asyncio.Queue[dict[str, Any]] = asyncio.Queue()
        self._listeners.add(queue)
        return queue

    def unsubscribe(self, queue: "asyncio.Queue[dict[str, Any]]") -> None:
        """Say nothing more to `queue`."""
        self._listeners.discard(queue)

    def say(self, message: dict[str, Any]) -> None:
        """Tell every window."""
        for queue in self._listeners:
            queue.put_nowait(message)

    async def _run(self, folder: Path, work: Work) -> None:
        def heard(text: str, share: float) -> None:
            now = self.work.get(work.id)
            if now is not None and not now.ended:
                self._put(replace(now, state="running", text=text, share=share))

        crew = self._crew(work.question)
        # the quick verdict does not wait for a whole one that is still coming to its end
        lane = work.question if crew is self._near else "far"
        came = await crew.call(Call(work.id, lane, work.question, str(folder), work.args), heard)
        now = self.work.get(work.id)
        if now is not None and not now.ended:
            self._finish(folder, now, came)
        if crew is self._far:
            await asyncio.sleep(_REST)
            if crew.idle:
                crew.end()

    def _finish(self, folder: Path, work: Work, came: Came) -> None:
        if came.stopped:
            self._put(replace(work, state="stopped", text="stopped"))
        elif came.error or came.problems:
            failed = replace(work, state="failed", error=came.error, problems=came.problems)
            self._put(failed)
        else:
            self._put(self._shelved(folder, work, came))

    def _shelved(self, folder: Path, work: Work, came: Came) -> Work:
        """The work done; its answer is for the inputs that it says, should they have moved on."""
        said = came.input_hash or work.input_hash or ""
        kept = QUESTIONS[work.question].kept
        key = shelf.answer_key(work.question, work.args, said) if kept else str(work.key)
        self._answers[key] = came.answer
        if kept:
            shelved = shelf.Kept(work.question, work.args, said, came.files, came.answer)
            shelf.put(folder, key, shelved)
        stale = self.head is not None and said != self.head.input_hash
        done = replace(work, state="done", text="", share=1.0, key=key, input_hash=said)
        return replace(done, files=came.files, stale=stale)

    def _take_from_shelf(self, now: str | None) -> None:
        """What was finished for these inputs, by this server or one before it, is done."""
        if self.folder is None or now is None:
            return
        known = {work.key for work in self.work.values()}
        for key, kept in shelf.of_inputs(self.folder, now):
            if key not in known and kept.question in QUESTIONS:
                work = Work(uuid.uuid4().hex, kept.question, kept.args, "done", share=1.0)
                self._put(replace(work, key=key, input_hash=now, files=kept.files))

    def _crew(self, question: str) -> Crew:
        return self._near if QUESTIONS[question].crew == "near" else self._far

    def _opened(self) -> Path:
        if self.folder is None:
            raise RefusedError(409, "no job is open; start or open one first")
        return self.folder

    def _put(self, work: Work) -> Work:
        self.work.pop(work.id, None)
        self.work[work.id] = work
        for id in [w.id for w in self.work.values() if w.ended][:-_MOST_WORK]:
            self._answers.pop(str(self.work.pop(id).key), None)
        self.say({"type": "work", "work": asdict(work)})
        return work
