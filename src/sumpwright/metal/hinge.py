# SPDX-License-Identifier: Apache-2.0
r"""A butt hinge by numbers: knuckles rolled from a flap and from a leaf round one pin.

Flat coordinates: u along the hinge, v across it, 0 under the pin, the flap on the negative side,
the leaf on the positive one; w is up from the baffle. Both sheets lie on the baffle, and roll up
and over the pin until the end would meet its own sheet: by
:math:`2\pi - \arccos\frac{r}{r + t} - g`, where g leaves a slit.
A stop tab leans from the leaf over the barrel so that the flap's upper face comes to lie against
its tip at the angle asked for.
"""

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from sumpwright.errors import RangeError
from sumpwright.geometry.profile import circle_profile
from sumpwright.metal.flat_pattern import FlatBend, FlatPattern, Polygon, frame_polygon
from sumpwright.metal.flat_pattern_arc import profile_of

Floats = NDArray[np.float64]

SLIT = 2e-4
"""m left open where a knuckle's end comes back to its sheet; common practice, no source."""
LEAST_STOP = math.radians(45.0)
"""Under which no tab on the leaf can lean far enough to stop a flap."""
_LEAN, _LEAST_LEAN, _MOST_LEAN = math.radians(30.0), math.radians(20.0), math.radians(90.0)
"""How much flatter than the open flap a stop leans, and its limits; [common-practice]."""


@dataclass(frozen=True)
class HingeSpec:
    """A hinge as asked for. SI."""

    length: float
    knuckles: int
    pin: float
    """Diameter"""
    play: float
    thickness: float
    """Of flap and leaf"""
    k: float
    k_from: str

    @property
    def inside(self) -> float:
        """Radius inside a knuckle."""
        return 0.5 * self.pin + self.play

    @property
    def outside(self) -> float:
        """Radius outside a knuckle."""
        return self.inside + self.thickness

    @property
    def clear(self) -> float:
        """From under the pin to where the other sheet must end, so that the knuckles turn free."""
        return math.sqrt((self.outside + 2.0 * self.play) ** 2 - self.inside**2)

    @property
    def roll(self) -> float:
        """How far a knuckle is rolled [rad]."""
        return 2.0 * math.pi - math.acos(self.inside / self.outside) - SLIT / self.outside

    @property
    def development(self) -> float:
        """Flat length that a knuckle uses [m]."""
        return self.roll * (self.inside + self.k * self.thickness)

    def spans(self, *, leaf: bool) -> list[tuple[float, float]]:
        """From where to where along u each knuckle of the flap, or of the leaf, runs."""
        pitch = self.length / self.knuckles
        if pitch < self.thickness + 2.0 * self.play:
            raise RangeError(
                f"{self.knuckles} knuckles on {1e3 * self.length:.4g} mm leave "
                f"{1e3 * pitch:.3g} mm to each, less than the sheet is thick"
            )
        edges = [(k * pitch - 0.5 * self.length, k) for k in range(self.knuckles)]
        return [(a + self.play, a + pitch - self.play) for a, k in edges if k % 2 == int(leaf)]


@dataclass(frozen=True)
class Stop:
    """A tab on the leaf that a flap comes to lie against."""

    lean: float
    """rad by which it is bent up"""
    start: float
    """v where its bend starts [m]"""
    flat: float
    """m of it past its bend"""
    bend: float
    """Its radius [m]"""
    touches: float
    """m from the pin, along the flap, where it meets it"""


def stop_for(spec: HingeSpec, angle: float, radius: float) -> Stop:
    """The stop of a flap that opens to an angle.

    Parameters
    ----------
    spec : HingeSpec [m]
        The hinge.
    angle : float [rad]
        That the flap may open to.
    radius : float [m]
        Inside the tab's bend.

    Returns
    -------
    stop : Stop [m]

    Raises
    ------
    RangeError
        Under 45 deg, where such a tab cannot reach the flap.

    Source
    ------
    [closed-form]: the tip's corner on the plane of the flap's upper face.
    """
    if angle < LEAST_STOP - 1e-9:
        raise RangeError(
            f"a tab on the leaf stops a flap at 45 deg or more, not at "
            f"{math.degrees(angle):.4g} deg"
        )
    lean = min(max(angle - _LEAN, _LEAST_LEAN), _MOST_LEAN)
    t, r, barrel = spec.thickness, spec.inside, spec.outside + 2.0 * spec.play
    s, c = math.sin(lean), math.cos(lean)
    start = max((barrel + radius + t + c * (r - radius)) / s, spec.clear + t)
    foot = np.array([start - (radius + t) * s, -r + radius - (radius + t) * c])
    way = np.array([-c, s])
    face = np.array([math.sin(angle), math.cos(angle)])  # square to the flap's upper face
    flat = float(face @ foot + r) / math.sin(angle - lean)
    tip = foot + flat * way
    along = np.array([-math.cos(angle), math.sin(angle)])
    return Stop(lean, start, flat, radius, float(tip @ along))


