# SPDX-License-Identifier: Apache-2.0
"""Ways between compartments that work against the pickup, or that no oil reaches."""

from collections.abc import Iterator, Sequence

import numpy as np
from numpy.typing import ArrayLike

from sumpwright.geometry.compartment import Compartments
from sumpwright.geometry.compartment_note import Note
from sumpwright.geometry.link import Link


def ways_to_pickup(parted: Compartments, pickup: ArrayLike) -> tuple[Note, ...]:
    """Doors that let oil away from the pickup, and compartments whose oil cannot get to it.

    A door opens the wrong way if the side it lets oil to is further from the pickup's compartment
    than the side it lets oil from, counted in panels to be passed.

    Parameters
    ----------
    parted : Compartments [m]
        All of them.
    pickup : (3,) [m]
        In the oil, at the pickup's mouth.

    Returns
    -------
    notes : tuple of Note [-]
        Kinds ``wrong way`` and ``cut off``; one ``cut off`` alone where no compartment holds the
        point.
    """
    home = parted.holding(pickup)
    if home is None:
        return (Note("cut off", "the pickup is in no compartment; check where its mouth is"),)
    both = [way for link in parted.links for way in ((link.behind, link.ahead),) * 2]
    both[1::2] = [(b, a) for a, b in both[1::2]]
    far = _steps(home, both)
    wrong = (_wrong_way(parted, link, far) for link in parted.links if link.door)
    homeward = _steps(home, [way for link in parted.links for way in _passes(link)])
    lost = [
        Note("cut off", f"oil in compartment {name} has no way to the pickup", compartment=name)
        for k, name in enumerate(parted.names)
        if k not in homeward and k in far
    ]
    return (*(note for note in wrong if note), *lost)


def openings_above(parted: Compartments, up: ArrayLike, height: float) -> tuple[Note, ...]:
    """Windows and doors that lie wholly above a level.

    Parameters
    ----------
    parted : Compartments [m]
        All of them.
    up : (3,) [-]
        Unit vector against effective gravity.
    height : float [m]
        The surface is where up.x is this.

    Returns
    -------
    notes : tuple of Note [-]
        Kind ``above the level``; one for an opening, however many compartments it leads to.
    """
    n = np.asarray(up, dtype=float)
    lowest: dict[tuple[str, str, str], float] = {}
    for link in parted.links:
        if link.opening:
            key = link.panel, link.kind, link.opening
            bottom = float((link.polygon @ n).min()) - height
            lowest[key] = min(bottom, lowest.get(key, np.inf))
    return tuple(
        Note(
            "above the level",
            f"{kind} '{name}' of panel '{panel}' starts {1e3 * over:.3g} mm above the oil",
            panel,
            name,
        )
        for (panel, kind, name), over in lowest.items()
        if over > 0.0
    )


def _passes(link: Link) -> Iterator[tuple[int, int]]:
    """(from, to) for each way that oil can pass a link."""
    if link.door is None or link.door.side > 0:
        yield link.behind, link.ahead
    if link.door is None or link.door.side < 0:
        yield link.ahead, link.behind


def _wrong_way(parted: Compartments, link: Link, far: dict[int, int]) -> Note | None:
    ((start, end),) = _passes(link)
    if far.get(end, 0) <= far.get(start, 0):
        return None
    a, b = parted.names[start], parted.names[end]
    text = f"door '{link.opening}' of panel '{link.panel}' lets oil from {a} to {b}"
    return Note("wrong way", f"{text}, away from the pickup", link.panel, link.opening)


def _steps(home: int, ways: Sequence[tuple[int, int]]) -> dict[int, int]:
    """How many ways must be passed to get home, for each compartment that can."""
    steps, edge = {home: 0}, {home}
    while edge:
        edge = {a for a, b in ways if b in edge and a not in steps}
        steps.update(dict.fromkeys(edge, max(steps.values()) + 1))
    return steps
