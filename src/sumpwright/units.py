# SPDX-License-Identifier: Apache-2.0
"""The only module that knows units. Text with a unit in, SI float out, and back for display.

The units library's own text parser reads ``3,5 mm`` as 35 mm and ``1.2 g`` as grams, so
number and unit are split by a strict pattern first and only the unit's name goes in. Building
the library's registry costs half a second, so the names that job files use are resolved once, in
unit.csv; any other name still goes to the library.
"""

import csv
import math
import re
from collections.abc import Mapping
from difflib import get_close_matches
from fractions import Fraction
from functools import cache
from pathlib import Path
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
    '"': "inch",
    "pt": "pint",  # the library reads a printer's point
    "cSt": "mm^2/s",
    "US qt": "quart",
    "US gal": "gallon",
    "US pt": "pint",
    "fl oz": "fluid_ounce",
    "fl_oz": "fluid_ounce",
    "kg/L": "kg/liter",
    "%": "percent",
    "g/s": "standard_gravity/s",
    "mNm": "mN*m",
    "Nm/rad": "N*m/rad",
    "mNm/rad": "mN*m/rad",
    "lb in": "lbf*in",  # the library reads a mass times a length
    "oz in": "ozf*in",
}
_GRAM = {("g", "kg"): "gram"}
"""A mass cannot be an acceleration, so there alone `g` is what kitchens mean by it."""
_TEXT = re.compile(r"\s*([-+]?\d+(?:\.\d+)?(?:[eE][-+]?\d+)?)\s*([^\d\s.,].*?)\s*")
_PART = r"""(?:[^\W\d]|[°"%])+(?:\^-?\d|[²³])?"""
_NAME = re.compile(rf"{_PART}(?:[ */·]{_PART})*")
"""A unit's name; the library would also take comments, sums in brackets and other text."""
_BARE = re.compile(r"\s*[-+]?\d+(?:\.\d+)?\s*")
_COMMA = re.compile(r"\s*([-+]?\d+),(\d+)\s*([^\d\s,]*)\s*")
_FRACTION = re.compile(r"\s*(?:(\d+)[ -])?(\d+)/(\d+)\s*([^\d\s/].*?)\s*")


@cache
def _registry() -> "pint.UnitRegistry[Fraction]":
    import pint

    # fractions: one foot is then 0.3048 m, not 0.30479999999999996
    return pint.UnitRegistry(non_int_type=Fraction, autoconvert_offset_to_baseunit=True)


@cache
def _table() -> Mapping[tuple[str, str], tuple[float, float]]:
    """Factor and offset of the names that job files use, by name and SI unit."""
    text = Path(__file__).with_name("unit.csv").read_text(encoding="utf-8")
    rows = csv.DictReader(line for line in text.splitlines() if not line.startswith("#"))
    return {(r["name"], r["si"]): (float(r["factor"]), float(r["offset"])) for r in rows}


def names_of(unit: str) -> tuple[str, ...]:
    """Unit names that job files use for quantities of SI `unit`, the usual ones first."""
    return tuple(name for name, si in _table() if si == unit)


@cache
def resolved(name: str, unit: str) -> tuple[float, float]:
    """Factor and offset that take a number of `name` into `unit`, by the units library."""
    registry = _registry()
    name = _GRAM.get((name, unit)) or _ALIAS.get(name, name)
    if _roots(name) != _roots(unit):  # the library takes Hz for rad/s, and N m for N m/rad
        raise ValueError(f"{name!r} is no {unit}")
    zero = registry.Quantity(Fraction(0), name).m_as(unit)
    one = registry.Quantity(Fraction(1), name).m_as(unit)
    return float(one - zero), float(zero)


def _roots(name: str) -> object:
    """The base units that `name` is made of; to the library's sums an angle is none."""
    return _registry().Quantity(Fraction(1), name).to_root_units().units


