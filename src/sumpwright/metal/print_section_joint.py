# SPDX-License-Identifier: Apache-2.0
"""How two printed pieces find each other: loose round pegs where the section is thick enough for
them, else a step, else a plain butt. Millimetres.

Pegs are loose, so that the cut stays flat and a piece can lie on it in the printer.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from sumpwright.geometry.region import Region
from sumpwright.geometry.solid import Solid
from sumpwright.metal.print_section import Face, Piece, section_of
from sumpwright.metal.print_section_spot import spots_in, spread

Floats = NDArray[np.float64]

RADII = (4.0, 3.0, 2.5, 2.0, 1.5)
"""mm; pegs that are tried, thickest first."""
SKIN = 1.2
"""mm; least wall of print round a peg's hole: three lines of a 0.4 mm nozzle; [common-practice]."""
DEEP = 2.5
"""Depth of a peg in each piece over its radius."""
APART = 8.0
"""mm; pegs of a joint stand at least this far apart, or one of them says nothing."""
STEP_WIDE, STEP_DEEP = 12.0, 4.0
"""mm; a step's width along the section, and how far it reaches into the other piece."""
NEAR = 1e-3
"""mm; beside a cut, where sections are taken."""
SPECK = 1.0
"""mm^2; pieces that share less are no neighbours."""


@dataclass(frozen=True, eq=False)
class Joint:
    """What holds two pieces in place at a cut."""

    low: int
    """Number of the piece before the cut"""
    high: int
    """Of the piece beyond it"""
    axis: int
    at: float
    area: float
    """mm^2 that they share"""
    kind: str
    """``pegs``, ``step`` or ``butt``"""
    radius: float = 0.0
    """mm, of the pegs"""
    spots: tuple[tuple[float, float], ...] = ()
    """Middles, in the section's coordinates"""

    def place(self, spot: tuple[float, float], along: float = 0.0) -> Floats:
        """(3,) of a spot, this far beyond the cut."""
        flat = np.array([*spot, self.at + along])
        return np.asarray(np.roll(flat, self.axis + 1))

    @property
    def depth(self) -> float:
        """mm, of each peg's hole."""
        return DEEP * self.radius


def joints_of(pieces: Sequence[Piece], clearance: float) -> list[Joint]:
    """A joint for every two pieces that share part of a cut.

    Parameters
    ----------
    pieces : sequence of Piece [mm]
        All of a body.
    clearance : float [mm]
        Between a peg and its hole, on each side.

    Returns
    -------
    joints : list of Joint [mm]
    """
    found = []
    left = [piece.body for piece in pieces]  # less the holes of the joints before, with their walls
    for i, low in enumerate(pieces):
        for face in (f for f in low.faces if f.side > 0):
            for j, high in enumerate(pieces):
                if any(_meets(face, other) for other in high.faces):
                    shared = section_of(low.body, face.axis, face.at - NEAR)
                    shared = shared ^ section_of(high.body, face.axis, face.at + NEAR)
                    if shared.area() > SPECK:
                        found.append(_joint(left, (i, j), face, shared, clearance))
                        _take(left, found[-1], clearance + SKIN)
                        _step(left, found[-1], clearance)
    return found


def _meets(face: Face, other: Face) -> bool:
    return other.side < 0 and other.axis == face.axis and abs(other.at - face.at) < 1e-6


def _joint(
    bodies: Sequence[Solid], pair: tuple[int, int], face: Face, shared: Region, clearance: float
) -> Joint:
    bare = Joint(*pair, face.axis, face.at, float(shared.area()), "butt")
    one: Joint | None = None
    for radius in RADII:
        joint = Joint(*pair, face.axis, face.at, bare.area, "pegs", radius)
        spots = spots_in(shared, radius + clearance + SKIN)
        held = [s for s in spots if _holds(bodies, joint, s, clearance)]
        chosen = tuple(spread(held, max(APART, 2.0 * (radius + clearance) + SKIN)))
        kept = Joint(*pair, face.axis, face.at, bare.area, "pegs", radius, chosen)
        if len(chosen) > 1:
            return kept
        one = kept if chosen and one is None else one
    if one is not None:
        return one
    low, high = (bodies[k] for k in pair)
    steps = [s for s in spots_in(shared, 0.3) if _step_holds(low, high, bare, s)]
    chosen = tuple(spread(steps, 2.0 * STEP_WIDE))[:2]
    return Joint(*pair, face.axis, face.at, bare.area, "step", 0.0, chosen) if chosen else bare


