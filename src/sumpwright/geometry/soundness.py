# SPDX-License-Identifier: Apache-2.0
"""Whether a mesh encloses a volume that can be trusted, with numbers and places where not."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from sumpwright.errors import Finding, RangeError
from sumpwright.geometry.mesh import Mesh
from sumpwright.geometry.nesting import MAX_BODIES, counted_times
from sumpwright.geometry.overlap import self_overlaps
from sumpwright.geometry.place import counted, largest_group, middle_one, millimetres, spot
from sumpwright.geometry.skin import Numbers, Skin, skin_of

SMALLEST, LARGEST = 2e-3, 50.0
"""A body outside these lengths [m] is in the wrong unit; common practice, no source."""
LARGEST_HOLE = 0.01
"""Widest hole that a repair offers to close [m]; common practice, no source."""
_FLAT = 1e-12  # height over longest side below which a triangle has no area worth the name


@dataclass(frozen=True)
class Soundness:
    """What was counted, and what of it a person must know."""

    watertight: bool
    """Every edge is met by an even number of triangles: no holes."""
    inside_out: bool
    """Some closed skin faces the wrong way, or the whole mesh has a negative volume."""
    bodies: int
    """Connected skins; a void inside a body counts as one."""
    open_edges: int
    """Edges met by one triangle only."""
    nonmanifold_edges: int
    """Edges met by three or more triangles."""
    flipped_faces: int
    """Triangles that face against most of their own skin."""
    duplicate_faces: int
    """Second and further copies of a triangle."""
    degenerate_faces: int
    """Triangles with a repeated corner or without area."""
    self_overlaps: int | None
    """Pairs of triangles that run through each other; None where they were not looked for."""
    findings: tuple[Finding, ...]

    @property
    def sound(self) -> bool:
        """Whether volumes of this mesh can be trusted: no finding is an error."""
        return all(f.severity != "error" for f in self.findings)


def soundness(mesh: Mesh, *, overlaps: bool = True) -> Soundness:
    """Everything that would make a volume of this mesh wrong.

    Parameters
    ----------
    mesh : Mesh [m]
        With at least one triangle.
    overlaps : bool [-]
        Whether to look for triangles that run through each other, the slowest of the checks.

    Returns
    -------
    soundness : Soundness [m]
    """
    skin = skin_of(mesh)
    turned, one_sided = skin.turned
    crossing, not_looked = _crossings(mesh, overlaps)
    bodies, times = counted_times(skin)
    inside_out = bool((times < 1).any()) or (not skin.closed.all() and mesh.volume < 0.0)
    flat = _flat(skin.mesh)
    findings = [
        *_size(mesh),
        *_open_edges(skin),
        *_crowded_edges(skin),
        *_turned(skin, turned, one_sided),
        *(_wrong_way(skin, bodies[times < 1], inside_out) if not turned.any() else ()),
        *_counted_twice(skin, bodies[times > 1]),
        *_not_judged(skin, bodies),
        *_copies(skin),
        *_degenerate(skin, flat),
        *_overlapping(mesh, crossing),
        *not_looked,
    ]
    return Soundness(
        watertight=bool((skin.edge_counts % 2 == 0).all()),
        inside_out=inside_out,
        bodies=skin.bodies,
        open_edges=int((skin.edge_counts == 1).sum()),
        nonmanifold_edges=int((skin.edge_counts > 2).sum()),
        flipped_faces=int(turned.sum()),
        duplicate_faces=len(skin.copies),
        degenerate_faces=int(flat.sum()) + skin.repeated,
        self_overlaps=None if crossing is None else len(crossing),
        findings=tuple(findings),
    )


def _crossings(mesh: Mesh, wanted: bool) -> tuple[Numbers | None, list[Finding]]:
    if not wanted:
        return None, []
    try:
        return self_overlaps(mesh), []
    except RangeError as err:
        return None, [
            Finding("GEO-311", "the whole mesh", f"not looked for overlaps: {err}", "", "note")
        ]


def _flat(mesh: Mesh) -> NDArray[np.bool_]:
    """(m,) triangles whose height is nothing against their longest side."""
    sides = mesh.corners - np.roll(mesh.corners, -1, axis=1)
    length = np.einsum("ijk,ijk->ij", sides, sides)
    longest = np.maximum(np.maximum(length[:, 0], length[:, 1]), length[:, 2])
    twice_area = 2.0 * np.linalg.norm(mesh.area_vectors, axis=1)
    return np.asarray(twice_area <= _FLAT * longest)


def _size(mesh: Mesh) -> list[Finding]:
    size = float((mesh.bounds[1] - mesh.bounds[0]).max())
    if SMALLEST <= size <= LARGEST:
        return []
    found = f"a body {millimetres(size)} long; its unit is likely wrong"
    return [Finding("GEO-312", f"near {spot(mesh.bounds.mean(axis=0))}", found, "")]


def _open_edges(skin: Skin) -> list[Finding]:
    halves = skin.halves_of(skin.edge_counts == 1)
    if not len(halves):
        return []
    holes, middle, span = largest_group(skin.half_edges[halves], skin.mesh.vertices)
    return [
        Finding(
            "GEO-301",
            f"{counted(len(halves), 'open edge')} near {spot(middle)}",
            f"the skin has {counted(holes, 'hole')}, the widest {millimetres(span)} across",
            f"close holes up to {millimetres(LARGEST_HOLE)} across" if span <= LARGEST_HOLE else "",
        )
    ]


def _crowded_edges(skin: Skin) -> list[Finding]:
    """Edges of three or more triangles: contact where they pair up, a fault where they do not."""
    found = []
    crowded, even = skin.edge_counts > 2, skin.balance == 0
    for edges, code, text, severity in (
        (crowded & ~even, "GEO-302", "inner walls or stray triangles hang on the skin", "error"),
        (crowded & even, "GEO-303", "bodies touch there, or one body touches itself", "note"),
    ):
        halves = skin.halves_of(edges)
        if len(halves):
            _, middle, _ = largest_group(skin.half_edges[halves], skin.mesh.vertices)
            many = counted(int(edges.sum()), "edge")
            place = f"{many} of three or more triangles near {spot(middle)}"
            found.append(Finding(code, place, text, "", severity))
    return found


def _turned(skin: Skin, turned: NDArray[np.bool_], one_sided: int) -> list[Finding]:
    found = []
    if turned.any():
        place = f"{counted(int(turned.sum()), 'triangle')} {_near(skin, turned)}"
        text = "they face against the skin round them"
        found.append(Finding("GEO-304", place, text, "turn them to face as the rest does"))
    if one_sided:
        text = f"{counted(one_sided, 'skin')} of one side only, as a Moebius band"
        found.append(Finding("GEO-305", "the whole skin", text, ""))
    return found


def _wrong_way(skin: Skin, bodies: Numbers, inside_out: bool) -> list[Finding]:
    if not inside_out:
        return []
    chosen = np.isin(skin.labels, bodies) if len(bodies) else np.ones(len(skin.labels), dtype=bool)
    place = f"{counted(max(len(bodies), 1), 'skin')} {_near(skin, chosen)}"
    return [Finding("GEO-306", place, "inside out: it faces inward", "turn it outward")]


def _counted_twice(skin: Skin, bodies: Numbers) -> list[Finding]:
    if not len(bodies):
        return []
    place = f"{counted(len(bodies), 'skin')} {_near(skin, np.isin(skin.labels, bodies))}"
    text = "it lies inside another body and faces outward, so its volume counts twice"
    return [Finding("GEO-307", place, text, "")]


def _not_judged(skin: Skin, bodies: Numbers) -> list[Finding]:
    left = int(skin.closed.sum()) - len(bodies)
    if not left:
        return []
    text = f"more skins than are judged for lying in one another ({MAX_BODIES})"
    return [Finding("GEO-313", f"the {left:,} smallest skins", text, "", "note")]


def _copies(skin: Skin) -> list[Finding]:
    if not len(skin.copies):
        return []
    copied = np.zeros(len(skin.labels), dtype=bool)
    copied[skin.copies] = True
    whole = np.bincount(skin.labels, copied) == np.bincount(skin.labels)
    place = f"{counted(len(skin.copies), 'triangle')} {_near(skin, copied)}"
    text = f"{counted(int(whole.sum()), 'whole body', 'whole bodies')} in the file more than once"
    if not whole.any():
        text = "the same triangles are in the file more than once"
    return [Finding("GEO-308", place, text, "drop the further copies")]


def _degenerate(skin: Skin, flat: NDArray[np.bool_]) -> list[Finding]:
    count = int(flat.sum()) + skin.repeated
    if not count:
        return []
    where = _near(skin, flat) if flat.any() else "of repeated corners"
    place = f"{counted(count, 'triangle')} {where}"
    return [Finding("GEO-309", place, "without area; harmless to a volume", "", "note")]


def _overlapping(mesh: Mesh, crossing: Numbers | None) -> list[Finding]:
    if crossing is None or not len(crossing):
        return []
    where = middle_one(mesh.corners[crossing[:, 0]].mean(axis=1))
    place = f"{counted(len(crossing), 'pair')} of triangles near {spot(where)}"
    text = "the skin runs through itself or through another body there, and volume counts twice"
    return [Finding("GEO-310", place, text, "")]


def _near(skin: Skin, chosen: NDArray[np.bool_]) -> str:
    return f"near {spot(middle_one(skin.mesh.corners[chosen].mean(axis=1)))}"
