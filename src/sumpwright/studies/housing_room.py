# SPDX-License-Identifier: Apache-2.0
"""How near a body in the pan comes to floor and walls, baffles, and the swing of their doors."""

import math
from collections.abc import Iterator

import numpy as np
from numpy.typing import NDArray

from sumpwright.geometry.edge import welded
from sumpwright.geometry.mesh import Mesh
from sumpwright.geometry.sheet import sheets_of
from sumpwright.geometry.solid import Solid, solid_of
from sumpwright.job.pan import Pan
from sumpwright.oil.door import Door
from sumpwright.studies.baffle import door_of
from sumpwright.studies.bodies import PanBodies
from sumpwright.studies.housing_result import Room

Floats = NDArray[np.float64]

LOOKED = 0.02
"""m; gaps wider than this are not told apart."""
NOTHING = 1e-9
"""m^3; a cubic millimetre shared is rounding of the meshes."""
_STEP = math.radians(3.0)


def rooms_of(pan: Pan, body: PanBodies, thing: Mesh) -> Iterator[Room]:
    """The gap to everything that a body in the pan may strike, nearest kinds first."""
    own = solid_of(welded(thing), what="the body")
    space = solid_of(welded(body.oil_space), what="the cavity")
    low, high = body.oil_space.bounds
    block = _box(low - LOOKED, high + LOOKED)
    yield _room("floor and walls", own, block - space)
    for panel, baffle in zip(body.panels, pan.baffles, strict=True):
        slabs = [s for sheet in sheets_of([panel], body.oil_space) for s in sheet.slabs()]
        for slab in slabs:
            yield _room(f"baffle '{panel.name}'", own, slab)
        for opening in panel.openings:
            if opening.door is not None:
                swing = _swing(door_of(baffle, panel, opening))
                yield _room(f"swing of '{opening.name}' of {panel.name}", own, swing)


def _room(what: str, own: Solid, other: Solid) -> Room:
    shared = float((own ^ other).volume())
    gap = 0.0 if shared > NOTHING else float(own.min_gap(other, LOOKED))
    return Room(what, None if gap >= LOOKED else gap, max(shared, 0.0))


def _box(low: Floats, high: Floats) -> Solid:
    from manifold3d import Manifold

    return Manifold.cube((high - low).tolist()).translate(low.tolist())


def _swing(door: Door) -> Solid:
    """All that a door sweeps, from shut to its stop; its thickness on both sides."""
    from manifold3d import CrossSection, JoinType

    count = max(math.ceil(door.stop / _STEP), 1)
    angle = door.stop * np.arange(count + 1) / count
    reach = door.length / math.cos(0.5 * door.stop / count)  # outside its arc
    fan = reach * np.stack([np.cos(angle), np.sin(angle)], axis=1)
    flat = CrossSection([np.concatenate([[[0.0, 0.0]], fan])]).offset(
        door.thickness, JoinType.Miter
    )
    along = np.cross(door.reach, door.swing)
    start = door.hinge - 0.5 * door.width * along
    return flat.extrude(door.width).transform(
        np.column_stack([door.reach, door.swing, along, start])
    )
