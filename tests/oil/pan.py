# SPDX-License-Identifier: Apache-2.0
"""Small pans for the network's tests: boxes with panels, tabulated, with openings put in."""

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from sumpwright.geometry.compartment import Compartments, compartments
from sumpwright.geometry.level import LevelBody, level_body
from sumpwright.geometry.level_table import level_table
from sumpwright.geometry.mesh import Mesh
from sumpwright.geometry.panel import Panel
from sumpwright.geometry.rim import Rim
from sumpwright.oil.door import Door
from sumpwright.oil.drawdown import FLOOR
from sumpwright.oil.network_array import Fluid, Landing, Net
from sumpwright.oil.network_part import hatches_of, mouth_of, pools_of, ways_of
from sumpwright.oil.opening_shape import window
from sumpwright.oil.passage import Passage
from sumpwright.oil.swing import swing_table

Floats = NDArray[np.float64]

G = 9.80665
HOT = Fluid(850.0, 12e-6)
THIN = Fluid(850.0, 1e-9)
"""Oil without friction to speak of, for what textbooks leave out."""


def passages_of(parts: Compartments, doors: dict[str, int] | None = None) -> list[Passage]:
    """Every way of the parts but gaps as a sharp window; `doors` numbers those with a door."""
    numbers = doors or {}
    return [
        Passage(
            f"{k.panel}, {k.opening}",
            k.behind,
            k.ahead,
            window(k.polygon),
            k.centroid,
            door=numbers.get(k.opening, -1),
        )
        for k in parts.links
        if k.kind != "gap"
    ]


def net_of(
    bodies: Sequence[Mesh],
    passages: Sequence[Passage],
    *,
    doors: Sequence[Door] = (),
    fluid: Fluid = HOT,
    rim: Rim | None = None,
    pool: int | None = None,
    shares: Floats | None = None,
) -> Net:
    """A network; oil comes home in equal shares unless said."""
    levels = [level_body(body) for body in bodies]
    even = np.full(len(bodies), 1.0 / len(bodies)) if shares is None else shares
    return Net(
        pools=pools_of(bodies, [level_table(b) for b in levels], [swing_table(b) for b in levels]),
        ways=ways_of(passages),
        hatches=hatches_of(doors, passages),
        mouth=mouth_of(rim, pool, FLOOR),
        fluid=fluid,
        landing=Landing(np.ascontiguousarray(np.broadcast_to(even, (2, 2, len(bodies)))), 1.0),
    )


def boxed(cavity: Mesh, panels: Sequence[Panel], **more: object) -> tuple[Compartments, Net]:
    """A cavity's compartments and their network."""
    parts = compartments(cavity, list(panels))
    return parts, net_of(parts.bodies, passages_of(parts), **more)  # type: ignore[arg-type]


def level_bodies(parts: Compartments) -> list[LevelBody]:
    """Of every compartment."""
    return [level_body(body) for body in parts.bodies]
