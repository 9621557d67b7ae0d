# SPDX-License-Identifier: Apache-2.0
"""A job-file field without a unit: a ratio, a count, or the number of something."""

import math
import re
from typing import Any

from pydantic import BeforeValidator
from pydantic_core import PydanticCustomError

_PLAIN = re.compile(r"\s*[-+]?\d+(?:\.\d+)?(?:[eE][-+]?\d+)?\s*")


class Number:
    """What such a field needs: the range a sane job stays in, words it may be."""

    def __init__(self, low: float, high: float, *words: str, whole: bool = False) -> None:
        self.low, self.high, self.words, self.whole = low, high, words, whole

    @property
    def needed(self) -> str:
        """The need as a person reads it: ``top, or bottom, or a whole number, 0 to 11``."""
        kind = "a whole number" if self.whole else "a number without a unit"
        return ", or ".join((*self.words, f"{kind}, {self.low:g} to {self.high:g}"))

    def read(self, value: Any) -> float | int | str:
        """The number, or a word; anything else is an error."""
        if isinstance(value, str) and value in self.words:
            return value
        number = _plain_number(value)
        if not math.isfinite(number) or (self.whole and number != round(number)):
            raise PydanticCustomError("number", "{needed}", {"needed": self.needed})
        if not self.low <= number <= self.high:
            context = {"needed": self.needed, "do": "change the value; it takes no unit"}
            raise PydanticCustomError("range", "{needed}", context)
        return int(number) if self.whole else number


def number(low: float, high: float, *words: str, whole: bool = False) -> BeforeValidator:
    """A job-file field: a plain number between `low` and `high`, or one of `words`."""
    return BeforeValidator(Number(low, high, *words, whole=whole).read)


def _plain_number(value: Any) -> float:
    if isinstance(value, str) and _PLAIN.fullmatch(value):
        return float(value)
    plain = isinstance(value, (int, float)) and not isinstance(value, bool)
    return float(value) if plain else math.nan
