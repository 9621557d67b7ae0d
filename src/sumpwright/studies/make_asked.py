# SPDX-License-Identifier: Apache-2.0
"""Every study of something to be made, asked once; what could not be had is kept and named."""

from collections.abc import Callable
from dataclasses import dataclass, field
from typing import TypeVar

from sumpwright.errors import InputError, Problem
from sumpwright.job.load import LoadedJob
from sumpwright.studies.bodies import Bodies
from sumpwright.studies.halves import Halved, halved_with
from sumpwright.studies.halves_result import HalvesResult
from sumpwright.studies.housing import housing_with
from sumpwright.studies.housing_result import HousingResult
from sumpwright.studies.make_against import study_problem, verdict_problems
from sumpwright.studies.make_result import NotMade
from sumpwright.studies.make_whole import WholeBody, whole_pan
from sumpwright.studies.prints import prints_with
from sumpwright.studies.prints_result import PrintsResult
from sumpwright.studies.rail import rail_with
from sumpwright.studies.rail_result import RailResult
from sumpwright.studies.sheet_part import sheets_with
from sumpwright.studies.sheet_part_result import SheetsResult

Progress = Callable[[str, float], None]
T = TypeVar("T")


@dataclass(frozen=True, eq=False)
class Answers:
    """What the studies answered; None for what there is not."""

    rail: RailResult | None
    halved: Halved | None
    housing: HousingResult | None
    sheets: SheetsResult | None
    prints: PrintsResult | None
    whole: tuple[WholeBody, ...]

    @property
    def halves(self) -> HalvesResult | None:
        """The halves without their solids."""
        return None if self.halved is None else self.halved.result

    def problems(self) -> list[Problem]:
        """A problem for every study that says its part cannot be made as it is."""
        judged = (
            ("the bolt pattern", "rail", self.rail),
            ("the two halves", "halves", self.halves),
            ("the pickup housing", "housing", self.housing),
            ("the sheet parts", "sheets", self.sheets),
        )
        return [
            p for what, command, answer in judged for p in verdict_problems(what, command, answer)
        ]


@dataclass
class Asked:
    """Asks every study that the job has the numbers for, and keeps what it could not have."""

    loaded: LoadedJob
    bodies: Bodies
    say: Progress
    not_made: list[NotMade] = field(default_factory=list)
    problems: list[Problem] = field(default_factory=list)

    def all(self) -> Answers:
        """Everything."""
        job = self.loaded.job
        rail = job.rail is not None and bool(job.rail.holes)
        found = self._asked("bolt pattern", "rail.holes", rail, lambda: rail_with(self.loaded))
        halved = self._halved()
        return Answers(
            rail=found,
            halved=halved,
            housing=self._housing(),
            sheets=self._sheets(),
            prints=self._prints(),
            whole=self._whole(halved) or (),
        )

    @property
    def _outside(self) -> bool:
        new = self.loaded.job.new
        return new.shape is not None or new.outside is not None

    def _halved(self) -> Halved | None:
        key = "new.split" if self._outside else "new.outside"
        there = self.loaded.job.new.split is not None and self._outside
        say = self._part(0.2, 0.6)
        return self._asked(
            "two halves", key, there, lambda: halved_with(self.loaded, self.bodies, say)
        )

    def _housing(self) -> HousingResult | None:
        there, say = self.loaded.job.new.housing is not None, self._part(0.6, 0.65)
        return self._asked(
            "pickup housing",
            "new.housing",
            there,
            lambda: housing_with(self.loaded, self.bodies, say),
        )

    def _sheets(self) -> SheetsResult | None:
        there, say = bool(self.loaded.job.new.baffles), self._part(0.65, 0.72)
        return self._asked(
            "sheet parts", "new.baffles", there, lambda: sheets_with(self.loaded, self.bodies, say)
        )

    def _prints(self) -> PrintsResult | None:
        job, say = self.loaded.job, self._part(0.72, 0.78)
        printer = job.shop is not None and job.shop.printer is not None
        return self._asked(
            "prints to try the fit",
            "shop.printer" if self._outside else "new.outside",
            printer and self._outside,
            lambda: prints_with(self.loaded, self.bodies, say),
        )

    def _whole(self, halved: Halved | None) -> tuple[WholeBody, ...] | None:
        self.say("the pan whole", 0.78)
        return self._asked(
            "pan whole", "new", True, lambda: whole_pan(self.loaded, self.bodies, halved)
        )

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
