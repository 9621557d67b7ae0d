# SPDX-License-Identifier: Apache-2.0
"""Compiled rate of change of a network's state, with the part of its Jacobian that is stiff.

The theory is in network.py. The Jacobian holds volumes, retained oil and doors; what the tilt of
a surface does to them is left out, which the integrator allows for.
"""

import math

import numpy as np
from numpy.typing import NDArray

from sumpwright.geometry.kernel import compiled_lean
from sumpwright.oil.door_kernel import door_acceleration_of, open_area_of
from sumpwright.oil.mouth import air_fraction_of
from sumpwright.oil.network_array import Fluid, Landing, Mouth, Net, Ways
from sumpwright.oil.network_surface import Bench, head_at, lay_frame, lay_surfaces, swing
from sumpwright.oil.opening_kernel import opening_flow_of, sunk_flow_of

Floats = NDArray[np.float64]

FILM = 2e-4
"""Share of a pool's room, under which it gives ever less, and nothing when it is empty."""
NUDGE_ANGLE, NUDGE_HEAD = 1e-6, 1e-6
"""rad and m; for a door's slopes by differences."""


@compiled_lean
def rates(net: Net, y: Floats, dy: Floats, jac: Floats, bench: Bench, slopes: bool) -> None:
    """Rate of change of the state under what `drive_at` put on the bench.

    Parameters
    ----------
    net : Net [SI]
    y : (s,) [SI]
        The state, as network_array.py says.
    dy : (s,) [SI]
        Is filled.
    jac : (m, m) [SI]
        Of the first m = n + 1 + 2 d numbers; is filled where `slopes`.
    bench : Bench [SI]
    slopes : bool [-]
        Whether to fill `jac`, and the frame and rates of the swing.
    """
    n, d = net.pools.capacity.shape[0], net.hatches.rows.shape[0]
    f = bench.force
    g = math.sqrt(f[0] * f[0] + f[1] * f[1] + f[2] * f[2])
    for i in range(y.shape[0]):
        dy[i] = 0.0
    if slopes:
        for i in range(jac.shape[0]):
            for j in range(jac.shape[0]):
                jac[i, j] = 0.0
    lay_frame(f, g, bench)
    lay_surfaces(net, y, bench, n + 2 + 2 * d, slopes)
    swing(net, y, dy, bench, n, n + 2 + 2 * d, g)
    _flows(net, y, dy, jac, bench, g, slopes)
    _doors(net, y, dy, jac, bench, slopes)
    _engine(net, y, dy, jac, bench, g, slopes)


@compiled_lean
def _flows(
    net: Net, y: Floats, dy: Floats, jac: Floats, bench: Bench, g: float, slopes: bool
) -> None:
    """Through every passage."""
    ways, n, up = net.ways, net.pools.capacity.shape[0], bench.frame[2]
    for k in range(ways.behind.shape[0]):
        a, b, door = ways.behind[k], ways.ahead[k], ways.door[k]
        share, opens = ways.share[k], 0.0
        if door >= 0:
            row = net.hatches.rows[door]
            share, opens = open_area_of(row, y[n + 1 + door])
            share, opens = share / (row[12] * row[13]), opens / (row[12] * row[13])
        if share <= 0.0:
            continue
        spot = ways.spot[k]
        high, low = head_at(bench, a, spot), head_at(bench, b, spot)
        flow, by_a, by_b, by_share = _passed(ways, k, high, low, up, g, net.fluid.viscosity, share)
        giver = a if flow > 0.0 else b
        film = FILM * net.pools.capacity[giver]
        wet = min(max(y[giver] / film, 0.0), 1.0)
        if slopes:
            by_a *= wet * bench.stretch[a] * bench.stiff[a]
            by_b *= wet * bench.stretch[b] * bench.stiff[b]
            by_share *= wet
            if wet < 1.0:
                if giver == a:
                    by_a += flow / film
                else:
                    by_b += flow / film
        flow *= wet
        dy[a] -= flow
        dy[b] += flow
        if slopes:
            jac[a, a] -= by_a
            jac[b, a] += by_a
            jac[a, b] -= by_b
            jac[b, b] += by_b
            if door >= 0:
                jac[a, n + 1 + door] -= by_share * opens
                jac[b, n + 1 + door] += by_share * opens


@compiled_lean
def _passed(
    ways: Ways,
    k: int,
    high: float,
    low: float,
    up: Floats,
    g: float,
    viscosity: float,
    share: float,
) -> tuple[float, float, float, float]:
    """Flow through one passage and its slopes; where it is dry or all under oil, quickly said."""
    middle, arms, reach = ways.middle[k], ways.arms[k], 0.0
    at = up[0] * middle[0] + up[1] * middle[1] + up[2] * middle[2]
    for arm in range(2):
        reach += abs(up[0] * arms[arm, 0] + up[1] * arms[arm, 1] + up[2] * arms[arm, 2])
    traits, discharge = ways.traits[k], ways.discharge[k]
    if max(high, low) <= at - reach:
        return 0.0, 0.0, 0.0, 0.0
    if min(high, low) >= at + reach:
        return sunk_flow_of(ways.whole[k], traits, high, low, g, viscosity, discharge, share)
    first, last = ways.first[k], ways.first[k + 1]
    corners, areas = ways.corners[first:last], ways.areas[first:last]
    return opening_flow_of(corners, areas, traits, high, low, up, g, viscosity, discharge, share)


