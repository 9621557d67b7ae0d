# SPDX-License-Identifier: Apache-2.0
"""From a job's baffles to panels: outlines out to the wall, hinges by number, doors by mass."""

from collections.abc import Iterator, Sequence
from dataclasses import replace
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from sumpwright.errors import Finding, Problem
from sumpwright.geometry.cad_face import FlatFace, read_flat_face
from sumpwright.geometry.file_limit import check_file_size
from sumpwright.geometry.frame import Pose
from sumpwright.geometry.mesh import Mesh
from sumpwright.geometry.panel import Door, Opening, Panel, panel_problems, rectangle
from sumpwright.geometry.region import region_area, region_of
from sumpwright.job.baffle import Baffle, BaffleOpening
from sumpwright.oil.door import Door as Leaf
from sumpwright.studies.cache import Entry, file_key, kept
from sumpwright.units import shown

Floats = NDArray[np.float64]

DENSITY = {"steel": 7850.0, "aluminium": 2700.0, "stainless steel": 7900.0}
"""kg/m^3, as handbooks round them; from memory."""
AS_GIVEN = 1e-4
"""m; a sheet whose thickness in the job and in CAD differ by less is one and the same."""


def panel_of(baffle: Baffle, space: Mesh, face: FlatFace | None) -> Panel:
    """The panel that a baffle describes.

    `space` is the oil space it stands in; `face` what was read of its file, engine frame.
    """
    if face is not None:
        windows = (Opening(f"hole {k + 1}", hole) for k, hole in enumerate(face.holes))
        how = baffle.thickness, baffle.gap, tuple(windows)
        return Panel(baffle.name, face.point, face.normal, face.outline, *how)
    assert baffle.at is not None
    assert baffle.normal is not None
    panel = Panel(
        baffle.name,
        np.array(baffle.at),
        np.array(baffle.normal),
        None if baffle.outline is None else np.array(baffle.outline),
        baffle.thickness,
        baffle.gap,
        tuple(_opening(o) for o in baffle.openings),
    )
    if baffle.top is None and baffle.bottom is None:
        return panel
    return replace(panel, outline=_between(baffle, panel, space))


def _between(baffle: Baffle, panel: Panel, space: Mesh) -> Floats:
    """A rectangle from `bottom` to `top` that reaches past every wall of the space."""
    corners = np.array([[x, y, z] for x in (0, 1) for y in (0, 1) for z in (0, 1)])
    flat = panel.flat(space.bounds[corners, np.arange(3)])
    low, high = flat.min(axis=0), flat.max(axis=0)
    low, high = low - 0.5 * (high - low), high + 0.5 * (high - low)
    rise = float(panel.basis[1, 2])
    for k, height in ((0, baffle.bottom), (1, baffle.top)):
        if height is not None:
            (low, high)[k][1] = (height - panel.point[2]) / rise
    return rectangle(0.5 * (low + high), width=high[0] - low[0], height=high[1] - low[1])


def _opening(opening: BaffleOpening) -> Opening:
    if opening.outline is not None:
        outline = np.array(opening.outline, dtype=float)
    else:
        assert opening.width is not None
        assert opening.height is not None
        assert opening.centre is not None
        outline = rectangle(opening.centre, width=opening.width, height=opening.height)
    if opening.door is None or opening.hinge_side is None:
        return Opening(opening.name, outline)
    side = 1 if opening.door.opens == "ahead" else -1
    return Opening(opening.name, outline, Door(opening.hinge_side, side))


def door_of(baffle: Baffle, panel: Panel, opening: Opening) -> Leaf:
    """The flap over an opening, as a rectangle of its length from the hinge and its area."""
    given = next(o.door for o in baffle.openings if o.name == opening.name)
    assert given is not None
    assert opening.door is not None
    start, end = panel.hinge_line(opening)
    along = (end - start) / np.linalg.norm(end - start)
    corners = panel.space(opening.outline) - start
    away = np.cross(panel.normal, along)
    reach = away if (corners @ away).max() > -(corners @ away).min() else -away
    length = float((corners @ reach).max())
    area = region_area(region_of([opening.outline], even_odd=True))
    thickness = given.thickness if given.thickness is not None else baffle.thickness
    density = DENSITY[given.material or baffle.material]
    return Leaf(
        hinge=0.5 * (start + end),
        reach=reach,
        swing=panel.normal * opening.door.side,
        width=area / length,
        length=length,
        thickness=thickness,
        mass=given.mass if given.mass is not None else density * area * thickness,
        stop=given.stop,
        preload=0.0 if given.spring is None else given.spring.preload,
        rate=0.0 if given.spring is None else given.spring.rate,
    )


def face_of(folder: Path, baffle: Baffle, pose: Pose) -> FlatFace:
    """The flat face a baffle is given by, engine frame, kept in the job's cache."""
    assert baffle.face is not None
    path = folder / baffle.face.file
    check_file_size(path)
    face = _face(kept(folder, file_key(path, "flat face"), lambda: _entry(read_flat_face(path))))
    if baffle.face.frame == "engine":
        return face
    return face.moved(pose.rotation.T, pose.to_engine(np.zeros(3)))


def _entry(face: FlatFace) -> Entry:
    arrays = {"outer": face.outer} | {f"inner {k}": hole for k, hole in enumerate(face.inner)}
    said = [(f.code, f.place, f.found, f.repair, f.severity) for f in face.findings]
    return Entry(arrays, [face.thickness, len(face.inner), said])


def _face(entry: Entry) -> FlatFace:
    thickness, holes, said = entry.data
    inner = tuple(entry.arrays[f"inner {k}"] for k in range(holes))
    return FlatFace(entry.arrays["outer"], inner, thickness, tuple(Finding(*f) for f in said))


def thickness_finding(baffle: Baffle, face: FlatFace, units: str) -> Iterator[Finding]:
    """A note where the job and the CAD solid differ on how thick a sheet is."""
    if face.thickness is None or abs(face.thickness - baffle.thickness) < AS_GIVEN:
        return
    assert baffle.face is not None
    drawn, given = (shown(t, "length", units) for t in (face.thickness, baffle.thickness))
    found = f"a solid {drawn} thick; the job's {given} counts, on the plane midway in it"
    yield Finding("GEO-405", f"{baffle.face.file}: baffle '{baffle.name}'", found, "", "note")


def unusable(where: str, panels: Sequence[Panel]) -> list[Problem]:
    """Every reason why panels cannot be used."""
    do = "draw its corners in order, inside the baffle, and apart from one another"
    return [
        Problem("GEO-406", where, text, "baffles and openings that a sheet can have", do)
        for text in panel_problems(panels)
    ]