def to_si(text: str, unit: str) -> float:
    """Read ``3 mm`` in SI `unit`.

    Raises ValueError where `text` is not a plain number and a unit that `unit` can take.
    """
    match = _TEXT.fullmatch(text)
    if match is None:
        raise ValueError(f"{text!r} is not a number with a unit")
    number, name = match.groups()
    if not _NAME.fullmatch(name):
        raise ValueError(f"{name!r} is not a unit")
    try:
        factor, offset = _table().get((name, unit)) or resolved(name, unit)
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
        if isinstance(value, str) and value in self.words:
            return value
        try:
            si = to_si(str(value), self.unit)
        except ValueError:
            raise PydanticCustomError(
                "unit", "{needed}", self._context(self._mend(str(value)))
            ) from None
        low, high = to_si(self.low, self.unit), to_si(self.high, self.unit)
        slack = 1e-12 * max(abs(low), abs(high))  # one rounding of the unit conversion
        if not low - slack <= si <= high + slack:
            do = "change the value, or check its unit"
            raise PydanticCustomError("range", "{needed}", self._context(do))
        return si

    def _mend(self, text: str) -> str:
        """What to write instead of `text`."""
        usual = self.low.split(maxsplit=1)[-1]
        if _BARE.fullmatch(text) and self.unit == "dimensionless":
            return f"write it in percent, as in '{self.low}'"
        if _BARE.fullmatch(text):
            return f"write its unit behind the number, as in '{text.strip()} {usual}'"
        if comma := _COMMA.fullmatch(text):
            return f"write a point, and the unit: '{comma[1]}.{comma[2]} {comma[3] or usual}'"
        if (part := _FRACTION.fullmatch(text)) and int(part[3]):
            decimal = int(part[1] or 0) + int(part[2]) / int(part[3])
            return f"write a decimal: '{decimal:.6g} {part[4]}'"
        if match := _TEXT.fullmatch(text):
            if match[2] in names_of(self.unit):
                return "write a smaller number"  # so large that it is none to a computer
            other = any(match[2] == name for name, _ in _table())  # no slip of the pen: see `4 mm`
            near = get_close_matches(match[2].lower(), names_of(self.unit), n=1)
            use = " or ".join(self._two_units() if other or not near else near)
            return f"{match[2]!r} is not a unit for this; use {use}"
        return f"write number, point, unit: '{self.low}'"

    def _two_units(self) -> list[str]:
        """A metric and a US name for the quantity where there are both."""
        us = {
            "m": ["in"],
            "m^2": ["in^2"],
            "m^3": ["qt"],
            "K": ["degF"],
            "m^3/s": ["gal/min"],
            "m/s": ["mph"],
            "kg": ["oz"],
            "Pa": ["psi"],
            "N m": ["oz in"],
        }
        return [self.low.split(maxsplit=1)[-1], *us.get(self.unit, [])]

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
        "small_volume": ("cm³", 1e6, 0.0, 1),
        "area": ("cm²", 1e4, 0.0, 0),
        "angle": ("°", 180.0 / math.pi, 0.0, 1),
        "acceleration": ("g", 1.0 / 9.80665, 0.0, 2),
        "temperature": ("°C", 1.0, -273.15, 0),
        "flow": ("L/min", 6e4, 0.0, 1),
        "speed_rpm": ("rpm", 30.0 / math.pi, 0.0, 0),
        "density": ("kg/m³", 1.0, 0.0, 0),
        "viscosity": ("mm²/s", 1e6, 0.0, 1),
        "oil_speed": ("m/s", 1.0, 0.0, 2),
        "inlet_pressure": ("kPa", 1e-3, 0.0, 1),
        "ratio": ("", 1.0, 0.0, 2),
        "count": ("", 1.0, 0.0, 0),
        "share": ("%", 100.0, 0.0, 0),
        "time": ("s", 1.0, 0.0, 1),
        "speed": ("km/h", 3.6, 0.0, 0),
        "pressure": ("kPa", 1e-3, 0.0, 0),
        "mass": ("g", 1e3, 0.0, 0),
        "weight": ("kg", 1.0, 0.0, 2),
        "moment": ("mN m", 1e3, 0.0, 1),
    }
)
_US: Mapping[str, tuple[str, float, float, int]] = MappingProxyType(
    {
        **_METRIC,
        "length": ("in", 1.0 / 0.0254, 0.0, 3),
        "volume": ("qt", 1.0 / 9.46352946e-4, 0.0, 2),
        "small_volume": ("in³", 1.0 / 0.0254**3, 0.0, 2),
        "area": ("in²", 1.0 / 0.0254**2, 0.0, 1),
        "temperature": ("°F", 1.8, -459.67, 0),
        "flow": ("gal/min", 60.0 / 3.785411784e-3, 0.0, 2),
        "speed": ("mph", 1.0 / 0.44704, 0.0, 0),
        "pressure": ("psi", 1.0 / 6894.757293168361, 0.0, 1),
        "mass": ("oz", 1.0 / 0.028349523125, 0.0, 1),
        "weight": ("lb", 1.0 / 0.45359237, 0.0, 2),
        "moment": ("oz in", 1.0 / 0.007061551833333334, 0.0, 2),
        "density": ("lb/ft³", 1.0 / 16.01846337396014, 0.0, 1),
        "oil_speed": ("ft/s", 1.0 / 0.3048, 0.0, 2),
        "inlet_pressure": ("psi", 1.0 / 6894.757293168361, 0.0, 2),
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


def figure(
    value: float,
    kind: str,
    system: str = "metric",
    *,
    sign: bool = False,
    digits: int | None = None,
    finer: int = 0,
) -> str:
    """As `shown`, without the unit: for a column whose head has it."""
    places = SYSTEMS[system][kind][3] + finer if digits is None else digits
    number = shown_number(value, kind, system)
    text = f"{number:{'+' if sign else ''}.{max(places, 0)}f}"
    return text.replace("-", "") if float(text) == 0.0 else text


def shown(
    value: float,
    kind: str,
    system: str = "metric",
    *,
    sign: bool = False,
    digits: int | None = None,
    finer: int = 0,
) -> str:
    """An SI `value` of `kind` as a person reads it: ``4.52 L``, ``1.30 g``, ``-12.5 mm``.

    To the places that are usual in `system`, and so many `finer`; or to `digits` in any system.
    """
    text = figure(value, kind, system, sign=sign, digits=digits, finer=finer)
    unit = unit_name(kind, system)
    joint = "" if unit in ("°", "") else " "
    return f"{text}{joint}{unit}".replace("-", "−") if unit else text