@compiled_lean
def _doors(net: Net, y: Floats, dy: Floats, jac: Floats, bench: Bench, slopes: bool) -> None:
    """How every door turns."""
    n, d = net.pools.capacity.shape[0], net.hatches.rows.shape[0]
    for k in range(d):
        row, angle, speed = net.hatches.rows[k], y[n + 1 + k], y[n + 1 + d + k]
        a, b = net.hatches.behind[k], net.hatches.ahead[k]
        high = head_at(bench, a, net.hatches.spot[k])
        low = head_at(bench, b, net.hatches.spot[k])
        turn = _turn(row, angle, speed, high, low, bench, net.fluid)
        i, j = n + 1 + k, n + 1 + d + k
        dy[i], dy[j] = speed, turn
        if not slopes:
            continue
        jac[i, j] = 1.0
        if turn == 0.0:
            continue
        step = NUDGE_ANGLE * (1.0 + abs(speed))
        more = _turn(row, angle + NUDGE_ANGLE, speed, high, low, bench, net.fluid)
        jac[j, i] = (more - turn) / NUDGE_ANGLE
        more = _turn(row, angle, speed + step, high, low, bench, net.fluid)
        jac[j, j] = (more - turn) / step
        more = _turn(row, angle, speed, high + NUDGE_HEAD, low, bench, net.fluid)
        jac[j, a] += (more - turn) / NUDGE_HEAD * bench.stretch[a] * bench.stiff[a]
        more = _turn(row, angle, speed, high, low + NUDGE_HEAD, bench, net.fluid)
        jac[j, b] += (more - turn) / NUDGE_HEAD * bench.stretch[b] * bench.stiff[b]


@compiled_lean
def _turn(
    row: Floats,
    angle: float,
    speed: float,
    high: float,
    low: float,
    bench: Bench,
    fluid: Fluid,
) -> float:
    """Angular acceleration of a door in the stream that passes it.

    Window and curtain are two openings in line (door.py): the window takes the square of the open
    share of the difference of level, and the door bears the rest.
    """
    share = min(open_area_of(row, angle)[0] / (row[12] * row[13]), 1.0)
    rest = 1.0 - share * share
    up, middle, lean, across = bench.frame[2], 0.0, 0.0, 0.0
    for k in range(3):
        middle += up[k] * (row[k] + 0.5 * row[13] * row[6 + k])
        lean += up[k] * row[6 + k]
        across += up[k] * row[3 + k]
    foot = middle - 0.5 * (abs(lean) * row[13] + abs(across) * row[12])
    under = max(min(high, low), foot)  # oil that lies lower than the door does not press on it
    if high > under:
        high = under + rest * (high - under)
    if low > under:
        low = under + rest * (low - under)
    rho, nu = fluid.density, fluid.viscosity
    return door_acceleration_of(row, angle, speed, high, low, bench.down, rho, nu)


@compiled_lean
def _engine(
    net: Net, y: Floats, dy: Floats, jac: Floats, bench: Bench, g: float, slopes: bool
) -> None:
    """The pump draws from the pickup's pool; what is up in the engine comes home."""
    n, d = net.pools.capacity.shape[0], net.hatches.rows.shape[0]
    flow, rate = bench.said[2], bench.said[3]
    _shares(net.landing, bench.frame[2], bench.landing)
    home = y[n] * rate
    dy[n] -= home
    for i in range(n):
        dy[i] += bench.landing[i] * home
    bench.said[0], bench.said[1] = 0.0, 0.0
    pool = net.mouth.pool
    if pool >= 0:
        least, most = _covers(net.mouth, bench, pool)
        needed = net.mouth.drawdown * (flow * flow / g) ** 0.2
        air, by_head = air_fraction_of(least, most, needed)
        bench.said[0], bench.said[1] = least - needed, air
        dy[pool] -= flow * (1.0 - air)
        dy[n] += flow * (1.0 - air)
        dy[n + 1 + 2 * d] = flow * air
        if slopes:
            drawn = -flow * by_head * bench.stretch[pool] * bench.stiff[pool]
            jac[pool, pool] -= drawn
            jac[n, pool] += drawn
    if slopes:
        jac[n, n] -= rate
        for i in range(n):
            jac[i, n] += bench.landing[i] * rate


@compiled_lean
def _covers(mouth: Mouth, bench: Bench, pool: int) -> tuple[float, float]:
    """Least and most oil over the rim, along up, under a surface that may lean."""
    v, least, most = bench.normal[pool], math.inf, -math.inf
    for k in range(mouth.corners.shape[0]):
        x = mouth.corners[k]
        over = bench.height[pool] - (v[0] * x[0] + v[1] * x[1] + v[2] * x[2])
        least, most = min(least, over), max(most, over)
    lean = v[0] * mouth.axis[0] + v[1] * mouth.axis[1] + v[2] * mouth.axis[2]
    reach = mouth.radius * math.sqrt(max(1.0 - lean * lean, 0.0))
    return (least - reach) * bench.stretch[pool], (most + reach) * bench.stretch[pool]


@compiled_lean
def _shares(landing: Landing, up: Floats, out: Floats) -> None:
    """Share of the returns of each pool, straight between the table's directions."""
    size = landing.shares.shape[0]
    w = 1.0 / max(1.0 + up[2], 1e-9)
    scale = (size - 1) / (2.0 * landing.side)
    x = min(max((up[0] * w + landing.side) * scale, 0.0), size - 1.000001)
    z = min(max((up[1] * w + landing.side) * scale, 0.0), size - 1.000001)
    i, j = int(x), int(z)
    x, z = x - i, z - j
    for k in range(out.shape[0]):
        out[k] = (1.0 - x) * (
            (1.0 - z) * landing.shares[i, j, k] + z * landing.shares[i, j + 1, k]
        ) + x * ((1.0 - z) * landing.shares[i + 1, j, k] + z * landing.shares[i + 1, j + 1, k])
