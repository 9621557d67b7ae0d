# SPDX-License-Identifier: Apache-2.0
"""Many solids cut from one, or joined, in one go of the CAD kernel: quicker than one by one."""

from collections.abc import Sequence
from typing import Any

from sumpwright.errors import SolveError
from sumpwright.geometry.cad_measure import Solid, single, sound


def less_many(solid: Solid, others: Sequence[Solid]) -> Solid:
    """A solid without what others cut out of it; one piece must be left.

    Whether it is sound is the caller's to ask: each asking integrates the whole body.

    Parameters
    ----------
    solid : Solid [mm]
        What is cut.
    others : sequence of Solid [mm]
        What cuts; may be none.

    Returns
    -------
    solid : Solid [mm]
    """
    from OCP.BRepAlgoAPI import BRepAlgoAPI_Cut

    return _done(BRepAlgoAPI_Cut(), [solid], others) if others else solid


def fused_many(solids: Sequence[Solid]) -> Solid:
    """Solids that overlap or touch, as one.

    Parameters
    ----------
    solids : sequence of Solid [mm]
        At least one.

    Returns
    -------
    solid : Solid [mm]
    """
    from OCP.BRepAlgoAPI import BRepAlgoAPI_Fuse
    from OCP.ShapeUpgrade import ShapeUpgrade_UnifySameDomain

    if len(solids) == 1:
        return solids[0]
    whole = _done(BRepAlgoAPI_Fuse(), solids[:1], solids[1:])
    tidy = ShapeUpgrade_UnifySameDomain(whole, True, True, False)
    tidy.Build()
    return sound(single(tidy.Shape()), "joined body")


def _done(way: Any, solids: Sequence[Solid], tools: Sequence[Solid]) -> Solid:
    from OCP.collections import List_TopoDS_Shape

    both = List_TopoDS_Shape(), List_TopoDS_Shape()
    for found, given in zip(both, (solids, tools), strict=True):
        for one in given:
            found.Append(one)
    way.SetArguments(both[0])
    way.SetTools(both[1])
    way.SetUseOBB(True)  # boxes that lie along the faces: fewer that only seem to meet are cut
    way.Build()
    if not way.IsDone():
        raise SolveError("the CAD kernel could not put the bodies together")
    return single(way.Shape())
