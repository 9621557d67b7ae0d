# SPDX-License-Identifier: Apache-2.0
"""What a person types of a drive besides the manoeuvre: the oil at first, and chances."""

from pydantic_core import PydanticCustomError

from sumpwright.errors import Problem
from sumpwright.job.number import Number
from sumpwright.units import Quantity

Start = tuple[tuple[str, float], ...]

_VOLUME = Quantity("m^3", "0 L", "50 L")
_SAMPLES = Number(0, 100_000, whole=True)
_SEED = Number(0, 999_999, whole=True)
_START = '--start "A=1.2 L, B=0.8 L"'


def start_typed(text: str | None, problems: list[Problem]) -> Start | None:
    """Compartments and their oil [m^3]; None settles. What cannot be used goes to `problems`."""
    return None if text is None else tuple(_start(text, problems))


def samples_typed(text: str, problems: list[Problem]) -> int:
    """How many samples the chances are taken from [-]; 0 asks for none."""
    return _whole(text, _SAMPLES, "--chance", problems)


def seed_typed(text: str, problems: list[Problem]) -> int:
    """The seed of those samples [-]."""
    return _whole(text, _SEED, "--seed", problems)


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
