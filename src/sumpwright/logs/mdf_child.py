# SPDX-License-Identifier: Apache-2.0
"""Reads an MDF file in a process of its own: a broken file can take the library down with it."""

import json
import logging
import sys
from typing import Any

import numpy as np

MOST_CHANNELS = 5000


def read(path: str, out: str, places: dict[str, str] | None) -> None:
    """Write names and units, or the channels of `places`, or the error, to the file `out`.

    Parameters
    ----------
    path : str [-]
    out : str [-]
        An npz file.
    places : dict of str or None [-]
        Role to channel name; None asks for the names.
    """
    from asammdf import MDF

    logging.getLogger("asammdf").setLevel(logging.CRITICAL)
    try:
        with open(path, "rb") as stream:
            file = MDF(stream)
            found = _names(file) if places is None else _series(file, places)
    except Exception as err:  # the library raises many kinds on a broken file
        found = {"error": np.array(f"{type(err).__name__}: {err}"[:200])}
    np.savez(out, allow_pickle=False, **found)


def _names(file: Any) -> dict[str, Any]:
    found: dict[str, str] = {}
    for g, group in enumerate(file.groups):
        for k, channel in enumerate(group.channels):
            if k != file.masters_db.get(g, -1) and len(found) < MOST_CHANNELS:
                found.setdefault(channel.name, str(channel.unit or ""))
    return {"names": np.array(list(found), str), "units": np.array(list(found.values()), str)}


def _series(file: Any, places: dict[str, str]) -> dict[str, Any]:
    found: dict[str, Any] = {}
    for role, name in places.items():
        group, index = file.whereis(name)[0]
        signal = file.get(group=group, index=index)
        if not np.issubdtype(signal.samples.dtype, np.number):  # words of a list: their numbers
            signal = file.get(group=group, index=index, raw=True)
        values = np.full(len(signal.timestamps), np.nan)
        if np.issubdtype(signal.samples.dtype, np.number) and signal.samples.ndim == 1:
            values = signal.samples.astype(float)
        found |= {f"t_{role}": signal.timestamps.astype(float), f"v_{role}": values}
    return found


if __name__ == "__main__":
    read(sys.argv[1], sys.argv[2], json.loads(sys.argv[3]))
