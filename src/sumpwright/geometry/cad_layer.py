# SPDX-License-Identifier: Apache-2.0
"""Level layers as solids of the CAD kernel: one terraced body where it can be joined."""

from collections.abc import Callable, Sequence
from typing import Any

from sumpwright.errors import SolveError
from sumpwright.geometry.cad_measure import Solid, single, sound, volume
from sumpwright.geometry.cad_solid import less, prism
from sumpwright.geometry.free_space_skin import Layer
from sumpwright.geometry.profile import polygon_profile
from sumpwright.geometry.region import outlines_of

FUZZ = (1e-3, 1e-2)
"""mm; a hundredth is a tenth of what sides are drawn in by at least"""
SAME = 1e-4
"""Share by which the joined body's volume may differ from its layers'; beyond, it is not used."""


def layer_solids(layers: Sequence[Layer], tell: Callable[[float], None]) -> list[Solid]:
    """Every layer as prisms.

    Parameters
    ----------
    layers : sequence of Layer [m]
        From the top.
    tell : callable [-]
        Told the finished share.

    Returns
    -------
    solids : list of Solid [mm]
        From the top.
    """
    made = []
    for k, layer in enumerate(layers):
        for part in layer.region.decompose():
            loops = sorted(outlines_of(part), key=lambda loop: -abs(polygon_profile(loop).area))
            holes = [
                prism(polygon_profile(loop[::-1]), layer.bottom - 1e-3, layer.top + 1e-3)
                for loop in loops[1:]
            ]
            outer = prism(polygon_profile(loops[0]), layer.bottom, layer.top)
            made.append(less(outer, holes) if holes else outer)
        tell((k + 1) / len(layers))
    return made


def joined_layers(solids: Sequence[Solid]) -> Solid | None:
    """The layers as one body; None where the kernel does not bring that about.

    Parameters
    ----------
    solids : sequence of Solid [mm]
        Stacked.

    Returns
    -------
    solid : Solid or None [mm]
    """
    want = sum(volume(solid) for solid in solids)
    for within in FUZZ:
        try:
            whole = sound(single(_fused(solids, within)), "layers")
        except SolveError:
            continue
        if abs(volume(whole) - want) <= SAME * want:
            return whole
    return None


def _fused(solids: Sequence[Solid], within: float) -> Any:
    """Solids that lie on one another, corners taken as one `within` so many millimetres.

    Walls of neighbouring layers that part by a micrometre are more than the kernel takes exactly.
    """
    from OCP.BRepAlgoAPI import BRepAlgoAPI_Fuse
    from OCP.collections import List_TopoDS_Shape
    from OCP.ShapeUpgrade import ShapeUpgrade_UnifySameDomain

    whole = solids[0]
    for solid in solids[1:]:
        joint, sides = BRepAlgoAPI_Fuse(), []
        for shape in (whole, solid):
            side = List_TopoDS_Shape()
            side.Append(shape)
            sides.append(side)
        joint.SetArguments(sides[0])
        joint.SetTools(sides[1])
        joint.SetFuzzyValue(within)
        joint.Build()
        whole = joint.Shape()
    tidy = ShapeUpgrade_UnifySameDomain(whole, True, True, False)
    tidy.Build()
    return tidy.Shape()
