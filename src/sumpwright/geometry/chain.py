# SPDX-License-Identifier: Apache-2.0
"""Straight runs that follow each other, with fewer corners where a corner hardly turns."""

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]

_JOINT = 9
"""Decimals of a metre to which the end of a run is the start of the next."""


def thinned(runs: Floats, *, slack: float) -> Floats:
    """Runs with every corner left out that lies within `slack` of the line past it.

    Parameters
    ----------
    runs : (n, 2, 3) [m]
        Both ends of each, in any order; none branches.
    slack : float [m]
        How far a corner may lie off the new line.

    Returns
    -------
    runs : (m, 2, 3) [m]
        In the direction they had.
    """
    found = [_between(path[_kept(path, slack)]) for path in paths_of(runs)]
    return np.concatenate([np.zeros((0, 2, 3)), *found])


def thinned_loop(loop: Floats, *, slack: float) -> Floats:
    """A closed walk with fewer corners round the same area.

    Parameters
    ----------
    loop : (n, 3) [m]
        Corners in order, on one plane, round an area that is not zero.
    slack : float [m]
        How far a corner that is left out may lie off the new line.

    Returns
    -------
    loop : (m, 3) [m]
        Drawn out or in about its middle by what leaving corners out did to the area.
    """
    closed = np.concatenate([loop, loop[:1]])
    rest = closed[_kept(closed, slack)][:-1]
    if len(rest) == len(loop) or len(rest) < 3:
        return loop
    middle = rest.mean(axis=0)
    return np.asarray(middle + np.sqrt(_area(loop) / _area(rest)) * (rest - middle))


def _area(loop: Floats) -> float:
    spokes = loop - loop[0]
    return float(np.linalg.norm(np.cross(spokes, np.roll(spokes, -1, axis=0)).sum(axis=0)))


def paths_of(runs: Floats) -> list[Floats]:
    """Runs put together where one starts at the end of another.

    Parameters
    ----------
    runs : (n, 2, 3) [m]
        Both ends of each, in any order.

    Returns
    -------
    paths : list of (k, 3) [m]
        The first point of a closed one is repeated at its end.
    """
    ends = [[tuple(p) for p in run] for run in np.round(runs, _JOINT).tolist()]
    follows = {start: k for k, (start, _) in enumerate(ends)}
    reached = {end for _, end in ends}
    left = dict.fromkeys(range(len(ends)))
    heads = [k for k, (start, _) in enumerate(ends) if start not in reached]
    paths = []
    while left:
        k: int | None = next((h for h in heads if h in left), next(iter(left)))
        path = [runs[k, 0]]
        while k is not None and k in left:
            del left[k]
            path.append(runs[k, 1])
            k = follows.get(ends[k][1])
        paths.append(np.array(path))
    return paths


def _between(path: Floats) -> Floats:
    return np.stack([path[:-1], path[1:]], axis=1)


def _kept(path: Floats, slack: float) -> NDArray[np.bool_]:
    """Which corners stay: both ends, and where the line between two of them strays too far."""
    keep = np.zeros(len(path), dtype=bool)
    keep[[0, -1]] = True
    todo = [(0, len(path) - 1)]
    while todo:
        start, end = todo.pop()
        if end - start < 2:
            continue
        away = path[start + 1 : end] - path[start]
        line = path[end] - path[start]
        size = float(line @ line)
        share = np.clip(away @ line / size, 0.0, 1.0) if size > 0.0 else np.zeros(len(away))
        off = np.linalg.norm(away - share[:, None] * line, axis=1)
        worst = int(off.argmax())
        if off[worst] > slack:
            middle = start + 1 + worst
            keep[middle] = True
            todo += [(start, middle), (middle, end)]
    return keep
