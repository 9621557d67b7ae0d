# SPDX-License-Identifier: Apache-2.0
"""Sizes of parts and stock as a shop reads them, in the job's units."""

import math
import re
from collections.abc import Iterable

from sumpwright.units import figure, shown, unit_name

_PLACES = {"metric": 3, "us": 4}
"""Of a nominal size, noughts at its end left out: 1.519 mm, 0.0598 in."""
_NUMBER = r"(-?\d+(?:\.\d+)?(?:e[-+]?\d+)?)"
_CORE = re.compile(rf"{_NUMBER}(?:( to |, ){_NUMBER})? mm\b(?!\^)")
_MM, _INCH = 1e-3, 0.0254


def nominal(value: float, units: str) -> str:
    """A nominal size, such as a sheet's thickness or a pin's: ``1.5 mm``, ``0.0598 in``."""
    return f"{nominal_figure(value, units)} {unit_name('length', units)}"


def nominal_figure(value: float, units: str) -> str:
    """The same without its unit."""
    return trimmed(figure(value, "length", units, digits=_PLACES[units]))


def sizes(values: Iterable[float], units: str, finer: int | None = None) -> str:
    """Sides of a thing: ``460 x 340 x 55 mm``, ``18.11 x 13.386 x 2.165 in``.

    To four figures, in inches to thousandths; or to as many `finer` places than is usual.
    """
    return f"{size_figures(values, units, finer)} {unit_name('length', units)}"


def sizes_to_buy(values: Iterable[float], units: str) -> str:
    """Sides that stock must have at least: up to a whole millimetre, or to a tenth of an inch."""
    step = _MM if units == "metric" else 0.1 * _INCH
    return sizes((step * math.ceil(v / step - 1e-6) for v in values), units)


def size_figures(values: Iterable[float], units: str, finer: int | None = None) -> str:
    """The same without the unit."""
    if finer is not None:
        return " x ".join(figure(v, "length", units, finer=finer) for v in values)
    if units == "metric":
        return " x ".join(f"{v / _MM:.4g}" for v in values)
    return " x ".join(trimmed(figure(v, "length", units)) for v in values)


def trimmed(text: str) -> str:
    """A number without the noughts at its end."""
    return text.rstrip("0").rstrip(".") if "." in text else text


def small_mass(value: float, units: str) -> str:
    """Of a part that a hand holds: ``52 g``, ``0.2 g``, ``1.83 oz``."""
    light = 1 if value < _MM else 0
    return shown(value, "mass", units, finer=1 if units == "us" else light)


def in_units(words: str, units: str) -> str:
    """A sentence of the core, which speaks of millimetres, with its lengths in the job's units."""
    if units == "metric":
        return words
    return _CORE.sub(lambda found: _turned(found, units), words)


def _turned(found: re.Match[str], units: str) -> str:
    first, joint, second = found.groups()
    if joint is None:
        return nominal(float(first) * _MM, units)
    low = nominal_figure(float(first) * _MM, units)
    return f"{low}{joint}{nominal(float(second) * _MM, units)}"
