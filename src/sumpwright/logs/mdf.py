# SPDX-License-Identifier: Apache-2.0
"""Channels of an MDF4 log (ASAM MDF), each with its own time."""

import json
import subprocess
import sys
import tempfile
from collections.abc import Mapping
from pathlib import Path
from typing import Any

import numpy as np
from numpy.typing import NDArray

from sumpwright.errors import InputError, Problem

Floats = NDArray[np.float64]
MAGIC = b"MDF     "
_LONGEST = 600.0
"""Seconds that reading a file may take."""


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
    found = _read(path, None)
    return tuple(map(str, found["names"])), tuple(map(str, found["units"]))


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
    found = _read(path, dict(places))
    return {role: (found[f"t_{role}"], found[f"v_{role}"]) for role in places}


def _read(path: Path, places: dict[str, str] | None) -> dict[str, NDArray[Any]]:
    """What the other process found; a file that ends that process is a broken one."""
    with tempfile.TemporaryDirectory() as folder:
        out = Path(folder) / "found.npz"
        command = [sys.executable, "-m", "sumpwright.logs.mdf_child", str(path), str(out)]
        try:
            done = subprocess.run(
                [*command, json.dumps(places)], capture_output=True, timeout=_LONGEST, check=False
            )
        except subprocess.TimeoutExpired:
            raise InputError([_broken(path, "reading it does not end")]) from None
        if done.returncode or not out.exists():
            raise InputError([_broken(path, "what is in it contradicts itself")])
        with np.load(out, allow_pickle=False) as held:
            found = {key: held[key] for key in held.files}
    if "error" in found:
        raise InputError([_broken(path, str(found["error"]).splitlines()[0][:80])])
    return found


def _broken(path: Path, said: str) -> Problem:
    found = f"an MDF file that cannot be read ({said})"
    do = "copy it from the logger again, or export it as CSV"
    return Problem("LOG-209", path.name, found, "a whole MDF4 file", do)
