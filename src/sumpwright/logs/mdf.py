# SPDX-License-Identifier: Apache-2.0
"""Channels of an MDF4 log (ASAM MDF), each with its own time."""

import gc
import sys
from collections.abc import Iterator, Mapping
from contextlib import contextmanager, suppress
from pathlib import Path
from typing import Any

import numpy as np
from numpy.typing import NDArray

from sumpwright.errors import InputError, Problem

Floats = NDArray[np.float64]
MAGIC = b"MDF     "
MOST_CHANNELS = 5000


def mdf_names(path: Path) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """Names and units of the channels of numbers in a file.

    Parameters
    ----------
    path : Path [-]

    Returns
    -------
    names, units : tuple of str [-]

    Raises
    ------
    InputError
        LOG-209.
    """
    with _opened(path) as file:
        found: dict[str, str] = {}
        for g, group in enumerate(file.groups):
            for k, channel in enumerate(group.channels):
                if k != file.masters_db.get(g, -1) and len(found) < MOST_CHANNELS:
                    found.setdefault(channel.name, str(channel.unit or ""))
    return tuple(found), tuple(found.values())


def mdf_channels(path: Path, places: Mapping[str, str]) -> dict[str, tuple[Floats, Floats]]:
    """Time and values of the channels named, by role.

    Parameters
    ----------
    path : Path [-]
    places : mapping of str [-]
        Role to channel name.

    Returns
    -------
    channels : dict of ((k,), (k,)) [s, -]

    Raises
    ------
    InputError
        LOG-209.
    """
    found: dict[str, tuple[Floats, Floats]] = {}
    with _opened(path) as file:
        for role, name in places.items():
            try:
                group, index = file.whereis(name)[0]
                signal = file.get(group=group, index=index)
                time = np.asarray(signal.timestamps, dtype=float)
                values = np.asarray(signal.samples, dtype=float)
            except Exception as err:  # the library raises many kinds on a broken file
                raise InputError([_broken(path, err)]) from err
            sound = np.isfinite(values) & np.isfinite(time)
            found[role] = (time[sound], values[sound])
    return found


@contextmanager
def _opened(path: Path) -> Iterator[Any]:
    """The file, open while it is read; its errors as one problem."""
    import logging

    from asammdf import MDF

    logging.getLogger("asammdf").setLevel(logging.CRITICAL)
    with path.open("rb") as stream:
        problem = None
        try:
            file = MDF(stream)
        except Exception as err:  # the library raises many kinds on a broken file
            problem = _broken(path, err)
        if problem is not None:
            _forget_half_built()
            raise InputError([problem])
        try:
            yield file
        finally:
            with suppress(Exception):
                file.close()


def _forget_half_built() -> None:
    """Let go of what the library could not finish, whose end would be said on the terminal."""
    before = sys.unraisablehook
    sys.unraisablehook = lambda _: None
    try:
        gc.collect()
    finally:
        sys.unraisablehook = before


def _broken(path: Path, err: Exception) -> Problem:
    said = str(err).strip().splitlines()
    found = f"an MDF file that cannot be read ({said[0][:80] if said else type(err).__name__})"
    do = "copy it from the logger again, or export it as CSV"
    return Problem("LOG-209", path.name, found, "a whole MDF4 file", do)
