# SPDX-License-Identifier: Apache-2.0
"""Questions about shaping and making: the studies behind those commands, and what they write.

Each writes the files that its command writes, so that an answer and its files are of one job.
"""

from collections.abc import Callable, Mapping
from pathlib import Path
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from sumpwright.studies.space_ask import SpaceAsked

Args = Mapping[str, Any]
Progress = Callable[[str, float], None]
Made = tuple[Any, tuple[Path, ...]]
"""An answer as the command's --json, and the files it wrote"""


def rail(folder: Path, _args: Args, say: Progress) -> Made:
    """Does the bolt pattern go onto the engine?"""
    from sumpwright.report.rail_mark import write_rail
    from sumpwright.studies.rail import rail_of

    result = rail_of(folder, say)
    return result.as_json(), (write_rail(folder, result),)


def shape(folder: Path, _args: Args, say: Progress) -> Made:
    """What shape is the pan that the numbers draw?"""
    from sumpwright.report.shape_write import write_shape
    from sumpwright.studies.shape import shape_of

    result = shape_of(folder, say)
    say("writing the solids", 0.9)
    return result.as_json(), write_shape(result, folder)


def space(folder: Path, args: Args, say: Progress) -> Made:
    """How much pan fits below the rail?"""
    from sumpwright.report.space_write import write_space
    from sumpwright.studies.space import space_with_bodies

    spaced = space_with_bodies(folder, space_asked(args), say)
    written = write_space(spaced, say)
    return {**spaced.result.as_json(), "files": written.as_json()}, written.paths


def housing(folder: Path, _args: Args, say: Progress) -> Made:
    """Can the pickup housing stand there, and what is it?"""
    from sumpwright.report.housing_write import write_housing
    from sumpwright.studies.housing import housing_of

    result = housing_of(folder, say)
    return result.as_json(), write_housing(result, folder)


def halves(folder: Path, _args: Args, say: Progress) -> Made:
    """Where is the pan split, what reaches it, how is it joined?"""
    from sumpwright.report.halves_write import write_halves
    from sumpwright.studies.halves import halved_of

    halved = halved_of(folder, say)
    say("writing the halves and reading them again", 0.97)
    return halved.result.as_json(), write_halves(halved)


def sheets(folder: Path, _args: Args, say: Progress) -> Made:
    """What is cut, bent and nested from sheet?"""
    from sumpwright.report.sheets_write import write_sheets
    from sumpwright.studies.sheet_part import sheets_of_job

    result = sheets_of_job(folder, say)
    return result.as_json(), write_sheets(result, folder, say)


def prints(folder: Path, args: Args, say: Progress) -> Made:
    """What is printed to try the fit?"""
    from sumpwright.report.prints_write import write_prints
    from sumpwright.studies.prints import prints_of

    result = prints_of(folder, say, solid=args.get("solid") is True)
    say("writing the prints and reading them again", 0.9)
    return result.as_json(), write_prints(result, folder)


def make(folder: Path, args: Args, say: Progress) -> Made:
    """The pack for the shop; refused where something speaks against it, unless `anyway`."""
    from sumpwright.report.make_write import write_make
    from sumpwright.studies.make import make_of

    place, pack = write_make(make_of(folder, say, anyway=args.get("anyway") is True), say)
    paths = (path for path in place.rglob("*") if path.is_file())
    return pack.as_json(), tuple(sorted(paths))


MAKING: dict[str, Callable[[Path, Args, Progress], Made]] = {
    "rail": rail,
    "shape": shape,
    "space": space,
    "housing": housing,
    "halves": halves,
    "sheets": sheets,
    "prints": prints,
    "make": make,
}


def space_asked(args: Args) -> "SpaceAsked":
    """What was typed of the free space, in SI; InputError where it cannot be used."""
    from sumpwright.studies.space_typed import LENGTHS, space_typed

    typed = {key: args.get(key) for key in LENGTHS}
    return space_typed({k: v.strip() or None for k, v in typed.items() if isinstance(v, str)})
