# SPDX-License-Identifier: Apache-2.0
"""The reports of the commands, written into out/ for the page to show and print."""

from collections.abc import Callable, Mapping
from pathlib import Path

from sumpwright.web.question import Args, Progress, drive_asked, read_asked, text_of

Print = Callable[[Path, Args, Progress], tuple[Path, ...]]


def _check(folder: Path, _args: Args, say: Progress) -> tuple[Path, ...]:
    from sumpwright.report.write import write_report
    from sumpwright.studies.check import check_with_bodies
    from sumpwright.studies.staging import scene

    checked = check_with_bodies(folder, say)
    return write_report(checked.result, scene(checked), folder, say)


def _drive(folder: Path, args: Args, say: Progress) -> tuple[Path, ...]:
    from sumpwright.report.drive_write import write_drive
    from sumpwright.studies.drive import drive_with_scene
    from sumpwright.studies.motion_scene import motion_scene

    drove = drive_with_scene(folder, drive_asked(folder, args), say)
    return write_drive(drove.result, motion_scene(drove.bodies, drove.parted), folder, say)


def _hold(folder: Path, _args: Args, say: Progress) -> tuple[Path, ...]:
    from sumpwright.report.hold_map_write import write_hold_map
    from sumpwright.studies.hold_map import hold_map

    return write_hold_map(hold_map(folder, say), folder, say)


def _feed(folder: Path, _args: Args, say: Progress) -> tuple[Path, ...]:
    from sumpwright.report.feed_write import write_feed
    from sumpwright.studies.feed import feed_of

    return write_feed(feed_of(folder, say), folder)


def _plan(folder: Path, _args: Args, say: Progress) -> tuple[Path, ...]:
    from sumpwright.report.plan_write import write_plan
    from sumpwright.studies.plan import plan

    found = plan(folder, say)
    say("setting the sheets", 0.9)
    return write_plan(found, folder)


def _read(folder: Path, args: Args, say: Progress) -> tuple[Path, ...]:
    from sumpwright.report.read_write import write_read
    from sumpwright.studies.read import read_logs

    return write_read(read_logs(read_asked(folder, args), say).result, folder)


def _release(folder: Path, args: Args, say: Progress) -> tuple[Path, ...]:
    from sumpwright.report.dossier_write import write_dossier
    from sumpwright.studies.release import release

    result = release(folder, torque=text_of(args, "torque"), progress=say)
    return write_dossier(result, folder)


PRINTS: Mapping[str, Print] = {
    "check": _check,
    "drive": _drive,
    "hold": _hold,
    "feed": _feed,
    "plan": _plan,
    "read": _read,
    "release": _release,
}
