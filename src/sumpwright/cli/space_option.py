# SPDX-License-Identifier: Apache-2.0
"""What was typed behind `sumpwright space`, as SI numbers; all problems at once."""

from collections.abc import Mapping

from pydantic_core import PydanticCustomError

from sumpwright.errors import InputError, Problem
from sumpwright.studies.space_ask import FLANGE, SpaceAsked
from sumpwright.units import Quantity

_RANGE = {
    "kick_out": ("0 mm", "400 mm"),
    "left": ("0 mm", "400 mm"),
    "right": ("0 mm", "400 mm"),
    "front": ("0 mm", "400 mm"),
    "rear": ("0 mm", "400 mm"),
    "flange": ("0 mm", "200 mm"),
    "wall": ("0 mm", "50 mm"),
    "corner": ("1 mm", "50 mm"),
    "depth": ("10 mm", "1 m"),
    "grid": ("1 mm", "20 mm"),
}


def space_asked(typed: Mapping[str, str | None]) -> SpaceAsked:
    """The options in SI; InputError with every one that cannot be used."""
    problems: list[Problem] = []
    for side in ("left", "right"):
        if typed.get("kick_out") is not None and typed.get(side) is not None:
            where, do = f"--kick-out and --{side}", "leave one of the two out"
            problems.append(Problem("CLI-402", where, "both", "one of the two", do))
    found = {key: _length(key, typed.get(key), problems) for key in _RANGE}
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


def _length(key: str, text: str | None, problems: list[Problem]) -> float | None:
    if text is None:
        return None
    try:
        value = Quantity("m", *_RANGE[key]).read(text)
    except PydanticCustomError as err:
        context = err.context or {}
        option, needed = f"--{key.replace('_', '-')}", str(context["needed"])
        problems.append(Problem("CLI-401", option, text, needed, str(context["do"])))
        return None
    assert isinstance(value, float)
    return value
