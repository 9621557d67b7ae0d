# SPDX-License-Identifier: Apache-2.0
"""A log's channels on the clock of its pressure, beside what pressure should have been."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]


@dataclass(frozen=True, eq=False)
class Motion:
    """All (n,) and SI; nan where not logged."""

    time: Floats
    pressure: Floats
    speed: Floats
    temperature: Floats
    ax: Floats
    ay: Floats
    expected: Floats
    """Pressure, lag of the engine's speed counted"""
    least_expected: Floats
    """Least of it a moment before and after: below this no shift explains it"""
    low_stage: Floats
    """What is expected where a pump that switches may be in its lower stage; else the same"""
    learnt: Floats
    """Share [-] of the log itself in what is expected; the rest is the rule's"""
    sigma: Floats
    noise: float
    """[Pa] part of `sigma` that is drawn anew each sample"""
    step: float
    """[s] usual spacing"""
    top_speed: float
    """[rad/s] reached in one twentieth of the time; what load is measured by"""
    noise_bend: float
    """[Pa] middle size of second differences of quiet pressure"""
    relief: float | None
    typed: bool
    """Readings by hand: each stands for itself"""
