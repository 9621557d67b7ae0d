# SPDX-License-Identifier: Apache-2.0
"""Level layers as solids of the CAD kernel: one terraced body where it can be joined."""

from collections.abc import Callable, Sequence

from sumpwright.errors import SolveError
from sumpwright.geometry.cad_measure import Solid, volume
from sumpwright.geometry.cad_solid import fused, less, prism
from sumpwright.geometry.free_space_skin import Layer
from sumpwright.geometry.profile import polygon_profile
from sumpwright.geometry.region import outlines_of

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
    try:
        whole = fused(solids)
    except SolveError:
        return None
    want = sum(volume(solid) for solid in solids)
    return whole if abs(volume(whole) - want) <= SAME * want else None
