# SPDX-License-Identifier: Apache-2.0
"""What a key of the job file is when it is left out, as a person would type it."""

from collections.abc import Mapping
from types import MappingProxyType
from typing import Any

from pydantic.fields import FieldInfo

from sumpwright.job.schema import Need
from sumpwright.units import to_si

_SHOWN: Mapping[str, tuple[str, str]] = MappingProxyType(
    {
        "m": ("mm", "in"),
        "m^3": ("L", "qt"),
        "rad": ("deg", "deg"),
        "rad/s": ("rpm", "rpm"),
        "K": ("degC", "degF"),
        "kg/m^3": ("kg/m^3", "lb/ft^3"),
        "m^2/s": ("mm^2/s", "mm^2/s"),
        "m^3/s": ("L/min", "gal/min"),
        "m/s^2": ("g", "g"),
        "m^2": ("cm^2", "in^2"),
        "m/s": ("m/s", "mph"),
        "s": ("s", "s"),
        "Hz": ("Hz", "Hz"),
        "m/s^3": ("m/s^3", "m/s^3"),
        "Pa": ("kPa", "psi"),
        "kg": ("g", "oz"),
        "N m": ("mN m", "oz in"),
        "N m/rad": ("mN m/rad", "mN m/rad"),
        "dimensionless": ("%", "%"),
    }
)
"""Unit that a value is written in, metric and US, by its SI unit."""


def written_unit(unit: str, system: str = "metric") -> str:
    """The unit that a quantity of SI `unit` is written in by default."""
    return _SHOWN[unit][1 if system == "us" else 0]


def default_text(field: FieldInfo, need: Need, system: str = "metric") -> str | None:
    """The default as it could stand in the file: ``10 mm``; None where there is none."""
    if field.is_required() or need.kind == "section":
        return None
    value = field.get_default(call_default_factory=True)
    return None if value is None or value == () else _text(value, need, system)


def _text(value: Any, need: Need, system: str) -> str:
    if isinstance(value, tuple):
        return "[" + ", ".join(_text(v, need.item or need, system) for v in value) + "]"
    if isinstance(value, bool):
        return str(value).lower()
    if isinstance(value, str) or need.quantity is None:
        return f"{value:g}" if isinstance(value, float) else str(value)
    unit = written_unit(need.quantity.unit, system)
    zero, one = (to_si(f"{n} {unit}", need.quantity.unit) for n in (0, 1))
    return f"{(value - zero) / (one - zero):.6g} {unit}"
