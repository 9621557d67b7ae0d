# SPDX-License-Identifier: Apache-2.0
"""What was typed behind `sumpwright measure`, as SI numbers; all problems at once."""

import math
from pathlib import Path
from typing import TypedDict

from pydantic_core import PydanticCustomError

from sumpwright.errors import InputError, Problem
from sumpwright.units import Quantity, to_si

FILE_UNITS = ("mm", "cm", "m", "in", "ft")
_VOLUME = Quantity("m^3", "0 L", "1000000 L")
_HEIGHT = Quantity("m", "-1000 m", "1000 m")
_MOST_G = 10.0
"""Beyond it a number is a slip: m/s^2 typed for g."""


class MeasureOptions(TypedDict):
    """Keyword arguments of the measure study."""

    unit: float | None
    volume: float | None
    height: float | None
    accel_g: tuple[float, float, float]


def measure_options(
    file: Path, *, unit: str | None, volume: str | None, height: str | None, accel: str | None
) -> MeasureOptions:
    """The options in SI; InputError with every one that cannot be used."""
    problems: list[Problem] = []
    if volume is not None and height is not None:
        do = "leave one of the two out"
        problems.append(Problem("CLI-402", "--volume and --height", "both", "one of the two", do))
    options = MeasureOptions(
        unit=_file_unit(unit, problems),
        volume=_quantity(volume, _VOLUME, "--volume", problems),
        height=_quantity(height, _HEIGHT, "--height", problems),
        accel_g=_accel(accel, problems),
    )
    problems += _file(file)
    if problems:
        raise InputError(problems)
    return options


def _file_unit(text: str | None, problems: list[Problem]) -> float | None:
    if text is None:
        return None
    if text not in FILE_UNITS:
        needed = ", ".join(FILE_UNITS[:-1]) + f" or {FILE_UNITS[-1]}"
        problems.append(
            Problem("CLI-401", "--unit", text, needed, "name the unit of the file's numbers")
        )
        return None
    return to_si(f"1 {text}", "m")


def _quantity(
    text: str | None, quantity: Quantity, option: str, problems: list[Problem]
) -> float | None:
    if text is None:
        return None
    try:
        return float(quantity.read(text))
    except PydanticCustomError as err:
        context = err.context or {}
        problems.append(Problem("CLI-401", option, text, context["needed"], context["do"]))
        return None


def _accel(text: str | None, problems: list[Problem]) -> tuple[float, float, float]:
    if text is None:
        return (0.0, 0.0, 0.0)
    try:
        x, y, z = (float(part) for part in text.replace(",", " ").split())
        if not all(math.isfinite(a) and abs(a) <= _MOST_G for a in (x, y, z)):
            raise ValueError
    except ValueError:
        needed = f"three numbers in g, each -{_MOST_G:.0f} to {_MOST_G:.0f}"
        do = 'forward, left, up; a left turn at 0.9 g: --accel "0 0.9 0"'
        problems.append(Problem("CLI-401", "--accel", text, needed, do))
        return (0.0, 0.0, 0.0)
    return (x, y, z)


def _file(file: Path) -> list[Problem]:
    do = "check the path"
    try:
        if file.is_file():
            return []
        found = "a folder" if file.is_dir() else "no file of that name"
    except OSError as err:
        found, do = f"a path that cannot be followed ({err.strerror})", "allow reading it"
    return [Problem("CLI-403", str(file), found, "a STEP, STL, 3MF or PLY file", do)]
