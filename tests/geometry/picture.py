# SPDX-License-Identifier: Apache-2.0
"""Pictures of discs, drawn from their formula: each element the share of it that is covered."""

import numpy as np
from scipy.ndimage import gaussian_filter

OVER = 8
"""Samples along an element's side."""


def discs(
    high: int,
    wide: int,
    circles: list[tuple[float, float, float]],
    *,
    blur: float = 0.7,
    noise: float = 0.02,
    paper: float = 0.9,
    ink: float = 0.15,
    seed: int = 0,
) -> np.ndarray:
    """A grey picture with a disc for each (x, y, radius), blurred as a lens does, then noisy."""
    grey = np.full((high, wide), paper)
    for x, y, r in circles:
        m = int(r) + 3
        x0, y0, n = int(x) - m, int(y) - m, 2 * m + 1
        fine = (np.arange(n * OVER) + 0.5) / OVER - 0.5
        inside = np.hypot(x0 + fine[None] - x, y0 + fine[:, None] - y) < r
        cover = inside.reshape(n, OVER, n, OVER).mean(axis=(1, 3))
        grey[y0 : y0 + n, x0 : x0 + n] += (ink - paper) * cover
    grey = gaussian_filter(grey, blur)
    grey += np.random.default_rng(seed).normal(0.0, noise, grey.shape)
    return np.clip(grey, 0.0, 1.0).astype(np.float32)
