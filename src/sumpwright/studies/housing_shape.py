# SPDX-License-Identifier: Apache-2.0
"""The pickup housing as bodies: what the job's numbers mean in metal. Engine frame, SI."""

import math
from collections.abc import Callable
from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from sumpwright.geometry.build import Build, Piece, Prism, Rod
from sumpwright.geometry.profile import Profile, circle_profile, polygon_profile
from sumpwright.geometry.profile_inset import inset_profile
from sumpwright.geometry.rim import Rim
from sumpwright.job.housing import Housing, Retainer
from sumpwright.job.suction import Cloth
from sumpwright.metal.thread import ENGAGED, RUN_OUT, Thread, screw_length, thread
from sumpwright.oil.weave import weave
from sumpwright.studies.drawn_outline import drawn_profile, own_radii

Floats = NDArray[np.float64]
Where = Callable[..., str]

PINCH = 0.9
"""Depth of the screen's seat over the screen's thickness, so that the flange holds it;
[common-practice]."""
SEAT_PLAY = 1e-4
"""m; the seat is this much wider than the screen all round."""
THROUGH = 1e-3
"""m; how far a cutter runs out of what it cuts."""
RIM_CHORD = 2e-4
"""m; of a rim that is not round."""


@dataclass(frozen=True, eq=False)
class HousingShape:
    """One housing with its inlet at a height over the rail [m]."""

    housing: Housing
    inlet: float

    @property
    def centre(self) -> Floats:
        """(2,) middle of the inlet."""
        return np.asarray(self.housing.centre, dtype=float)

    @property
    def flange(self) -> float:
        """Thickness of the retaining flange; 0 without one."""
        return 0.0 if self.housing.retainer is None else self.housing.retainer.thickness

    @property
    def seat(self) -> float:
        """Height of the housing's lower face."""
        return self.inlet + self.flange

    @property
    def ceiling(self) -> float:
        """Height of the roof's lower face."""
        return self.crown - self.housing.top

    @property
    def crown(self) -> float:
        """Height of the roof's upper face."""
        return self.inlet + self.housing.height

    def plan(self, inset: float = 0.0) -> Profile:
        """The housing's outline, moved in."""
        housing = self.housing
        if housing.diameter is not None:
            return circle_profile(self.centre, 0.5 * housing.diameter - inset)
        if housing.box is not None:
            half = 0.5 * np.asarray(housing.box)
            corners = self.centre + half * np.array([[1, 1], [-1, 1], [-1, -1], [1, -1]])
            return inset_profile(polygon_profile(corners), np.full(4, housing.radius), inset)
        assert housing.outline is not None
        drawn = drawn_profile(housing.outline)
        radii = own_radii(housing.outline, housing.radius)
        if drawn.area < 0.0:  # solid on the left, however it was typed
            return inset_profile(drawn.reversed(), radii[::-1], inset)
        return inset_profile(drawn, radii, inset)

    @cached_property
    def inside(self) -> Profile:
        """The clear plan inside the walls."""
        return self.plan(self.housing.wall)

    @cached_property
    def opening(self) -> Profile:
        """The inlet."""
        retainer = self.housing.retainer
        if retainer is None or retainer.opening is None:
            return self.inside
        return circle_profile(self.centre, 0.5 * retainer.opening)

    @property
    def round_opening(self) -> float | None:
        """Radius of a round inlet."""
        retainer, outer = self.housing.retainer, self.housing.diameter
        if retainer is not None and retainer.opening is not None:
            return 0.5 * retainer.opening
        return None if outer is None else 0.5 * outer - self.housing.wall

    @property
    def rim(self) -> Rim:
        """The pickup's rim."""
        radius = self.round_opening
        if radius is not None:
            return Rim.circle([*self.centre, self.inlet], [0.0, 0.0, -1.0], radius=radius)
        flat = self.opening.polygon(RIM_CHORD)[::-1]  # its axis down, as the inlet faces
        return Rim.polygon(np.column_stack([flat, np.full(len(flat), self.inlet)]))

    @property
    def face_area(self) -> float:
        """Of the screen that oil goes through [m^2]."""
        return self.opening.area

    @property
    def thread(self) -> Thread | None:
        """Of the bolts."""
        retainer = self.housing.retainer
        return None if retainer is None else thread(retainer.thread)

    @property
    def bolts(self) -> Floats:
        """(n, 2) where the bolts stand."""
        retainer = self.housing.retainer
        if retainer is None:
            return np.zeros((0, 2))
        if retainer.at is not None:
            return np.asarray(self.centre + np.asarray(retainer.at, dtype=float))
        angle = retainer.start + 2.0 * math.pi * np.arange(retainer.count) / retainer.count
        assert retainer.circle is not None
        return self.centre + 0.5 * retainer.circle * np.stack(
            [np.cos(angle), np.sin(angle)], axis=1
        )

    @property
    def lug(self) -> float:
        """Radius of metal round each bolt."""
        return _lug(self.housing.retainer)

    @property
    def engagement(self) -> float:
        """Length of thread in the housing."""
        retainer = self.housing.retainer
        if retainer is None or self.thread is None:
            return 0.0
        if retainer.engagement is not None:
            return retainer.engagement
        least = self.flange + ENGAGED * self.thread.diameter
        return screw_length(least, at_least=True) - self.flange

    @property
    def hole_depth(self) -> float:
        """Of the tapped holes, to the drill's shoulder."""
        pitch = 0.0 if self.thread is None else self.thread.pitch
        return self.engagement + RUN_OUT * pitch

    @property
    def screen_plan(self) -> Profile:
        """Outline of the screen blank."""
        return self.plan(self.housing.wall - self.housing.lap)

    @property
    def screen_thickness(self) -> float:
        """Of the cloth: two wires, or the sheet; 0 without a screen."""
        cloth = self.housing.screen
        if cloth is None:
            return 0.0
        return 2.0 * cloth.wire if cloth.wire is not None else cloth.thickness or 0.0

    @property
    def displaced(self) -> Build:
        """Everything together, its holes filled by their bolts: what takes up room for oil."""
        from sumpwright.studies.housing_socket import socket_of

        socket = socket_of(self)
        add = [Prism(self.plan(), self.seat, self.crown), *self._lugs(self.crown), *socket.add]
        add += self._plate()
        cut: list[Piece] = [Prism(self.opening, self.inlet - THROUGH, self.seat + 0.1 * THROUGH)]
        cut += [Prism(self.inside, self.seat, self.ceiling), *socket.cut]
        if self.opening is self.inside:
            cut = [Prism(self.inside, self.inlet - THROUGH, self.ceiling), *socket.cut]
        return Build(tuple(add), tuple(cut))

    @property
    def body(self) -> Build:
        """The housing itself."""
        from sumpwright.studies.housing_socket import socket_of

        socket = socket_of(self)
        add = [Prism(self.plan(), self.seat, self.crown), *self._lugs(self.crown), *socket.add]
        cut: list[Piece] = [Prism(self.inside, self.seat - THROUGH, self.ceiling), *socket.cut]
        if self.housing.screen is not None:
            wide = self.plan(self.housing.wall - self.housing.lap - SEAT_PLAY)
            deep = self.seat + PINCH * self.screen_thickness
            cut.append(Prism(wide, self.seat - THROUGH, deep))
        if self.thread is not None:
            low, high = self.seat - THROUGH, self.seat + self.hole_depth
            cut += [_upright(b, low, high, 0.5 * self.thread.drill) for b in self.bolts]
        return Build(tuple(add), tuple(cut))

    @property
    def plate(self) -> Build | None:
        """The retaining flange."""
        if self.thread is None:
            return None
        low, high = self.inlet - THROUGH, self.seat + THROUGH
        holes = [_upright(b, low, high, 0.5 * self.thread.clearance) for b in self.bolts]
        return Build(tuple(self._plate()), (Prism(self.opening, low, high), *holes))

    @property
    def blank(self) -> Build | None:
        """The screen, cut to size."""
        if self.housing.screen is None:
            return None
        top = self.seat + self.screen_thickness
        return Build((Prism(self.screen_plan, self.seat, top),))

    def _plate(self) -> list[Piece]:
        retainer = self.housing.retainer
        if retainer is None:
            return []
        if retainer.diameter is not None:
            outer = circle_profile(self.centre, 0.5 * retainer.diameter)
            return [Prism(outer, self.inlet, self.seat)]
        lugs = [Prism(circle_profile(b, self.lug), self.inlet, self.seat) for b in self.bolts]
        return [Prism(self.plan(), self.inlet, self.seat), *lugs]

    def _lugs(self, top: float) -> list[Piece]:
        return [Prism(circle_profile(b, self.lug), self.seat, top) for b in self.bolts]


def open_share(cloth: Cloth) -> float:
    """Share of a screen's face that is open [-]: of the weave, or as given."""
    if cloth.pitch is not None and cloth.wire is not None:
        return weave(pitch=cloth.pitch, wire=cloth.wire).open_area
    assert cloth.open_area is not None
    return cloth.open_area


def _lug(retainer: Retainer | None) -> float:
    if retainer is None:
        return 0.0
    return thread(retainer.thread).diameter if retainer.lug is None else retainer.lug


def _upright(at: Floats, low: float, high: float, radius: float) -> Rod:
    return Rod([*at, low], [*at, high], radius)
