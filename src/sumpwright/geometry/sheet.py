# SPDX-License-Identifier: Apache-2.0
"""Panels that lie on one plane: what they cover of it, and their material."""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from sumpwright.geometry.cell import ON_PLANE
from sumpwright.geometry.mesh import Mesh
from sumpwright.geometry.panel import Opening, Panel, rectangle
from sumpwright.geometry.region import MM, Region, inset, region_of
from sumpwright.geometry.section import CutPlane, section_outlines
from sumpwright.geometry.solid import Solid

Floats = NDArray[np.float64]

ONE_PLANE = 1e-5
"""m; planes that part by less than this within the cavity are one."""


@dataclass(frozen=True, eq=False)
class Sheet:
    """One plane of a cavity with the panels on it; flat coordinates are the first panel's."""

    panels: tuple[Panel, ...]
    cavity: Mesh

    @property
    def lead(self) -> Panel:
        """The panel whose normal and flat coordinates are the sheet's."""
        return self.panels[0]

    @property
    def height(self) -> float:
        """The plane is where normal.x is this [m]."""
        return float(self.lead.normal @ self.lead.point)

    @cached_property
    def section(self) -> Region:
        """The cut of the cavity; where a wall lies in the plane, what is just either side of it."""
        off = (self.cavity.vertices - self.lead.point) @ self.lead.normal
        if np.abs(off).min() > ON_PLANE:
            return self._section(0.0)
        return self._section(-2.0 * ON_PLANE) + self._section(2.0 * ON_PLANE)

    @cached_property
    def outlines(self) -> tuple[Region, ...]:
        """What each panel covers, its openings included."""
        return tuple(self._outline(panel) for panel in self.panels)

    @cached_property
    def cover(self) -> Region:
        """What the panels cover together."""
        whole = self.outlines[0]
        for other in self.outlines[1:]:
            whole = whole + other
        return whole

    @cached_property
    def metal(self) -> tuple[Region, ...]:
        """Each panel's outline less its openings."""
        return tuple(
            self._metal(panel, o) for panel, o in zip(self.panels, self.outlines, strict=True)
        )

    def opening(self, panel: Panel, opening: Opening) -> Region:
        """An opening of one of the panels."""
        return region_of([self.lead.flat(panel.space(opening.outline))], even_odd=True)

    def slabs(self) -> list[Solid]:
        """The material of each panel that has a thickness; it may reach out of the cavity.

        A panel of which nothing is left, as one with a gap that lies outside, has none.
        """
        shapes = (
            (inset(self.section, panel.gap) ^ metal if panel.gap else metal, panel)
            for panel, metal in zip(self.panels, self.metal, strict=True)
            if panel.thickness > 0.0
        )
        return [_slab(self.lead, shape, p) for shape, p in shapes if not shape.is_empty()]

    def _section(self, shift: float) -> Region:
        lead = self.lead
        plane = CutPlane(lead.point + shift * lead.normal, lead.normal, lead.basis[0])
        return region_of(section_outlines(self.cavity, plane))

    def _metal(self, panel: Panel, outline: Region) -> Region:
        for opening in panel.openings:
            outline = outline - self.opening(panel, opening)
        return outline

    def _outline(self, panel: Panel) -> Region:
        if panel.outline is not None:
            return region_of([self.lead.flat(panel.space(panel.outline))], even_odd=True)
        flat = self.lead.flat(_box_corners(self.cavity))
        low, high = flat.min(axis=0), flat.max(axis=0)
        width, height = 2.0 * (high - low)  # well clear of the wall
        return region_of([rectangle(0.5 * (low + high), width=width, height=height)])


def sheets_of(panels: Sequence[Panel], cavity: Mesh) -> list[Sheet]:
    """Panels put together by their plane.

    Parameters
    ----------
    panels : sequence of Panel [m]
        Their order does not matter.
    cavity : Mesh [m]
        Within whose bounds planes are compared.

    Returns
    -------
    sheets : list of Sheet [m]
        By the name of their first panel.
    """
    groups: list[list[Panel]] = []
    corners = _box_corners(cavity)
    for panel in sorted(panels, key=lambda p: p.name):
        off = (corners - panel.point) @ panel.normal
        for group in groups:
            other = (corners - group[0].point) @ group[0].normal
            if min(np.abs(off - other).max(), np.abs(off + other).max()) < ONE_PLANE:
                group.append(panel)
                break
        else:
            groups.append([panel])
    return [Sheet(tuple(group), cavity) for group in groups]


def _slab(lead: Panel, region: Region, panel: Panel) -> Solid:
    from manifold3d import Manifold

    raised = Manifold.extrude(region, panel.thickness * MM)
    axes = np.column_stack([*lead.basis, lead.normal]) / MM
    corner = lead.point - 0.5 * panel.thickness * lead.normal
    return raised.transform(np.column_stack([axes, corner]))


def _box_corners(mesh: Mesh) -> Floats:
    pick = np.array([[x, y, z] for x in (0, 1) for y in (0, 1) for z in (0, 1)])
    return np.asarray(mesh.bounds[pick, np.arange(3)])
