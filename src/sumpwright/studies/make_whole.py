# SPDX-License-Identifier: Apache-2.0
"""The pan whole, before it is parted: metal, outside and inside, as solids or as triangles."""

from dataclasses import dataclass
from typing import Any

from sumpwright.geometry.mesh import Mesh
from sumpwright.job.load import LoadedJob
from sumpwright.studies.bodies import Bodies
from sumpwright.studies.halves import Halved
from sumpwright.studies.halves_body import PanMetal, pan_metal


@dataclass(frozen=True, eq=False)
class WholeBody:
    """A body of the pack."""

    key: str
    """Its file's name without ending"""
    solid: Any | None
    """The kernel's [mm]; None of what came as triangles"""
    mesh: Mesh


def whole_pan(loaded: LoadedJob, bodies: Bodies, halved: Halved | None) -> tuple[WholeBody, ...]:
    """Metal, outside and inside; the inside alone where the job has no outside."""
    new = bodies.new
    if new.outside is None:
        return (WholeBody("pan-cavity", None, new.cavity),)
    metal: PanMetal = pan_metal(loaded, bodies) if halved is None else halved.metal
    outside, cavity = (None, None) if metal.whole is None else metal.whole
    return (
        WholeBody("pan", metal.solid, metal.mesh),
        WholeBody("pan-outside", outside, new.outside),
        WholeBody("pan-cavity", cavity, new.cavity),
    )
