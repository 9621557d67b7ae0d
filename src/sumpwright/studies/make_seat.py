# SPDX-License-Identifier: Apache-2.0
"""What the tabs of a baffle lie on: another baffle, the pan, or nothing that the job draws."""

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from sumpwright.geometry.inside import SkinTree
from sumpwright.geometry.panel import Panel
from sumpwright.job.baffle import Baffle
from sumpwright.job.load import LoadedJob
from sumpwright.job.sheet_part import Tab
from sumpwright.metal.bend import setback
from sumpwright.metal.flat_pattern import FlatBend
from sumpwright.metal.material import material
from sumpwright.studies.bodies import Bodies
from sumpwright.studies.sheet_part_result import SheetsResult
from sumpwright.units import shown

Floats = NDArray[np.float64]

PAN = "the pan"
NEAR = 2e-3
"""m; a tab as near as this to another sheet, or to the wall, lies on it; [common-practice]."""
_OUT = {"top": (0.0, 1.0), "bottom": (0.0, -1.0), "start": (-1.0, 0.0), "end": (1.0, 0.0)}


@dataclass(frozen=True, eq=False)
class SeatedOn:
    """A tab, and what it lies on."""

    baffle: Baffle
    name: str
    """Of the tab"""
    tab: Tab
    metal: str
    on: str
    """Name of a baffle, `PAN`, or nothing"""
    on_thickness: float | None
    on_metal: str | None

    def where(self, units: str) -> str:
        """In words."""
        at = f"{self.tab.edge} at {shown(self.tab.at, 'length', units, digits=0)}"
        return f"{self.baffle.name}, {self.name} ({at}), on {self.on or 'what lies there'}"

    @property
    def joins(self) -> bool:
        """Whether the two metals can be welded to each other, as far as the job says."""
        return self.on_metal is None or family(self.metal) == family(self.on_metal)


def family(metal: str) -> str:
    """``steel``, ``stainless steel`` or ``aluminium``."""
    return material(metal).family


def pan_metal_name(loaded: LoadedJob) -> str | None:
    """What the pan is made of; None where the job does not say."""
    shape, split = loaded.job.new.shape, loaded.job.new.split
    if shape is not None and shape.material is not None:
        return shape.material
    return None if split is None else split.material


def seated_on(loaded: LoadedJob, bodies: Bodies, sheets: SheetsResult) -> tuple[SeatedOn, ...]:
    """Every tab of every baffle that is made."""
    panels = {panel.name: panel for panel in bodies.new.panels}
    made = {item.name: item for item in sheets.items if item.kind == "baffle"}
    skin = SkinTree(bodies.new.cavity)
    metals = {name: item.material for name, item in made.items()}
    found = []
    for baffle in loaded.job.new.baffles:
        if baffle.name not in made:
            continue
        bends = {bend.name: bend for bend in made[baffle.name].pattern.bends}
        for number, tab in enumerate(baffle.tabs, 1):
            name = tab.name or f"tab {number}"
            at = face_middle(panels[baffle.name], tab, bends[name])
            others = [p for p in panels.values() if p.name != baffle.name]
            on = next(_sheets_at(at, others), "") or (PAN if _near(skin, at) else "")
            thick, metal = _of(loaded, panels, metals, on)
            found.append(SeatedOn(baffle, name, tab, metals[baffle.name], on, thick, metal))
    return tuple(found)


def face_middle(panel: Panel, tab: Tab, bend: FlatBend) -> Floats:
    """(3,) middle of a tab's outer face, bent [m]."""
    out = np.array(_OUT[tab.edge])
    edge = bend.line.mean(axis=0) + setback(bend.angle, bend.radius, bend.thickness) * out
    side = panel.normal if tab.bends == "ahead" else -panel.normal
    way = np.cos(tab.angle) * (out @ panel.basis) + np.sin(tab.angle) * side
    return np.asarray(panel.space(edge) + 0.5 * tab.flange * way)


def _sheets_at(at: Floats, panels: list[Panel]) -> Iterator[str]:
    from shapely import Point, Polygon

    for panel in panels:
        off = abs(float((at - panel.point) @ panel.normal))
        if off > 0.5 * panel.thickness + NEAR:
            continue
        if panel.outline is None or Polygon(panel.outline).contains(Point(panel.flat(at))):
            yield panel.name


def _near(skin: SkinTree, at: Floats) -> bool:
    return bool(skin.nearest(at[None])[0][0] <= NEAR)


def _of(
    loaded: LoadedJob, panels: dict[str, Panel], metals: dict[str, str], on: str
) -> tuple[float | None, str | None]:
    if on in panels:
        return panels[on].thickness, metals.get(on)
    if on == PAN:
        shape = loaded.job.new.shape
        return (None if shape is None else shape.wall), pan_metal_name(loaded)
    return None, None
