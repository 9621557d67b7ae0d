# SPDX-License-Identifier: Apache-2.0
"""What both the proposal and the answer need of job and pan, and what they ask of one height."""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from sumpwright.geometry.solid import solid_of
from sumpwright.job.load import LoadedJob
from sumpwright.job.shop import Cutter, Machine, Shop, StockBlock
from sumpwright.job.split import Split
from sumpwright.metal.material import Material, material
from sumpwright.metal.reach import HeightMap, Tool
from sumpwright.metal.stock import Block, Cut, Held, Size, cut_from, held_by
from sumpwright.metal.weld_access import Access, weld_access
from sumpwright.studies.bodies import Bodies
from sumpwright.studies.compartment import at_rest
from sumpwright.studies.halves_body import PanMetal
from sumpwright.studies.halves_cut import MeshCut, cut_at
from sumpwright.studies.halves_reach import tools_of

Floats = NDArray[np.float64]

HOLDER_LENGTH = 0.06
"""m; of a holder under the spindle's nose, where the job does not say. Common practice, no
source."""


@dataclass(frozen=True, eq=False)
class Making:
    """The pan's metal and the shop."""

    loaded: LoadedJob
    bodies: Bodies
    metal: PanMetal
    body: Any
    """The metal as the boolean library's"""
    split: Split
    machine: Machine
    cutters: tuple[Cutter, ...]
    tools: tuple[Tool, ...]
    stock: tuple[StockBlock, ...]
    """Of the pan's material, each as often as it is there"""
    material: Material
    rest: tuple[Floats, float] | None
    """Up, and the height of the hot full oil at rest; None where the fill is not known"""

    @property
    def units(self) -> str:
        """The job's."""
        return self.loaded.job.units

    def cut(self, height: float) -> MeshCut:
        """The metal parted at a height [m]."""
        return cut_at(self.body, self.metal.mesh, height)

    def blanks(self, cut: MeshCut) -> tuple[Size, Size]:
        """Boxes that the upper and the lower half are milled from."""
        lip = self.split.lip
        stands = [0.0 if lip is None or lip.on != on else lip.height for on in ("upper", "lower")]
        upper = self._blank(cut.upper.bounds, stands[0] + self.split.skim)
        return upper, self._blank(cut.lower.bounds, stands[1])

    def _blank(self, bounds: Floats, more: float) -> Size:
        x, y, z = (float(s) + 2.0 * self.split.allowance for s in np.ptp(bounds, axis=0))
        return x, y, z + more

    def held(self, blank: Size) -> Held:
        """A blank on the machine."""
        machine = self.machine
        tool = max(c.reach for c in self.cutters) + HOLDER_LENGTH
        return held_by(
            blank,
            machine.travel,
            cutter=max(c.diameter for c in self.cutters),
            fixture=machine.fixture,
            tool=tool if machine.tool is None else machine.tool,
            daylight=machine.travel[2] if machine.daylight is None else machine.daylight,
        )

    def cut_from(self, blanks: Sequence[Size]) -> Cut:
        """The blocks that the blanks are sawn from."""
        return cut_from(blanks, [Block(b.name, b.size, b.price) for b in self.stock])

    def over_weld(self, cut: MeshCut) -> Floats | None:
        """(n,) [m] oil over each point of the weld; negative where it is dry."""
        if self.rest is None:
            return None
        up, height = self.rest
        points = np.column_stack([cut.points[0], np.full(len(cut.points[0]), cut.height)])
        return np.asarray(height - points @ up)

    def access(self, cut: MeshCut, upper: HeightMap, lower: HeightMap) -> Access:
        """Room for a torch; the upper half seen from below, the lower from above."""
        return weld_access(upper, lower, *cut.points, cut.height)


def making(loaded: LoadedJob, bodies: Bodies, metal: PanMetal) -> Making:
    """All that is needed; `refuse_lacking` has asked for machine and cutters."""
    job = loaded.job
    split = job.new.split if job.new.split is not None else Split()
    shop = job.shop if job.shop is not None else Shop()
    assert shop.machine is not None
    stock = [b for b in shop.stock if b.material == split.material for _ in range(b.count)]
    return Making(
        loaded=loaded,
        bodies=bodies,
        metal=metal,
        body=solid_of(metal.mesh, what="the pan"),
        split=split,
        machine=shop.machine,
        cutters=shop.cutters,
        tools=tools_of(shop.cutters),
        stock=tuple(stock),
        material=material(split.material),
        rest=at_rest(job, bodies),
    )


def round_mm(height: float) -> float:
    """To a whole millimetre [m]."""
    return math.floor(1e3 * height + 0.5) / 1e3
