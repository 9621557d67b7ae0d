# SPDX-License-Identifier: Apache-2.0
"""One field of a hold map: time to air over direction and g, for one pan at one engine speed.

A field that is whole is kept in the job's cache, so a look that was stopped goes on where it was.
"""

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import numpy as np
from numpy.typing import NDArray

from sumpwright.geometry.frame import STANDARD_GRAVITY
from sumpwright.geometry.kernel import run_each_in_threads
from sumpwright.oil.network import LEVEL, LONGEST
from sumpwright.studies import cache
from sumpwright.studies.entering import Entered, Entry

Floats = NDArray[np.float64]

DEGREES = np.arange(0.0, 360.0, 15.0)
MAGNITUDES = np.round(np.arange(0.3, 1.45, 0.1), 10)
POINTS = len(DEGREES) * len(MAGNITUDES)


@dataclass(frozen=True, eq=False)
class Field:
    """Times to air, and how far its numbers can be trusted."""

    time: Floats
    """(directions, magnitudes) [s]; infinite where it is held to the end of the look"""
    mass: float
    worst_level: float
    steps: int
    rejected: int


def hold_field(
    folder: Path, entry: Entry, horizon: float, told: Callable[[int], None] | None = None
) -> Field:
    """Every direction and g into which a settled pan is driven, from the cache if it is there.

    `told` takes how many points are done.
    """

    def made() -> cache.Entry:
        found = _entered(entry, horizon, told)
        time = np.array([one.first_air for one in found])
        return cache.Entry(
            {"time": time.reshape(len(DEGREES), len(MAGNITUDES))},
            [
                max(one.mass for one in found),
                max(one.worst_level for one in found),
                sum(one.steps for one in found),
                sum(one.rejected for one in found),
            ],
        )

    kept = cache.kept(folder, _key(entry, horizon), made)
    return Field(kept.arrays["time"], *kept.data)


def _entered(entry: Entry, horizon: float, told: Callable[[int], None] | None) -> list[Entered]:
    found: dict[int, Entered] = {}

    def work(point: int) -> None:
        way, size = divmod(point, len(MAGNITUDES))
        g = float(MAGNITUDES[size]) * STANDARD_GRAVITY
        found[point] = entry.into(float(np.radians(DEGREES[way])), g, horizon)

    run_each_in_threads(work, POINTS, told)
    return [found[point] for point in range(POINTS)]


def _key(entry: Entry, horizon: float) -> str:
    """Of all that a field depends on: the network, the oil in it and what drives it."""
    arrays: list[NDArray[Any]] = [DEGREES, MAGNITUDES, entry.start.state]
    numbers: list[float] = [entry.start.oil, horizon, LEVEL, LONGEST]
    for part in _leaves(entry.ready.net):
        (arrays if isinstance(part, np.ndarray) else numbers).append(part)
    driven = entry.forcing(1.0, 1.0, horizon)
    arrays += [driven.force, driven.time, driven.flow, driven.rate]
    return cache.array_key(*arrays, how=("hold field", *numbers))


def _leaves(part: Any) -> Iterator[Any]:
    """Arrays and numbers of nested tuples, in order."""
    if isinstance(part, tuple):
        for inner in part:
            yield from _leaves(inner)
    else:
        yield part
