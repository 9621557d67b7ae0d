# SPDX-License-Identifier: Apache-2.0
"""Which cells of a cut cavity are one compartment.

A plane cuts further than its panel reaches, so most faces between cells are no wall. A face of
which panels cover less than a stated share joins its cells. One kind of it must wait: where a panel
ends (the top of a weir) and some other plane happens to pass, that plane parts the open face over
the panel from the covered one. They are one face, and stay so unless the other plane's own panel
stands there: that face waits until the other plane's cells are joined.
"""

from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from sumpwright.geometry.cell import Cells, cell_volumes
from sumpwright.geometry.edge import Ints, pieces
from sumpwright.geometry.interface import Crossing, Interface

Floats = NDArray[np.float64]
Key = tuple[int, int, int]
"""Sheet, lower group, higher group."""

CRUMB = 1e-9
"""m^3; a cell under a cubic millimetre goes to its largest neighbour."""
_EVEN = 1e-7  # of a share: what covers just enough must not fall short by rounding


@dataclass(frozen=True, eq=False)
class Grouping:
    """Cells put together to compartments."""

    group: Ints
    """(count,) number of each cell's compartment"""
    parting: frozenset[int]
    """Sheets that part something"""
    ribs: dict[int, float]
    """Share that a sheet covered of the last face that it did not part"""


def grouped(
    cells: Cells, found: Sequence[Interface], crossings: Sequence[Crossing], *, least: float
) -> Grouping:
    """The compartments that cells make.

    Parameters
    ----------
    cells : Cells [m]
        Any.
    found : sequence of Interface [m]
        Their interfaces.
    crossings : sequence of Crossing [-]
        Where those meet.
    least : float [-]
        Share of a face that panels must cover for it to part.

    Returns
    -------
    grouping : Grouping [-]
    """
    group = _without_crumbs(cells, found)
    ribs: dict[int, float] = {}
    while True:
        keys = [_key(i, group) for i in found]
        face = _faces(keys, crossings)
        shares = _shares(found, face)
        weak = {k for k, share in shares.items() if share < least - _EVEN}
        if not weak:
            return Grouping(group, frozenset(k[0] for k in keys if k), ribs)
        ready = weak - _waiting(crossings, face, shares, weak)
        if not ready:  # each waits for another
            lowest = min(shares[k] for k in weak)
            ready = {k for k in weak if shares[k] == lowest}
        own = {face[n]: keys[n] for n in range(len(found)) if face[n] in ready}
        ribs |= {key[0]: shares[k] for k, key in own.items() if key and shares[k] > 0.0}
        group = _joined(group, [key[1:] for key in own.values() if key])


def _without_crumbs(cells: Cells, found: Sequence[Interface]) -> Ints:
    pairs = []
    for cell in np.flatnonzero(cell_volumes(cells) < CRUMB).tolist():
        own = [i for i in found if cell in (i.behind, i.ahead)]
        widest = max(own, key=lambda i: i.area, default=None)
        pairs += [(widest.behind, widest.ahead)] if widest else []
    return _joined(np.arange(cells.count), pairs)


def _joined(group: Ints, pairs: Iterable[tuple[int, int]]) -> Ints:
    links = np.array(list(pairs), dtype=np.int64).reshape(-1, 2)
    return np.asarray(pieces(links, int(group.max()) + 1)[group])


def _key(i: Interface, group: Ints) -> Key | None:
    """None within one group."""
    a, b = sorted((int(group[i.behind]), int(group[i.ahead])))
    return (i.sheet, a, b) if a != b else None


def _faces(keys: Sequence[Key | None], crossings: Sequence[Crossing]) -> list[int]:
    """Number of the connected face between two groups that each interface is part of; or -1."""
    same = [(c.one, c.other) for c in crossings if keys[c.one] == keys[c.other]]
    piece = pieces(np.array(same, dtype=np.int64).reshape(-1, 2), len(keys)).tolist()
    return [-1 if key is None else k for k, key in zip(piece, keys, strict=True)]


def _shares(found: Sequence[Interface], face: Sequence[int]) -> dict[int, float]:
    """How much panels cover of each connected face between two groups."""
    sums: defaultdict[int, Floats] = defaultdict(lambda: np.zeros(2))
    for i, number in zip(found, face, strict=True):
        if number >= 0 and not i.narrow:
            sums[number] += i.covered, i.area
    return {number: float(covered / area) for number, (covered, area) in sums.items()}


def _waiting(
    crossings: Sequence[Crossing], face: Sequence[int], shares: dict[int, float], weak: set[int]
) -> set[int]:
    """Faces that go on, past planes without a panel there, as a face that does part."""
    strong = set(shares) - weak
    waiting = set()
    for crossing in crossings:
        pair = {face[crossing.one], face[crossing.other]}
        stands_there = any(face[k] in strong for k in crossing.across)
        if len(pair & weak) == 1 and pair & strong and not stands_there:
            waiting |= pair & weak
    return waiting
