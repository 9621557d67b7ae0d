# SPDX-License-Identifier: Apache-2.0
"""An invented job: shapes by booleans of boxes, numbers by hand where the studies would compute.

The oil heights are those of the shapes themselves (bisection of the volume below), so the
pictures are of oil that is really there; the limits in g are made up and prove nothing.
"""

from functools import cache
from typing import Any

import numpy as np

from sumpwright.geometry.frame import Pose, effective_gravity, turning_accel, up_of
from sumpwright.geometry.level import level_body, levels_of
from sumpwright.geometry.mesh import Mesh
from sumpwright.studies.scene import GapField, ObstacleShape, PanShape, Scene, Surface

POSE = Pose(x=1.40, y=0.0, z=0.236, roll=0.0, pitch=np.radians(-2.0))


def _solid(*boxes: tuple[tuple[float, float], ...]) -> Any:
    from manifold3d import Manifold

    total = Manifold()
    for low_high in boxes:
        low, high = np.array(low_high).T
        total += Manifold.cube((high - low).tolist()).translate(low.tolist())
    return total


def _tapered(low: list[float], high: list[float], z: list[float], inset: float) -> Any:
    """A box whose floor is `inset` smaller all round than its top."""
    from manifold3d import Manifold

    (x0, y0), (x1, y1) = low, high
    corners = [(x, y, z[1]) for x in (x0, x1) for y in (y0, y1)]
    corners += [(x, y, z[0]) for x in (x0 + inset, x1 - inset) for y in (y0 + inset, y1 - inset)]
    return Manifold.hull_points(np.array(corners))


def _mesh(solid: Any, size: float = 0.02) -> Mesh:
    data = solid.refine_to_length(size).to_mesh()
    return Mesh(np.asarray(data.vert_properties)[:, :3], np.asarray(data.tri_verts))


def new_cavity(grow: float = 0.0) -> Any:
    """Flat and wide: kick-outs below the rail on both sides."""
    g = grow
    top = _tapered([0.0 - g, -0.115 - g], [0.43 + g, 0.115 + g], [-0.040 - g, 0.0], 0.006)
    low = _tapered([0.05 - g, -0.195 - g], [0.34 + g, 0.180 + g], [-0.100 - g, -0.030 + g], 0.018)
    return top + low


def stock_cavity(grow: float = 0.0) -> Any:
    """Deep at the front, shallow behind."""
    g = grow
    top = _tapered([0.0 - g, -0.115 - g], [0.43 + g, 0.115 + g], [-0.045 - g, 0.0], 0.006)
    low = _tapered([0.25 - g, -0.11 - g], [0.41 + g, 0.11 + g], [-0.172 - g, -0.040], 0.014)
    return top + low


def ring(x: float, y: float, z: float, radius: float = 0.024) -> np.ndarray:
    t = np.linspace(0.0, 2.0 * np.pi, 48, endpoint=False)
    return np.stack([x + radius * np.cos(t), y + radius * np.sin(t), np.full(48, z)], axis=1)


NEW_RIM = ring(0.185, 0.005, -0.090)
STOCK_RIM = ring(0.330, 0.0, -0.160)


def crossmember() -> Mesh:
    beam = _solid(((1.765, 1.835), (-0.42, 0.42), (0.118, 0.165)))
    left = _solid(((1.58, 1.835), (0.1875, 0.42), (0.118, 0.205)))
    right = _solid(((1.58, 1.835), (-0.42, -0.222), (0.118, 0.205)))
    return _mesh(beam + left + right, 0.05)


def rack() -> Mesh:
    from manifold3d import Manifold

    tube = Manifold.cylinder(0.72, 0.023, circular_segments=40).rotate([90, 0, 0])
    return _mesh(tube.translate([1.372, 0.36, 0.158]), 0.05)


def crank() -> Mesh:
    from manifold3d import Manifold

    tube = Manifold.cylinder(0.42, 0.078, circular_segments=72).rotate([0, 90, 0])
    return _mesh(tube.translate([0.02, 0.0, 0.062]), 0.2)


def _gap_field(skin: Mesh, obstacles: list[Mesh]) -> GapField:
    import igl

    points = POSE.to_car(skin.vertices)
    squared = [
        igl.point_mesh_squared_distance(points, np.array(o.vertices), np.array(o.faces))[0]
        for o in obstacles
    ]
    gap = np.sqrt(np.min(squared, axis=0))
    return GapField(gap, np.full(len(gap), 0.010), "engine at rest")


DIRECTIONS = {"accelerate": 0.0, "left": 90.0, "brake": 180.0, "right": 270.0}
OIL = 0.0041
END = 1.6


def height_at(
    body: Any, direction: float, magnitude: float, oil: float
) -> tuple[np.ndarray, float]:
    """Up in the engine frame and the surface's height along it."""
    accel = turning_accel(np.radians(direction), magnitude)
    up = POSE.direction_to_engine(up_of(effective_gravity(accel)))
    return up, float(levels_of(body, up, oil).height[0])


def limit_of(body: Any, rim: np.ndarray, direction: float, oil: float = OIL) -> float:
    """Largest g at which the surface is over the whole rim, by bisection; END at the most."""

    def covered(magnitude: float) -> bool:
        up, height = height_at(body, direction, magnitude, oil)
        return bool(height > (rim @ up).max())

    if covered(END):
        return END
    low, high = 0.0, END
    for _ in range(20):
        middle = 0.5 * (low + high)
        low, high = (middle, high) if covered(middle) else (low, middle)
    return low


def _surfaces(pan: Any, body: Any, rim: np.ndarray) -> list[Surface]:
    found = []
    for way in ("rest", *DIRECTIONS):
        limit = 0.0 if way == "rest" else limit_of(body, rim, DIRECTIONS[way])
        up, height = height_at(body, DIRECTIONS.get(way, 0.0), limit, OIL)
        held = way == "rest" or limit >= END
        found.append(Surface(pan, way, tuple(up.tolist()), height, limit, held))  # type: ignore[arg-type]
    return found


@cache
def sample_scene() -> Scene:
    new, stock = _mesh(new_cavity()), _mesh(stock_cavity())
    skin = _mesh(new_cavity(0.003), 0.008)
    obstacles = [ObstacleShape("Crossmember", crossmember(), True)]
    obstacles.append(ObstacleShape("Steering rack", rack(), False))
    stick = np.array([[0.10, -0.150, 0.30], [0.14, -0.118, -0.098]])
    return Scene(
        pose=POSE,
        new=PanShape("Flat pan with kick-outs", new, skin, NEW_RIM, stick),
        stock=PanShape("Stock pan", stock, _mesh(stock_cavity(0.003)), STOCK_RIM, None),
        obstacles=tuple(obstacles),
        crank=crank(),
        field=_gap_field(skin, [o.mesh for o in obstacles]),
        surfaces=tuple(
            _surfaces("new", level_body(new), NEW_RIM)
            + _surfaces("stock", level_body(stock), STOCK_RIM)
        ),
    )


def bare_scene() -> Scene:
    """A cavity and a fill, nothing else: the least a job can be."""
    full = sample_scene()
    pan = PanShape("Flat pan", full.new.cavity, None, None, None)
    rest = next(s for s in full.surfaces if s.pan == "new" and s.way == "rest")
    return Scene(Pose(), pan, None, (), None, None, (rest,))
