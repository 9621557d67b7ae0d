# SPDX-License-Identifier: Apache-2.0
"""Rows of equal state joined into runs, flickers left out."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from sumpwright.logs.log import Floats


@dataclass(frozen=True)
class Run:
    """Rows in one state."""

    state: int
    start: float
    """[s]"""
    end: float
    """[s] of the next run's first row, or of the last row"""
    turned: float | None
    """[rad] size of the change of heading; None where nothing tells it"""

    def is_over(self, angle: float, duration: float) -> bool:
        """Whether it turned through `angle`; where that is not known, lasted `duration`."""
        if self.turned is not None:
            return self.turned >= angle
        return self.end - self.start >= duration


def joined(
    time: Floats, state: NDArray[np.int8], heading: Floats | None, *, shortest: float
) -> list[Run]:
    """Runs of equal state one after another; a run that is too short goes to the one before.

    Parameters
    ----------
    time : (n,) [s]
        Rising strictly.
    state : (n,) [-]
        Any numbers.
    heading : (n,) or None [rad]
        Of the car.
    shortest : float [s]
        A run that lasts less is joined to the run before it; the first to the one behind.

    Returns
    -------
    runs : list of Run [-]
    """
    first = np.concatenate(([0], np.flatnonzero(np.diff(state)) + 1))
    start = time[first]
    long = np.diff(np.append(start, time[-1])) >= shortest
    first = first[long] if long.any() else first[:1]
    kept = state[first]
    new = np.concatenate(([True], np.diff(kept) != 0))
    first = first[new]
    first[0] = 0
    last = np.append(first[1:], len(time) - 1)
    kept = kept[new]
    turned = None if heading is None else np.abs(heading[last] - heading[first])
    return [
        Run(
            int(kept[i]),
            float(time[first[i]]),
            float(time[last[i]]),
            None if turned is None else float(turned[i]),
        )
        for i in range(len(first))
    ]
