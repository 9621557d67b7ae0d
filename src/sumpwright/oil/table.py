# SPDX-License-Identifier: Apache-2.0
"""The data tables that come with the package, and the guards every oil formula shares."""

import csv
from importlib.resources import files

import numpy as np
from numpy.typing import ArrayLike, NDArray

from sumpwright.errors import RangeError


def rows(name: str) -> list[dict[str, str]]:
    """Rows of one data table as text, by column name; an empty cell is an empty text.

    Parameters
    ----------
    name : str [-]
        File name without ending, such as ``sae_j300``. Lines that start with # state the source.

    Returns
    -------
    rows : list of dict [-]
    """
    text = files("sumpwright.oil").joinpath("data", f"{name}.csv").read_text(encoding="utf-8")
    return list(csv.DictReader(line for line in text.splitlines() if not line.startswith("#")))


def within(
    value: ArrayLike, low: float, high: float, what: str, unit: str, scale: float = 1.0
) -> NDArray[np.float64]:
    """The values as an array, once all of them lie from low to high.

    Parameters
    ----------
    value : (...) [SI]
        What the formula was given.
    low : float [SI]
        Smallest value that is allowed.
    high : float [SI]
        Largest value that is allowed.
    what : str [-]
        Name of the value in the message.
    unit : str [-]
        Unit that the message shows.
    scale : float [unit/SI]
        Factor from SI to the unit shown.

    Returns
    -------
    value : (...) [SI]

    Raises
    ------
    RangeError
        Names the value farthest out and the limits; a value that is not a number is out too.
    """
    numbers = np.asarray(value, dtype=float)
    bad = ~((numbers >= low) & (numbers <= high))
    if bad.any():
        off = numbers[bad]
        worst = off[np.argmax(np.where(np.isnan(off), np.inf, np.maximum(low - off, off - high)))]
        raise RangeError(
            f"{what} {worst * scale:.6g} {unit} is outside {low * scale:.6g} to "
            f"{high * scale:.6g} {unit}"
        )
    return numbers


def positive(value: ArrayLike, what: str, unit: str) -> NDArray[np.float64]:
    """The values as an array, once all of them are finite and above zero.

    Parameters
    ----------
    value : (...) [SI]
        What the formula was given.
    what : str [-]
        Name of the value in the message.
    unit : str [-]
        SI unit that the message shows.

    Returns
    -------
    value : (...) [SI]

    Raises
    ------
    RangeError
        If a value is zero, below zero or not finite.
    """
    numbers = np.asarray(value, dtype=float)
    bad = ~((numbers > 0.0) & np.isfinite(numbers))
    if bad.any():
        raise RangeError(f"{what} must be above 0 {unit} and finite, got {numbers[bad][0]:.6g}")
    return numbers


def not_negative(value: ArrayLike, what: str, unit: str) -> NDArray[np.float64]:
    """The values as an array, once all of them are finite and zero or above.

    Parameters
    ----------
    value : (...) [SI]
        What the formula was given.
    what : str [-]
        Name of the value in the message.
    unit : str [-]
        SI unit that the message shows.

    Returns
    -------
    value : (...) [SI]

    Raises
    ------
    RangeError
        If a value is below zero or not finite.
    """
    numbers = np.asarray(value, dtype=float)
    bad = ~((numbers >= 0.0) & np.isfinite(numbers))
    if bad.any():
        raise RangeError(f"{what} must be 0 {unit} or more and finite, got {numbers[bad][0]:.6g}")
    return numbers
