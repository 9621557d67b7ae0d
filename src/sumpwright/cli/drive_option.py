# SPDX-License-Identifier: Apache-2.0
"""What was typed behind `sumpwright drive`; all problems at once."""

from collections.abc import Mapping
from difflib import get_close_matches

from pydantic_core import PydanticCustomError

from sumpwright.errors import InputError, Problem
from sumpwright.job.number import Number
from sumpwright.studies.asked import Asked
from sumpwright.studies.motion_result import DOORS, Doors
from sumpwright.units import Quantity

_VOLUME = Quantity("m^3", "0 L", "50 L")
_SAMPLES = Number(0, 100_000, whole=True)
_SEED = Number(0, 999_999, whole=True)
_START = '--start "A=1.2 L, B=0.8 L"'


def asked(
    manoeuvre: str,
    options: Mapping[str, str | None],
    *,
    oil: str | None,
    doors: str,
    start: str | None,
    chance: str,
    seed: str,
) -> Asked:
    """What is asked for; InputError with every option that cannot be used.

    The manoeuvre's own options are left to the schema.
    """
    problems: list[Problem] = []
    answer = Asked(
        manoeuvre=manoeuvre,
        options={key: text for key, text in options.items() if text is not None},
        oil=oil,
        doors=_doors(doors, problems),
        start=None if start is None else tuple(_start(start, problems)),
        chance=_whole(chance, _SAMPLES, "--chance", problems),
        seed=_whole(seed, _SEED, "--seed", problems),
    )
    if problems:
        raise InputError(problems)
    return answer


def _doors(text: str, problems: list[Problem]) -> Doors:
    for doors in DOORS:
        if text == doors:
            return doors
    near = get_close_matches(text.lower(), DOORS, n=1)
    do = f'did you mean --doors "{near[0]}"?' if near else "write one of these words"
    problems.append(Problem("CLI-401", "--doors", text, ", ".join(DOORS), do))
    return "working"


def _start(text: str, problems: list[Problem]) -> list[tuple[str, float]]:
    """Compartments and their oil; the compartments themselves are not known yet."""
    found: list[tuple[str, float]] = []
    for part in text.split(","):
        name, equals, volume = (piece.strip() for piece in part.rpartition("="))
        if not name or not equals:
            needed, do = "a compartment, =, and its oil", f"write it as {_START}"
            problems.append(Problem("CLI-401", "--start", part.strip(), needed, do))
        elif name in [known for known, _ in found]:
            do = "take one of the two out"
            problems.append(Problem("CLI-401", "--start", f"{name} twice", "each once", do))
        else:
            found.append((name, _volume(volume, problems)))
    return found


def _volume(text: str, problems: list[Problem]) -> float:
    try:
        return float(_VOLUME.read(text))
    except PydanticCustomError as err:
        context = err.context or {}
        problems.append(Problem("CLI-401", "--start", text, context["needed"], context["do"]))
        return 0.0


def _whole(text: str, number: Number, option: str, problems: list[Problem]) -> int:
    try:
        return int(number.read(text))
    except PydanticCustomError:
        do = "write a number without a unit"
        problems.append(Problem("CLI-401", option, text, number.needed, do))
        return 0
