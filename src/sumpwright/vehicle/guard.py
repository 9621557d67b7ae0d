# SPDX-License-Identifier: Apache-2.0
"""The guards that every formula of the vehicle shares."""

import math

from sumpwright.errors import RangeError


def positive(value: float, what: str, unit: str) -> float:
    """The value, once it is finite and above zero.

    Parameters
    ----------
    value : float [SI]
        What the formula was given.
    what : str [-]
        Name of the value in the message.
    unit : str [-]
        SI unit that the message shows.

    Returns
    -------
    value : float [SI]

    Raises
    ------
    RangeError
        If the value is zero, below zero or not finite.
    """
    if not (value > 0.0 and math.isfinite(value)):
        raise RangeError(f"{what} must be above 0 {unit} and finite, got {value:.6g}")
    return float(value)


def not_negative(value: float, what: str, unit: str) -> float:
    """The value, once it is finite and zero or above.

    Parameters
    ----------
    value : float [SI]
        What the formula was given.
    what : str [-]
        Name of the value in the message.
    unit : str [-]
        SI unit that the message shows.

    Returns
    -------
    value : float [SI]

    Raises
    ------
    RangeError
        If the value is below zero or not finite.
    """
    if not (value >= 0.0 and math.isfinite(value)):
        raise RangeError(f"{what} must be 0 {unit} or more and finite, got {value:.6g}")
    return float(value)


def whole(value: int, what: str) -> int:
    """The count, once it is at least 1.

    Parameters
    ----------
    value : int [-]
        What was asked for.
    what : str [-]
        Name of the count in the message.

    Returns
    -------
    value : int [-]

    Raises
    ------
    RangeError
        If the count is below 1 or no whole number.
    """
    if value < 1 or value != int(value):
        raise RangeError(f"{what} must be a whole number, 1 or more, got {value:g}")
    return int(value)
