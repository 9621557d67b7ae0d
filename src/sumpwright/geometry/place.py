# SPDX-License-Identifier: Apache-2.0
"""Where on a body something is, in the millimetres a person looks for it with."""

import numpy as np
from numpy.typing import NDArray

from sumpwright.geometry.edge import pieces
from sumpwright.geometry.mesh import Points


def millimetres(length: float) -> str:
    """A length as text, whole millimetres from 10 mm on.

    Parameters
    ----------
    length : float [m]
        Any.

    Returns
    -------
    text : str
        Such as ``112 mm`` or ``0.3 mm``.
    """
    size = length * 1e3
    text = f"{size:.0f}" if abs(size) >= 9.95 else f"{size:.1f}"
    if abs(size) >= 1e9:
        text = f"{size:.1g}"
    return f"{'0' if float(text) == 0.0 else text} mm"


def counted(count: int, one: str, more: str = "") -> str:
    """A number of things as text.

    Parameters
    ----------
    count : int [-]
        How many.
    one : str [-]
        What one of them is called.
    more : str [-]
        What several are called, where an s does not do.

    Returns
    -------
    text : str
        Such as ``1 hole`` or ``3,000 holes``.
    """
    return f"{count:,} {one if count == 1 else more or one + 's'}"


def spot(point: Points) -> str:
    """A point as text.

    Parameters
    ----------
    point : (3,) [m]
        In the file's own axes.

    Returns
    -------
    text : str
        Such as ``x 112 mm, y -40 mm, z -8.0 mm``.
    """
    return ", ".join(f"{axis} {millimetres(v)}" for axis, v in zip("xyz", point, strict=True))


def middle_one(points: Points) -> Points:
    """The one of some points that is nearest their middle, so that it lies on what is meant.

    Parameters
    ----------
    points : (n, 3) [m]
        At least one.

    Returns
    -------
    point : (3,) [m]
    """
    off = np.linalg.norm(points - points.mean(axis=0), axis=1)
    return np.asarray(points[off.argmin()])


def largest_group(ends: NDArray[np.int64], points: Points) -> tuple[int, Points, float]:
    """How many chains some edges form, and the middle and the span of the widest.

    Parameters
    ----------
    ends : (e, 2) [-]
        Vertex numbers of each edge; at least one edge.
    points : (n, 3) [m]
        The vertices.

    Returns
    -------
    groups : int [-]
        Chains of edges that share no vertex.
    middle : (3,) [m]
        Of the box round the widest chain.
    span : float [m]
        Diagonal of that box.
    """
    used, number = np.unique(ends, return_inverse=True)
    label = pieces(number.reshape(-1, 2), len(used))
    order = np.argsort(label, kind="stable")
    first = np.flatnonzero(np.diff(label[order], prepend=-1))
    low = np.minimum.reduceat(points[used[order]], first)
    high = np.maximum.reduceat(points[used[order]], first)
    span = np.linalg.norm(high - low, axis=1)
    widest = int(span.argmax())
    return len(span), 0.5 * (low + high)[widest], float(span[widest])
