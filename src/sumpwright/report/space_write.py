# SPDX-License-Identifier: Apache-2.0
"""Write out/space/ of a job: the free space for other CAD, and its picture; each whole or not."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any

from sumpwright.atomic import write_atomic, write_problem
from sumpwright.errors import InputError
from sumpwright.geometry.cad_layer import joined_layers, layer_solids
from sumpwright.geometry.cad_measure import volume
from sumpwright.geometry.cad_write import step_bytes
from sumpwright.geometry.free_space_skin import layers_of
from sumpwright.report.space_view import space_view
from sumpwright.report.threemf_write import stl_bytes
from sumpwright.studies.space_scene import space_scene, space_skin
from sumpwright.units import shown

if TYPE_CHECKING:
    from sumpwright.studies.space import Spaced

Progress = Callable[[str, float], None]

THICK = 0.005
"""m of a layer"""
SLACK = 2e-4
"""m by which a layer's sides are drawn in to have fewer corners"""
NAME = "free-space"


@dataclass(frozen=True)
class Written:
    """What was written, and what it holds."""

    paths: tuple[Path, ...]
    stl_m3: float
    triangles: int
    spare_m: float
    """Smallest of what the checked places of the skin keep beyond what they must"""
    step_m3: float
    layers: int
    bodies: int
    """In the STEP file; 1 where the kernel could join the layers"""

    def as_json(self) -> dict[str, Any]:
        """Plain dict, SI keys."""
        return {**vars(self), "paths": [str(path) for path in self.paths]}

    def sentences(self, units: str) -> Iterator[str]:
        """What a person wants to know of the files."""
        stl, step = (shown(v, "volume", units) for v in (self.stl_m3, self.step_m3))
        yield f"{NAME}.stl: {self.triangles} triangles, {stl}, nowhere outside the true space."
        share = shown(self.step_m3 / self.stl_m3, "share", units)
        how = "one body" if self.bodies == 1 else f"{self.bodies} bodies, not joined,"
        thick = shown(THICK, "length", units)
        yield f"{NAME}.step: {how} of {self.layers} level layers of {thick}, {step}: {share} of it."


def write_space(spaced: "Spaced", progress: Progress) -> Written:
    """The files in the job's out/space/."""
    skin = space_skin(spaced, progress)
    progress("level layers for CAD", 0.93)
    layers = layers_of(spaced.space, inset=skin.inset, thick=THICK, slack=SLACK)
    solids = layer_solids(layers, lambda share: progress("level layers", 0.93 + 0.03 * share))
    progress("joining the layers", 0.96)
    whole = joined_layers(solids)
    bodies = solids if whole is None else [whole]
    progress("drawing", 0.99)
    files = {
        f"{NAME}.stl": stl_bytes(skin.mesh, NAME),
        f"{NAME}.step": step_bytes(bodies, NAME),
        f"{NAME}.svg": space_view(spaced.result, space_scene(spaced)),
    }
    out = spaced.loaded.folder / "out" / "space"
    try:
        out.mkdir(parents=True, exist_ok=True)
    except OSError as err:
        raise InputError([write_problem(out, err)]) from err
    for name, data in files.items():
        write_atomic(out / name, data)
    return Written(
        paths=tuple(out / name for name in files),
        stl_m3=skin.mesh.volume,
        triangles=len(skin.mesh.faces),
        spare_m=skin.spare,
        step_m3=sum(volume(body) for body in bodies),
        layers=len(layers),
        bodies=len(bodies),
    )
