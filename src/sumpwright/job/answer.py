# SPDX-License-Identifier: Apache-2.0
"""What a new job is asked for: the usual answers, and what is wrong with one that was typed."""

from collections.abc import Mapping
from types import MappingProxyType

from pydantic_core import PydanticCustomError

from sumpwright.errors import Problem
from sumpwright.units import Quantity

UNITS = ("metric", "us")
USUAL_FILL: Mapping[str, str] = MappingProxyType({"metric": "4.5 L", "us": "4.8 qt"})
_FILL = Quantity("m^3", "0.1 L", "50 L")


def word_problem(where: str, text: str, words: tuple[str, ...]) -> Problem | None:
    """What is wrong with `text` as one of `words`."""
    needed = " or ".join(words)
    if text.lower() in words:
        return None
    return Problem("CLI-401", where, text, needed, f"write {needed}")


def name_problem(where: str, text: str) -> Problem | None:
    """What is wrong with `text` as the job's name."""
    if text.strip():
        return None
    return Problem("CLI-401", where, "nothing", "a name", "name the job")


def fill_problem(where: str, text: str) -> Problem | None:
    """What is wrong with `text` as the oil that stands in the pan."""
    try:
        _FILL.read(text)
    except PydanticCustomError as err:
        context = err.context or {}
        return Problem("CLI-401", where, text, context["needed"], context["do"])
    return None
