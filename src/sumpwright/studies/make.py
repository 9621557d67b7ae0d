# SPDX-License-Identifier: Apache-2.0
"""What does the shop need to make this revision? All studies of things to be made, asked once."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any, TypeVar

from sumpwright.errors import Finding, InputError, Problem
from sumpwright.job.load import LoadedJob, load_job
from sumpwright.job.revision import input_hash, part_hash
from sumpwright.studies.bodies import Bodies
from sumpwright.studies.bolts import bolts_of
from sumpwright.studies.check import check_with_bodies
from sumpwright.studies.halves import Halved, halved_with
from sumpwright.studies.housing import housing_with
from sumpwright.studies.make_against import (
    ledger_problems,
    refuse,
    stale_problem,
    study_problem,
    verdict_problems,
)
from sumpwright.studies.make_leak import leak_test
from sumpwright.studies.make_measure import measures_of
from sumpwright.studies.make_part import parts_of
from sumpwright.studies.make_result import Made, NotMade
from sumpwright.studies.make_weld import welds_of
from sumpwright.studies.prints import prints_with
from sumpwright.studies.rail import rail_with
from sumpwright.studies.sheet_part import sheets_with

Progress = Callable[[str, float], None]
T = TypeVar("T")


def make_of(folder: Path, progress: Progress | None = None, *, anyway: bool = False) -> Made:
    """Everything of the job in `folder` that a pack is written from.

    InputError names every requirement that is not met and every part that cannot be made, unless
    `anyway`. Writes nothing but the cache.
    """
    say = progress or (lambda _text, _share: None)
    checked = check_with_bodies(folder, lambda text, share: say(text, 0.2 * share))
    against = [*ledger_problems(checked.result)]
    refuse(against, anyway=anyway)
    asked = _Asked(checked.loaded, checked.bodies, say)
    rail, halved, housing, sheets, prints = asked.all()
    against += asked.problems
    for what, command, result in (
        ("the bolt pattern", "rail", rail),
        ("the two halves", "halves", None if halved is None else halved.result),
        ("the pickup housing", "housing", housing),
        ("the sheet parts", "sheets", sheets),
    ):
        against += verdict_problems(what, command, result)
    refuse(against, anyway=anyway)
    results = (None if halved is None else halved.result, housing, sheets, prints)
    loaded, bodies = checked.loaded, checked.bodies
    return Made(
        loaded=loaded,
        bodies=bodies,
        check=checked.result,
        part_hash=part_hash(loaded),
        rail=rail,
        halved=halved,
        housing=housing,
        sheets=sheets,
        prints=prints,
        parts=parts_of(loaded, bodies, results),
        bolts=bolts_of(loaded),
        leak=leak_test(loaded, bodies),
        welds=welds_of(loaded, halved),
        measures=measures_of(loaded, bodies, rail),
        not_made=tuple(asked.not_made),
        against=tuple(against),
        findings=tuple(_findings((checked.result, *results))),
    )


def refuse_stale(made: Made) -> None:
    """InputError where the job is no longer what the answers were made from."""
    before, now = made.check.input_hash, input_hash(load_job(made.loaded.path))
    if before != now:
        raise InputError([stale_problem(before, now)])


def _findings(results: tuple[Any, ...]) -> Iterator[Finding]:
    seen: set[tuple[str, str, str]] = set()
    for result in results:
        for found in () if result is None else result.findings:
            mark = (found.code, found.place, found.found)
            if mark not in seen:
                seen.add(mark)
                yield found
    if (sheets := results[3]) is not None:
        for item in sheets.items:
            yield from item.warnings


@dataclass
class _Asked:
    """Asks every study that the job has the numbers for, and keeps what it could not have."""

    loaded: LoadedJob
    bodies: Bodies
    say: Progress
    not_made: list[NotMade] = field(default_factory=list)
    problems: list[Problem] = field(default_factory=list)

    def all(self) -> tuple[Any, ...]:
        """Rail, halves, housing, sheet parts, prints; None for what there is not."""
        loaded, bodies, job = self.loaded, self.bodies, self.loaded.job
        rail = job.rail is not None and bool(job.rail.holes)
        whole = job.new.shape is not None or job.new.outside is not None
        printer = job.shop is not None and job.shop.printer is not None
        split = job.new.split is not None
        lacks_split = "new.split" if whole else "new.outside"
        return (
            self._asked("bolt pattern", "rail.holes", rail, lambda: rail_with(loaded)),
            self._asked("two halves", lacks_split, split and whole, self._halves),
            self._asked(
                "pickup housing",
                "new.housing",
                job.new.housing is not None,
                lambda: housing_with(loaded, bodies, self._part(0.6, 0.65)),
            ),
            self._asked(
                "sheet parts",
                "new.baffles",
                bool(job.new.baffles),
                lambda: sheets_with(loaded, bodies, self._part(0.65, 0.72)),
            ),
            self._asked(
                "prints to try the fit",
                "shop.printer" if whole else "new.outside",
                printer and whole,
                lambda: prints_with(loaded, bodies, self._part(0.72, 0.78)),
            ),
        )

    def _halves(self) -> Halved:
        return halved_with(self.loaded, self.bodies, self._part(0.2, 0.6))

    def _part(self, low: float, high: float) -> Progress:
        return lambda text, share: self.say(text, low + (high - low) * share)

    def _asked(self, what: str, key: str, there: bool, ask: Callable[[], T]) -> T | None:
        if not there:
            self.not_made.append(NotMade(what, f"the job has no `{key}`", key))
            return None
        try:
            return ask()
        except InputError as err:
            problem = study_problem(what, err)
            self.problems.append(problem)
            self.not_made.append(NotMade(what, problem.found, problem.where))
            return None
