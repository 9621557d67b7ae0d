# SPDX-License-Identifier: Apache-2.0
"""The linearly implicit method's coefficients against what makes it order 3 for any matrix.

Source: order conditions of W-methods, Hairer & Wanner, Solving Ordinary Differential Equations II,
section IV.7 (from memory); coefficients [Rang-Angermann-2005].
"""

import numpy as np
import pytest

from sumpwright.oil.rosenbrock import ALPHA, B_LOWER, GAMMA, GAMMAS, NODES, A, B, C, E, M

DIGITS = 4e-15  # coefficients have 17 printed digits; sums of a few of size 1

SUM_A, SUM_G = ALPHA.sum(axis=1), GAMMAS.sum(axis=1)
ORDER_3 = {
    "1": (np.ones(4), 1.0),
    "a": (SUM_A, 1 / 2),
    "g": (SUM_G, 0.0),
    "a a": (SUM_A**2, 1 / 3),
    "A a": (ALPHA @ SUM_A, 1 / 6),
    "A g": (ALPHA @ SUM_G, 0.0),
    "G a": (GAMMAS @ SUM_A, 0.0),
    "G g": (GAMMAS @ SUM_G, 0.0),
}


@pytest.mark.parametrize("name", ORDER_3)
def test_meets_every_condition_of_order_3_for_any_matrix(name: str) -> None:
    vector, wanted = ORDER_3[name]
    assert B @ vector == pytest.approx(wanted, abs=DIGITS)


@pytest.mark.parametrize("name", ["1", "a", "g"])
def test_the_embedded_answer_meets_those_of_order_2(name: str) -> None:
    vector, wanted = ORDER_3[name]
    assert B_LOWER @ vector == pytest.approx(wanted, abs=DIGITS)


def test_the_embedded_answer_differs_at_order_3_so_it_tells_an_error() -> None:
    assert abs(B_LOWER @ SUM_A**2 - 1 / 3) > 0.05


def test_gamma_is_the_root_that_makes_the_method_l_stable() -> None:
    assert pytest.approx(0.0, abs=DIGITS) == GAMMA**3 - 3 * GAMMA**2 + 1.5 * GAMMA - 1 / 6


def test_is_stiffly_accurate() -> None:
    np.testing.assert_allclose(ALPHA[3] + GAMMAS[3], B, rtol=0, atol=DIGITS)


def test_the_stages_without_products_give_the_same_step() -> None:
    """One step of a linear system, by the book and in the form that is compiled."""
    rng = np.random.default_rng(3)
    matrix, other = rng.normal(size=(2, 5, 5))
    y, h = rng.normal(size=5), 0.2
    k = np.zeros((4, 5))
    left = np.eye(5) - h * GAMMA * other
    for i in range(4):
        right = h * matrix @ (y + ALPHA[i] @ k) + h * other @ (GAMMAS[i, :i] @ k[:i])
        k[i] = np.linalg.solve(left, right)
    u = np.zeros((4, 5))
    for i in range(4):
        right = matrix @ (y + A[i] @ u) + C[i, :i] @ u[:i] / h
        u[i] = np.linalg.solve(np.eye(5) / (GAMMA * h) - other, right)
    np.testing.assert_allclose(y + M @ u, y + B @ k, rtol=1e-12)  # two orders of the same sums
    np.testing.assert_allclose(E @ u, (B - B_LOWER) @ k, atol=1e-13)  # the same


def advanced(steps: int, known: float) -> float:
    """y' = cos 3t - y^2 from 1 to t = 2, the matrix `known` times what it should be."""
    y, h = 1.0, 2.0 / steps
    for n in range(steps):
        u = np.zeros(4)
        for i in range(4):
            rate = np.cos(3.0 * h * (n + NODES[i])) - (y + A[i] @ u) ** 2
            u[i] = (rate + C[i, :i] @ u[:i] / h) / (1.0 / (GAMMA * h) + known * 2.0 * y)
        y += M @ u
    return float(y)


@pytest.mark.parametrize("known", [1.0, 2.0, 0.0], ids=["right", "twice too large", "left out"])
def test_converges_with_order_3_though_the_matrix_is_wrong(known: float) -> None:
    from scipy.integrate import solve_ivp

    exact = solve_ivp(
        lambda t, y: np.cos(3.0 * t) - y**2, (0.0, 2.0), [1.0], rtol=1e-12, atol=1e-13
    ).y[0, -1]
    errors = [abs(advanced(n, known) - exact) for n in (160, 320, 640)]
    orders = np.log2(np.array(errors[:-1]) / errors[1:])
    np.testing.assert_allclose(orders, 3.0, atol=0.1)  # house rule for solvers
