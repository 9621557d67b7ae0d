# SPDX-License-Identifier: Apache-2.0
r"""A linearly implicit method of order 3 for stiff problems whose Jacobian is only partly known.

.. math:: (I - \gamma h J) k_i = h f(y + \sum_{j<i} \alpha_{ij} k_j)
          + h J \sum_{j<i} \gamma_{ij} k_j, \quad y_1 = y + \sum_i b_i k_i

ROS34PW2: four stages, L-stable, stiffly accurate; order 3 for *any* matrix J, so what is not stiff
may be left out of it; an embedded answer of order 2 tells the error. What a linear invariant of f
and J conserves, such as the oil, it conserves to rounding.

The stages are solved for :math:`u_i = \sum_j \gamma_{ij} k_j`, which needs no product with J:

.. math:: \left(\frac{1}{\gamma h} I - J\right) u_i = f(y + \sum_{j<i} a_{ij} u_j)
          + \frac{1}{h} \sum_{j<i} c_{ij} u_j, \quad y_1 = y + \sum_i m_i u_i
"""

import numpy as np

GAMMA = 0.435866521508459
"""Root of g^3 - 3 g^2 + 3 g / 2 - 1/6."""

ALPHA = np.array(
    [
        [0.0, 0.0, 0.0, 0.0],
        [0.87173304301691801, 0.0, 0.0, 0.0],
        [0.84457060015369423, -0.11299064236484185, 0.0, 0.0],
        [0.0, 0.0, 1.0, 0.0],
    ]
)
"""alpha of [Rang-Angermann-2005]."""

GAMMAS = np.array(
    [
        [GAMMA, 0.0, 0.0, 0.0],
        [-0.87173304301691801, GAMMA, 0.0, 0.0],
        [-0.90338057013044082, 0.054180672388095326, GAMMA, 0.0],
        [0.24212380706095346, -1.2232505839045147, 0.54526025533510214, GAMMA],
    ]
)
"""gamma of the same."""

B = np.array([0.24212380706095346, -1.2232505839045147, 1.5452602553351020, 0.43586652150845900])
B_LOWER = np.array([0.37810903145819369, -0.096042292212423178, 0.5, 0.21793326075422950])
"""Weights of the answer, order 3, and of the embedded one, order 2."""

_INVERSE = np.linalg.inv(GAMMAS)
A = ALPHA @ _INVERSE
C = np.eye(4) / GAMMA - _INVERSE
M = B @ _INVERSE
E = (B - B_LOWER) @ _INVERSE
"""a, c, m and the weights of the error, for stages solved as u."""
NODES = ALPHA.sum(axis=1)
"""Times of the stages, in steps."""
