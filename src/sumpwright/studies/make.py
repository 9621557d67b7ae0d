# SPDX-License-Identifier: Apache-2.0
"""What does the shop need to make this revision? All studies of things to be made, asked once."""

from collections.abc import Callable, Iterator
from dataclasses import replace
from pathlib import Path
from typing import Any

from sumpwright.errors import Finding, InputError
from sumpwright.job.load import load_job
from sumpwright.job.revision import input_hash, part_hash
from sumpwright.studies.bolts import bolts_of
from sumpwright.studies.check import Checked, check_with_bodies
from sumpwright.studies.make_against import ledger_problems, refuse, stale_problem
from sumpwright.studies.make_asked import Answers, Asked
from sumpwright.studies.make_flange import bolt_pitch
from sumpwright.studies.make_join import SheetJoint, sheet_joints
from sumpwright.studies.make_leak import leak_test
from sumpwright.studies.make_measure import measures_of
from sumpwright.studies.make_part import parts_of
from sumpwright.studies.make_result import Made, NotMade
from sumpwright.studies.make_seat import SeatedOn, seated_on
from sumpwright.studies.make_weld import weld_findings, weld_notes, weld_problems, welds_of

Progress = Callable[[str, float], None]


def make_of(folder: Path, progress: Progress | None = None, *, anyway: bool = False) -> Made:
    """Everything of the job in `folder` that a pack is written from.

    InputError names every requirement that is not met and every part that cannot be made, unless
    `anyway`. Writes nothing but the cache.
    """
    say = progress or (lambda _text, _share: None)
    checked = check_with_bodies(folder, lambda text, share: say(text, 0.2 * share))
    asked = Asked(checked.loaded, checked.bodies, say)
    answers = asked.all()
    loaded, bodies, sheets = checked.loaded, checked.bodies, answers.sheets
    seats = () if sheets is None else seated_on(loaded, bodies, sheets)
    joints = () if sheets is None else sheet_joints(loaded, bodies)
    made = _made(checked, answers, seats, joints, tuple(asked.not_made))
    against = (
        *ledger_problems(checked.result),
        *asked.problems,
        *answers.problems(),
        *weld_problems(loaded, seats),
        *made.against,
    )
    refuse(against, anyway=anyway)  # all of it at once, so that it is mended at once
    return replace(made, against=against)


def _made(
    checked: Checked,
    answers: Answers,
    seats: tuple[SeatedOn, ...],
    joints: tuple[SheetJoint, ...],
    not_made: tuple[NotMade, ...],
) -> Made:
    loaded, bodies, rail = checked.loaded, checked.bodies, answers.rail
    results = (answers.halves, answers.housing, answers.sheets, answers.prints)
    welds = welds_of(loaded, answers.halved, seats, joints)
    parts, wrong, noticed = parts_of(loaded, bodies, results, seats, welds)
    findings = _findings((checked.result, *results))
    pitch = bolt_pitch(loaded, bodies, rail)
    return Made(
        loaded=loaded,
        bodies=bodies,
        check=checked.result,
        part_hash=part_hash(loaded),
        rail=rail,
        halved=answers.halved,
        housing=answers.housing,
        sheets=answers.sheets,
        prints=answers.prints,
        whole=answers.whole,
        parts=parts,
        bolts=bolts_of(loaded),
        leak=leak_test(loaded, bodies),
        welds=welds,
        weld_notes=weld_notes(loaded, seats, joints),
        pitch=pitch,
        measures=measures_of(loaded, bodies, rail, pitch),
        not_made=not_made,
        against=wrong,
        findings=(*findings, *noticed, *weld_findings(loaded, seats)),
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