def knuckled(
    spec: HingeSpec,
    sheet: Polygon,
    *,
    leaf: bool,
    stop: Stop | None = None,
    holes: tuple[tuple[float, float, float], ...] = (),
    stop_k: tuple[float, str] = (0.4, "table"),
) -> FlatPattern:
    """A flap or a leaf in the flat, with its knuckles laid out.

    Parameters
    ----------
    spec : HingeSpec [m]
        The hinge.
    sheet : Polygon [m]
        What of it lies flat, from where it is clear of the other's knuckles.
    leaf : bool [-]
        Whether it is the leaf, on the positive side of v.
    stop : Stop or None [m]
        Of a leaf: its tab.
    holes : tuple of (float, float, float) [m]
        u, v and diameter of each.
    stop_k : (float, str) [-]
        K of the stop's bend, and who says so.

    Returns
    -------
    pattern : FlatPattern [m]
        In u and v.
    """
    from shapely import orient_polygons, union_all

    side = 1.0 if leaf else -1.0
    bends = [_roll(spec, span, side, k + 1) for k, span in enumerate(spec.spans(leaf=leaf))]
    pieces = [sheet]
    for bend in bends:
        (a, _), (b, _) = bend.line.tolist()
        low, high = min(a, b), max(a, b)
        end = -side * spec.development
        reach = side * (spec.clear + 1e-7) - end
        pieces.append(frame_polygon((low, end), (high - low, 0.0), (0.0, reach)))
    if leaf and stop is not None:
        cut, tongue, bend = _stop_tab(spec, stop, stop_k)
        pieces = [piece.difference(cut) for piece in pieces] + [tongue]
        bends.append(bend)
    whole = orient_polygons(union_all(pieces))
    return FlatPattern(
        outline=profile_of(np.asarray(whole.exterior.coords)[:-1]),
        holes=(
            *(profile_of(np.asarray(ring.coords)[:-1]) for ring in whole.interiors),
            *(circle_profile((u, v), 0.5 * d).reversed() for u, v, d in holes),
        ),
        thickness=spec.thickness,
        bends=tuple(bends),
    )


def _roll(spec: HingeSpec, span: tuple[float, float], side: float, number: int) -> FlatBend:
    """A knuckle: it starts under the pin and rolls away from its own sheet."""
    ends = (span[0], span[1]) if side < 0.0 else (span[1], span[0])
    line = np.array([[ends[0], 0.0], [ends[1], 0.0]])
    how = (spec.roll, spec.inside, True, spec.k, spec.k_from, spec.thickness)
    return FlatBend(f"knuckle {number}", line, *how, rolled=True)


def _stop_tab(
    spec: HingeSpec, stop: Stop, k: tuple[float, str]
) -> tuple[Polygon, Polygon, FlatBend]:
    """What is cut free round the stop, the stop itself, and its bend; where a knuckle of the flap
    is, whose place on the leaf is empty."""
    spans = spec.spans(leaf=False)
    low, high = spans[len(spans) // 2]
    slit = max(spec.thickness, 1e-3)
    a, b = low + slit, high - slit
    if b - a < 2.0 * spec.thickness:
        raise RangeError(
            f"a knuckle of {1e3 * (high - low):.3g} mm leaves no room for a stop between its slits"
        )
    line = np.array([[b, stop.start], [a, stop.start]])
    bend = FlatBend("stop", line, stop.lean, stop.bend, True, *k, spec.thickness)
    past = stop.start + 5e-4
    # as wide as from knuckle to knuckle of the leaf, so that their edges run on in the slits'
    low, high = low - 2.0 * spec.play, high + 2.0 * spec.play
    cut = frame_polygon((low, -1.0), (high - low, 0.0), (0.0, 1.0 + past))
    end = stop.start - bend.allowance - stop.flat
    tongue = frame_polygon((a, end), (b - a, 0.0), (0.0, past + 1e-7 - end))
    return cut, tongue, bend
