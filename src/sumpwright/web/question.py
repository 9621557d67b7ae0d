# SPDX-License-Identifier: Apache-2.0
"""The questions that the page asks: the studies behind the commands, and the same answers.

Runs in a worker process. What a question's arguments hold was typed by a person, as on a command.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any, Literal

from sumpwright.errors import InputError, Problem
from sumpwright.web.inside import inside
from sumpwright.web.making import MAKING

if TYPE_CHECKING:
    from sumpwright.studies.asked import Asked
    from sumpwright.studies.read import ReadAsked

Args = Mapping[str, Any]
Progress = Callable[[str, float], None]


@dataclass(frozen=True)
class Answer:
    """What a question came to."""

    json: Any
    """As the command's --json"""
    files: tuple[str, ...] = ()
    """Names under the job's out/ that it wrote"""


Run = Callable[[Path, Args, Progress], Answer]


@dataclass(frozen=True)
class Question:
    """One question of the job."""

    run: Run
    crew: Literal["near", "far"] = "far"
    """Near: of the verdict, which never waits for long work"""
    kept: bool = True
    """Its answer turns on the job's inputs alone, so it can stand on the shelf"""


def _still(folder: Path, _args: Args, say: Progress) -> Answer:
    from sumpwright.studies.check import still

    return Answer(still(folder, say).as_json())


def _check(folder: Path, _args: Args, say: Progress) -> Answer:
    from sumpwright.studies.check import check

    return Answer(check(folder, say).as_json())


def _compartments(folder: Path, _args: Args, say: Progress) -> Answer:
    from sumpwright.studies.compartment import compartments_of

    return Answer(compartments_of(folder, say).as_json())


def _drive(folder: Path, args: Args, say: Progress) -> Answer:
    from sumpwright.studies.drive import drive

    return Answer(drive(folder, drive_asked(folder, args), say).as_json())


def _hold(folder: Path, _args: Args, say: Progress) -> Answer:
    from sumpwright.studies.hold_map import hold_map

    return Answer(hold_map(folder, say).as_json())


def _feed(folder: Path, _args: Args, say: Progress) -> Answer:
    from sumpwright.studies.feed import feed_of

    return Answer(feed_of(folder, say).as_json())


def _plan(folder: Path, _args: Args, say: Progress) -> Answer:
    from sumpwright.studies.plan import plan

    return Answer(plan(folder, say).as_json())


def _read(folder: Path, args: Args, say: Progress) -> Answer:
    from sumpwright.studies.read import file_record, keep_names, read_logs

    found = read_logs(read_asked(folder, args), say)
    keep_names(found)
    if args.get("file"):
        file_record(found)
    return Answer(found.result.as_json())


def _history(folder: Path, _args: Args, _say: Progress) -> Answer:
    from sumpwright.studies.history import history

    return Answer(history(folder).as_json())


def _release(folder: Path, args: Args, say: Progress) -> Answer:
    from sumpwright.studies.release import release

    return Answer(release(folder, torque=text_of(args, "torque"), progress=say).as_json())


def _print(folder: Path, args: Args, say: Progress) -> Answer:
    from sumpwright.web.printing import PRINTS

    name = str(args.get("question"))
    if name not in PRINTS:
        raise InputError([_no_such("question", name, PRINTS)])
    inner = args.get("args")
    names = _names(folder, PRINTS[name](folder, inner if isinstance(inner, dict) else {}, say))
    return Answer({"files": names}, names)


def _making(name: str) -> Run:
    """A question whose files are of the same job as its answer; so neither stands on the shelf."""

    def run(folder: Path, args: Args, say: Progress) -> Answer:
        said, paths = MAKING[name](folder, args, say)
        return Answer(said, _names(folder, paths))

    return run


def _names(folder: Path, paths: tuple[Path, ...]) -> tuple[str, ...]:
    return tuple(path.relative_to(folder / "out").as_posix() for path in paths)


QUESTIONS: dict[str, Question] = {
    "still": Question(_still, "near"),
    "check": Question(_check, "near"),
    "compartments": Question(_compartments, "near"),
    "drive": Question(_drive),
    "hold": Question(_hold),
    "feed": Question(_feed),
    "plan": Question(_plan),
    "read": Question(_read, kept=False),
    "history": Question(_history, kept=False),
    "release": Question(_release, kept=False),
    "print": Question(_print, kept=False),
    "rail": Question(_making("rail"), "near", kept=False),
} | {name: Question(_making(name), kept=False) for name in MAKING if name != "rail"}


def drive_asked(folder: Path, args: Args) -> "Asked":
    """A drive as it was asked for; a log of the job's tests/ is named by its path from there."""
    from sumpwright.studies.asked import Asked
    from sumpwright.studies.drive_typed import samples_typed, seed_typed, start_typed
    from sumpwright.studies.motion_result import DOORS

    manoeuvre = text_of(args, "manoeuvre") or ""
    if Path(manoeuvre).suffix.lower() == ".csv":
        manoeuvre = str(inside(folder, manoeuvre))
    doors = args.get("doors", "working")
    if doors not in DOORS:
        raise InputError([_no_such("doors", str(doors), DOORS)])
    problems: list[Problem] = []
    asked = Asked(
        manoeuvre=manoeuvre,
        options=_texts(args.get("options")),
        oil=text_of(args, "oil"),
        doors=doors,
        start=start_typed(text_of(args, "start"), problems),
        chance=samples_typed(text_of(args, "chance") or "0", problems),
        seed=seed_typed(text_of(args, "seed") or "1", problems),
    )
    if problems:
        raise InputError(problems)
    return asked


def read_asked(folder: Path, args: Args) -> "ReadAsked":
    """What is asked of which logs of the job."""
    from sumpwright.studies.read import ReadAsked
    from sumpwright.units import to_si

    names = args.get("logs")
    logs = tuple(inside(folder, str(n)) for n in names) if isinstance(names, list) else ()
    if not logs:
        raise InputError([Problem("LOG-241", "logs", "no log", "a log", "choose one of tests/")])
    size, radius = text_of(args, "radius"), None
    if size is not None:
        try:
            radius = to_si(size, "m")
        except ValueError:
            radius = 0.0
        if not 3.0 <= radius <= 500.0:
            needed, do = "3 m to 500 m", "write number and unit: 30 m"
            raise InputError([Problem("LOG-242", "radius", size, needed, do)])
    columns, units = (_texts(args.get(key)) for key in ("channel", "unit"))
    return ReadAsked(folder, logs, columns, units, radius, args.get("prediction", True) is True)


def text_of(args: Args, key: str) -> str | None:
    """What was typed for `key`; None where nothing was."""
    text = args.get(key)
    return text.strip() or None if isinstance(text, str) else None


def _texts(given: Any) -> dict[str, str]:
    return {str(k): str(v) for k, v in given.items()} if isinstance(given, dict) else {}


def _no_such(key: str, found: str, known: Any) -> Problem:
    return Problem("WEB-501", key, found, ", ".join(known), "choose one of these")