def _holds(
    bodies: Sequence[Solid], joint: Joint, spot: tuple[float, float], clearance: float
) -> bool:
    """Whether a peg's hole has its wall all round and at its end, in both pieces."""
    radius, deep = joint.radius + clearance + SKIN, joint.depth + SKIN
    for number, way in ((joint.low, -1.0), (joint.high, 1.0)):
        ends = joint.place(spot, way * NEAR), joint.place(spot, way * deep)
        bar = rod_of(ends[0], ends[1], radius)
        if float((bodies[number] ^ bar).volume()) < 0.999 * float(bar.volume()):
            return False
    return True


def _step_holds(low: Solid, high: Solid, joint: Joint, spot: tuple[float, float]) -> bool:
    """Whether a step at a spot is one lump, and leaves both pieces in one."""
    box = step_box(joint, spot, 0.0)
    lump = high ^ box
    return all(len(part.decompose()) == 1 for part in (lump, high - box, low + lump))


def step_box(joint: Joint, spot: tuple[float, float], grown: float) -> Solid:
    """What a step takes of the piece beyond the cut.

    Parameters
    ----------
    joint : Joint [mm]
        Whose step it is.
    spot : (float, float) [mm]
        Its middle, in the section.
    grown : float [mm]
        Clearance on each side and at its end.

    Returns
    -------
    box : Solid [mm]
    """
    from manifold3d import Manifold

    wide = STEP_WIDE + 2.0 * grown
    size = np.roll([wide, wide, STEP_DEEP + grown], joint.axis + 1)
    corner = joint.place((spot[0] - 0.5 * wide, spot[1] - 0.5 * wide))
    return Manifold.cube(size.tolist()).translate(corner.tolist())


def rod_of(start: Floats, end: Floats, radius: float) -> Solid:
    """A round bar that holds its circle: 48 sides round it.

    Parameters
    ----------
    start : (3,) [mm]
        Middle of one end.
    end : (3,) [mm]
        Middle of the other.
    radius : float [mm]
        Of the bar.

    Returns
    -------
    bar : Solid [mm]
    """
    from manifold3d import Manifold

    from sumpwright.geometry.disc import square_basis

    axis = end - start
    long = float(np.linalg.norm(axis))
    across = square_basis(axis)
    place = np.column_stack([across[0], across[1], axis / long, start])
    return Manifold.cylinder(long, radius, radius, 48).transform(place)


def _take(bodies: list[Solid], joint: Joint, grown: float) -> None:
    """Take the pegs of a joint, so much wider, out of its two pieces."""
    for spot in joint.spots if joint.kind == "pegs" else ():
        start, end = (joint.place(spot, way * joint.depth) for way in (-1.0, 1.0))
        hole = rod_of(start, end, joint.radius + grown)
        bodies[joint.low] = bodies[joint.low] - hole
        bodies[joint.high] = bodies[joint.high] - hole


def _step(bodies: list[Solid], joint: Joint, clearance: float) -> None:
    """Give the piece before a cut its steps, and take them, with clearance, off the other."""
    for spot in joint.spots if joint.kind == "step" else ():
        lump = bodies[joint.high] ^ step_box(joint, spot, 0.0)
        bodies[joint.low] = bodies[joint.low] + lump
        bodies[joint.high] = bodies[joint.high] - step_box(joint, spot, clearance)


def keyed(pieces: Sequence[Piece], joints: Sequence[Joint], clearance: float) -> list[Solid]:
    """The pieces with the holes of their pegs, and their steps.

    Parameters
    ----------
    pieces : sequence of Piece [mm]
        As cut.
    joints : sequence of Joint [mm]
        Between them.
    clearance : float [mm]
        Between a key and its pocket, on each side.

    Returns
    -------
    bodies : list of Solid [mm]
        In the pieces' order.
    """
    bodies = [piece.body for piece in pieces]
    for joint in joints:
        _take(bodies, joint, clearance)
        _step(bodies, joint, clearance)
    return bodies
