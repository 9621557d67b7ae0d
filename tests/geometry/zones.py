# SPDX-License-Identifier: Apache-2.0
"""Zones and pans in numbers for tests."""

import numpy as np

from sumpwright.geometry.pan_form import BossForm, HoleForm, PanForm, ReliefForm
from sumpwright.geometry.profile import polygon_profile, rounded_profile
from sumpwright.geometry.zone import Slope, ZoneForm

BOX = ((0.0, 0.0), (0.3, 0.0), (0.3, 0.2), (0.0, 0.2))
FLAT = Slope(-0.1)


def zone(
    corners: object = BOX,
    *,
    floor: Slope = FLAT,
    roof: Slope | None = None,
    lean: float = 0.0,
    radius: float = 0.0,
    floor_radius: float = 0.0,
    name: str = "well",
) -> ZoneForm:
    """Straight sides, drawn at the rail or at the roof's highest point."""
    outline = polygon_profile(corners)
    count = len(outline.points)
    level = 0.0 if roof is None else float(roof.at(outline.points).max())
    leans, radii = np.full(count, lean), np.full(count, radius)
    return ZoneForm(name, outline, level, leans, radii, floor, roof, floor_radius)


def pan(*zones: ZoneForm, **more: object) -> PanForm:
    """A pan of 3 mm walls, 4 mm floors, and an 8 mm flange that stands out 20 mm."""
    edge = rounded_profile([[-0.02, -0.02], [0.32, -0.02], [0.32, 0.22], [-0.02, 0.22]], [0.01] * 4)
    given = {"zones": zones or (zone(radius=0.01, floor_radius=0.01),), "wall": 0.003}
    return PanForm(**{**given, "floor": 0.004, "edge": edge, "flange": 0.008, **more})


def hole(x: float, y: float, name: str = "1") -> HoleForm:
    """A 6.6 mm hole."""
    return HoleForm(name, np.array([x, y]), 0.0033)


def plug(x: float, y: float, z: float, out: tuple[float, float, float], height: float) -> BossForm:
    """A boss of 24 mm with a 12.5 mm hole."""
    spot, way = np.array([x, y, z]), np.array(out)
    return BossForm("plug", spot, way / np.linalg.norm(way), 0.012, height, 0.00625)


def sweep(height: float, radius: float) -> ReliefForm:
    """Crank and rods along the pan's middle."""
    return ReliefForm(np.array([0.05, 0.1, height]), np.array([0.25, 0.1, height]), radius)
