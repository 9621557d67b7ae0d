# SPDX-License-Identifier: Apache-2.0
"""The only module that knows units. Text with a unit in, SI float out, and back for display.

The units library's own text parser reads ``3,5 mm`` as 35 mm and ``1.2 g`` as grams, so
number and unit are split by a strict pattern first and only the unit's name goes in.
"""

import math
import re
from collections.abc import Mapping
from functools import cache
from types import MappingProxyType
from typing import TYPE_CHECKING, Any

from pydantic import BeforeValidator
from pydantic_core import PydanticCustomError

if TYPE_CHECKING:
    import pint

_ALIAS = {
    "g": "standard_gravity",  # the library reads gram
    "Nm": "N*m",  # the library reads a yarn count
    "l": "L",
    "litre": "L",
    "litres": "L",
    "C": "degC",  # the library reads coulomb
    "F": "degF",  # the library reads farad
    "°C": "degC",
    "°F": "degF",
    "°": "deg",
    "cSt": "mm^2/s",
    "US qt": "quart",
    "US gal": "gallon",
    "kg/L": "kg/liter",
    "%": "percent",
}
_TEXT = re.compile(r"\s*([-+]?\d+(?:\.\d+)?(?:[eE][-+]?\d+)?)\s*([^\d\s].*?)\s*")


@cache
def _registry() -> "pint.UnitRegistry[float]":
    import pint

    return pint.UnitRegistry(autoconvert_offset_to_baseunit=True)


@cache
def _scale(name: str, unit: str) -> tuple[float, float]:
    """Factor and offset that take a number of `name` into `unit`."""
    registry = _registry()
    zero = float(registry.Quantity(0.0, name).m_as(unit))
    one = float(registry.Quantity(1.0, name).m_as(unit))
    return one - zero, zero


def to_si(text: str, unit: str) -> float:
    """Read ``3 mm`` in SI `unit`.

    Raises ValueError where `text` is not a plain number and a unit that `unit` can take.
    """
    match = _TEXT.fullmatch(text)
    if match is None:
        raise ValueError(f"{text!r} is not a number with a unit")
    number, name = match.groups()
    try:
        factor, offset = _scale(_ALIAS.get(name, name), unit)
    except Exception as err:  # the library raises five unrelated types on bad unit text
        raise ValueError(f"{name!r} cannot be converted to {unit}") from err
    si = float(number) * factor + offset
    if not math.isfinite(si):
        raise ValueError(f"{text!r} is not finite")
    return si


class Quantity:
    """What a job-file field needs: SI unit, the range a sane job stays in, words it may be."""

    def __init__(self, unit: str, low: str, high: str, *words: str) -> None:
        self.unit, self.low, self.high, self.words = unit, low, high, words

    @property
    def needed(self) -> str:
        """The need as a person reads it: ``0.1 mm to 5 m, or stock, or off``."""
        return ", or ".join((f"{self.low} to {self.high}", *self.words))

    def read(self, value: Any) -> float | str:
        """SI float of a text between `low` and `high`, or a word; anything else is an error."""
        if value in self.words:
            return str(value)
        try:
            si = to_si(str(value), self.unit)
        except ValueError:
            do = f"write number, point, unit: '{self.low}'"
            raise PydanticCustomError("unit", "{needed}", self._context(do)) from None
        low, high = to_si(self.low, self.unit), to_si(self.high, self.unit)
        slack = 1e-12 * max(abs(low), abs(high))  # one rounding of the unit conversion
        if not low - slack <= si <= high + slack:
            do = "change the value, or check its unit"
            raise PydanticCustomError("range", "{needed}", self._context(do))
        return si

    def _context(self, do: str) -> dict[str, str]:
        return {"needed": self.needed, "do": do}


def quantity(unit: str, low: str, high: str, *words: str) -> BeforeValidator:
    """A job-file field: text between `low` and `high`, a plain SI float once loaded.

    One of `words` is taken as it is.
    """
    return BeforeValidator(Quantity(unit, low, high, *words).read)


# Display: kind of quantity -> (unit text, factor from SI, offset, decimals).
_METRIC: Mapping[str, tuple[str, float, float, int]] = MappingProxyType(
    {
        "length": ("mm", 1e3, 0.0, 1),
        "volume": ("L", 1e3, 0.0, 2),
        "area": ("cm²", 1e4, 0.0, 0),
        "angle": ("°", 180.0 / math.pi, 0.0, 1),
        "acceleration": ("g", 1.0 / 9.80665, 0.0, 2),
        "temperature": ("°C", 1.0, -273.15, 0),
        "flow": ("L/min", 6e4, 0.0, 1),
        "speed_rpm": ("rpm", 30.0 / math.pi, 0.0, 0),
        "density": ("kg/m³", 1.0, 0.0, 0),
        "viscosity": ("mm²/s", 1e6, 0.0, 1),
        "ratio": ("", 1.0, 0.0, 2),
    }
)
_US: Mapping[str, tuple[str, float, float, int]] = MappingProxyType(
    {
        **_METRIC,
        "length": ("in", 1.0 / 0.0254, 0.0, 3),
        "volume": ("qt", 1.0 / 9.46352946e-4, 0.0, 2),
        "area": ("in²", 1.0 / 0.0254**2, 0.0, 1),
        "temperature": ("°F", 1.8, -459.67, 0),
        "flow": ("gal/min", 60.0 / 3.785411784e-3, 0.0, 2),
        "density": ("lb/ft³", 1.0 / 16.01846337396014, 0.0, 1),
    }
)
SYSTEMS: Mapping[str, Mapping[str, tuple[str, float, float, int]]] = MappingProxyType(
    {"metric": _METRIC, "us": _US}
)


def shown_number(value: float, kind: str, system: str = "metric") -> float:
    """An SI `value` of `kind` in the unit that `system` (``metric`` or ``us``) shows it in."""
    _, factor, offset, _ = SYSTEMS[system][kind]
    return value * factor + offset


def unit_name(kind: str, system: str = "metric") -> str:
    """The unit text that `system` shows a quantity of `kind` in."""
    return SYSTEMS[system][kind][0]


def shown(
    value: float,
    kind: str,
    system: str = "metric",
    *,
    sign: bool = False,
    digits: int | None = None,
) -> str:
    """An SI `value` of `kind` as a person reads it: ``4.52 L``, ``1.30 g``, ``-12.5 mm``."""
    unit, _, _, decimals = SYSTEMS[system][kind]
    number = shown_number(value, kind, system)
    places = decimals if digits is None else digits
    text = f"{number:+.{places}f}" if sign else f"{number:.{places}f}"
    if float(text) == 0.0:
        text = text.replace("-", "")
    joint = "" if unit in ("°", "") else " "
    return f"{text}{joint}{unit}".replace("-", "−") if unit else text
