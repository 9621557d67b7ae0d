# SPDX-License-Identifier: Apache-2.0
"""What a person types of the free space that is asked for, as SI numbers; all problems at once."""

from collections.abc import Mapping

from pydantic_core import PydanticCustomError

from sumpwright.errors import InputError, Problem
from sumpwright.studies.space_ask import FLANGE, SpaceAsked
from sumpwright.units import Quantity

_KICK_OUT = Quantity("m", "0 mm", "400 mm")
LENGTHS = {
    "kick_out": _KICK_OUT,
    "left": _KICK_OUT,
    "right": _KICK_OUT,
    "front": _KICK_OUT,
    "rear": _KICK_OUT,
    "flange": Quantity("m", "0 mm", "200 mm"),
    "wall": Quantity("m", "0 mm", "50 mm"),
    "corner": Quantity("m", "1 mm", "50 mm"),
    "depth": Quantity("m", "10 mm", "1 m"),
    "grid": Quantity("m", "1 mm", "20 mm"),
}
"""Everything that can be typed, and what it may be"""


def space_typed(typed: Mapping[str, str | None]) -> SpaceAsked:
    """What was typed under the names of `LENGTHS`; InputError with all that cannot be used."""
    problems: list[Problem] = []
    for side in ("left", "right"):
        if typed.get("kick_out") is not None and typed.get(side) is not None:
            problems.append(_twice(side))
    found = {key: _length(key, typed.get(key), problems) for key in LENGTHS}
    if problems:
        raise InputError(problems)
    both, flange = found["kick_out"], found["flange"]
    return SpaceAsked(
        left=both if found["left"] is None else found["left"],
        right=both if found["right"] is None else found["right"],
        front=found["front"] or 0.0,
        rear=found["rear"] or 0.0,
        flange=FLANGE if flange is None else flange,
        wall=found["wall"],
        radius=found["corner"],
        depth=found["depth"],
        step=found["grid"],
    )


def _twice(side: str) -> Problem:
    return Problem(
        code="CLI-402",
        where=f"--kick-out and --{side}",
        found="both",
        needed="one of the two",
        do="leave one of the two out",
    )


def _length(key: str, text: str | None, problems: list[Problem]) -> float | None:
    if text is None:
        return None
    try:
        return float(LENGTHS[key].read(text))
    except PydanticCustomError as err:
        said = err.context or {}
        option, needed = f"--{key.replace('_', '-')}", str(said["needed"])
        problems.append(Problem("CLI-401", option, text, needed, str(said["do"])))
        return None
