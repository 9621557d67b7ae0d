# SPDX-License-Identifier: Apache-2.0
"""What to call compartments, and in which order."""

from collections.abc import Iterable, Mapping, Sequence

import numpy as np
from numpy.typing import ArrayLike, NDArray

from sumpwright.geometry.mesh import Mesh

Floats = NDArray[np.float64]

_LEVEL = 0.03  # of the pan's size; centroids nearer than this in x are level, and y decides
_MIDDLE = (0.4, 0.6)  # of the pan's length or width: between these a compartment is in the middle


def body_centroid(body: Mesh) -> Floats:
    """Centroid of what a closed skin encloses.

    Parameters
    ----------
    body : Mesh [m]
        Closed, of positive volume.

    Returns
    -------
    centroid : (3,) [m]
    """
    middle = body.vertices.mean(axis=0)
    a, b, c = (body.corners[:, k] - middle for k in range(3))
    part = np.einsum("ij,ij->i", a, np.cross(b, c))
    return np.asarray(middle + part @ (a + b + c) / (4.0 * part.sum()))


def place_order(bodies: Mapping[int, Mesh]) -> list[int]:
    """Numbers of bodies from the rear to the front; right to left, then upward, where level.

    Parameters
    ----------
    bodies : mapping of int to Mesh [m]
        By number.

    Returns
    -------
    order : list of int [-]
    """
    numbers = list(bodies)
    places = np.array([body_centroid(bodies[k]) for k in numbers]).reshape(-1, 3)
    if not numbers:
        return []
    low, high = _box(bodies.values())
    keys = [_ranks(places[:, k], _LEVEL * (high - low)[k]) for k in (2, 1, 0)]
    return [numbers[k] for k in np.lexsort(keys)]


def _box(bodies: Iterable[Mesh]) -> tuple[Floats, Floats]:
    bounds = np.array([body.bounds for body in bodies])
    return bounds[:, 0].min(axis=0), bounds[:, 1].max(axis=0)


def _ranks(values: Floats, level: float) -> NDArray[np.int64]:
    """The same number for values that follow each other within `level`."""
    order = np.argsort(values, kind="stable")
    steps = np.diff(values[order], prepend=values[order][:1]) > level
    ranks = np.zeros(len(values), dtype=np.int64)
    ranks[order] = np.cumsum(steps)
    return ranks


def letters(count: int) -> tuple[str, ...]:
    """A, B, .. Z, AA, AB, ..

    Parameters
    ----------
    count : int [-]
        How many.

    Returns
    -------
    names : tuple of str [-]
    """
    return tuple(_letter(k) for k in range(count))


def _letter(number: int) -> str:
    head, tail = divmod(number, 26)
    return (_letter(head - 1) if head else "") + chr(ord("A") + tail)


def hints_of(bodies: Sequence[Mesh], over: Iterable[tuple[int, int]]) -> tuple[str, ...]:
    """Where each compartment lies in the pan, in words.

    Parameters
    ----------
    bodies : sequence of Mesh [m]
        All compartments.
    over : iterable of (int, int) [-]
        Pairs of which the second lies over the first, parted by a nearly level panel.

    Returns
    -------
    hints : tuple of str [-]
        Such as ``lower front left``; empty for one in the middle.
    """
    if not bodies:
        return ()
    pairs = list(over)
    has_above, has_below = {a for a, _ in pairs}, {b for _, b in pairs}
    levels = [
        {(True, False): "lower", (False, True): "upper"}.get((k in has_above, k in has_below), "")
        for k in range(len(bodies))
    ]
    return _placed(levels, bodies, np.eye(3))


def turned_hints(hints: Sequence[str], bodies: Sequence[Mesh], turn: ArrayLike) -> tuple[str, ...]:
    """The same hints along other axes: those of the car, where the engine stands across.

    Parameters
    ----------
    hints : sequence of str [-]
        As `hints_of` gives them.
    bodies : sequence of Mesh [m]
        Their compartments.
    turn : (3, 3) [-]
        About the vertical; takes vectors to axes whose x is the front and whose y is left.

    Returns
    -------
    hints : tuple of str [-]
    """
    levels = [next((w for w in hint.split() if w in ("lower", "upper")), "") for hint in hints]
    return _placed(levels, bodies, np.asarray(turn, dtype=float))


def _placed(levels: Sequence[str], bodies: Sequence[Mesh], turn: Floats) -> tuple[str, ...]:
    if not bodies:
        return ()
    low, high = _box(Mesh(body.vertices @ turn.T, body.faces) for body in bodies)
    hints = []
    for level, body in zip(levels, bodies, strict=True):
        x, y, _ = (turn @ body_centroid(body) - low) / (high - low)
        words = [level, _word(x, "rear", "front"), _word(y, "right", "left")]
        hints.append(" ".join(word for word in words if word))
    return tuple(hints)


def _word(share: float, low: str, high: str) -> str:
    return low if share < _MIDDLE[0] else high if share > _MIDDLE[1] else ""
