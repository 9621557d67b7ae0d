# SPDX-License-Identifier: Apache-2.0
"""Bodies from pieces: volumes by booleans of chords and by the CAD kernel, and closed forms."""

import math
from pathlib import Path

import numpy as np
import pytest

from sumpwright.errors import SolveError
from sumpwright.geometry import cad_build
from sumpwright.geometry.build import Build, Prism, Rod, Turned, build_mesh, build_volume
from sumpwright.geometry.cad import read_step
from sumpwright.geometry.cad_build import build_solid
from sumpwright.geometry.cad_measure import area, bounds, volume
from sumpwright.geometry.cad_write import step_bytes
from sumpwright.geometry.profile import Profile, circle_profile
from sumpwright.geometry.soundness import soundness

EDGE = math.tan(math.pi / 8.0)


def ring_plate() -> Build:
    """108 mm across, 60 mm opening, 3 mm thick, six holes of 4.5 mm on 84 mm."""
    angle = np.arange(6) * math.pi / 3.0
    holes = [
        Rod([0.042 * c, 0.042 * s, -0.001], [0.042 * c, 0.042 * s, 0.004], 0.00225)
        for c, s in zip(np.cos(angle), np.sin(angle), strict=True)
    ]
    opening = Prism(circle_profile([0.0, 0.0], 0.03), -0.001, 0.004)
    return Build((Prism(circle_profile([0.0, 0.0], 0.054), 0.0, 0.003),), (opening, *holes))


RING = 0.003 * math.pi * (0.054**2 - 0.03**2 - 6 * 0.00225**2)  # [closed-form]


def cup() -> Build:
    """54 mm across, 22 mm high, 4 mm wall, 2 mm roof, open below."""
    outer, inner = (circle_profile([0.1, -0.02], r) for r in (0.027, 0.023))
    return Build((Prism(outer, 0.0, 0.022),), (Prism(inner, -0.001, 0.020),))


CUP = math.pi * (0.027**2 * 0.022 - 0.023**2 * 0.020)  # [closed-form]


def test_a_ring_plate_with_holes_has_its_formula_s_volume_both_ways() -> None:
    assert volume(build_solid(ring_plate(), "ring")) == pytest.approx(RING, rel=1e-9)
    # chords of 1 um lose two thirds of that times the curved area at most
    curved = 0.003 * 2.0 * math.pi * (0.054 + 0.03 + 6 * 0.00225)
    assert build_volume(ring_plate(), chord=1e-6) == pytest.approx(RING, abs=1e-6 * curved)


def test_a_cup_has_its_formula_s_volume_and_a_closed_skin() -> None:
    assert volume(build_solid(cup(), "cup")) == pytest.approx(CUP, rel=1e-9)
    mesh = build_mesh(cup())
    found = soundness(mesh)
    assert found.sound
    assert found.watertight
    assert mesh.volume == pytest.approx(CUP, rel=2e-2)  # 50 um chords on a 4 mm wall


def test_a_rounded_hole_takes_what_pappus_says() -> None:
    """[closed-form] The rounding takes a ring of (1 - pi/4) e^2 off the edge."""
    bore, edge, thick = 0.009, 0.003, 0.006
    points = [[0.0, 0.0], [bore + edge, 0.0], [bore, edge], [bore, thick], [0.0, thick]]
    hole = Turned(Profile(np.array(points), np.array([0.0, -EDGE, 0.0, 0.0, 0.0])),
                  [0.0, 0.0, 0.0], [0.0, 0.0, 1.0])  # fmt: skip
    block = Prism(circle_profile([0.0, 0.0], 0.02), 0.0, thick)
    corner = (1.0 - math.pi / 4.0) * edge**2
    off = (1.0 / 2.0 - (math.pi / 4.0 - 1.0 / 3.0)) / (1.0 - math.pi / 4.0) * edge
    # centroid of the square less the quarter circle about its far corner, from the bore
    taken = math.pi * bore**2 * thick + 2.0 * math.pi * (bore + off) * corner
    expected = math.pi * 0.02**2 * thick - taken
    made = build_solid(Build((block,), (hole,)), "rounded hole")
    assert volume(made) == pytest.approx(expected, rel=1e-6)


def test_a_leaning_rod_is_where_it_should_be() -> None:
    axis = np.array([0.6, 0.0, 0.8])
    rod = Build((Rod([0.0, 0.0, 0.0], 0.05 * axis, 0.005),))
    exact = math.pi * 0.005**2 * 0.05
    assert volume(build_solid(rod, "rod")) == pytest.approx(exact, rel=1e-9)
    mesh = build_mesh(rod, chord=1e-6)
    np.testing.assert_allclose(mesh.vertices.mean(axis=0), 0.025 * axis, atol=1e-9)


def test_step_read_again_is_the_same_body(tmp_path: Path) -> None:
    solid = build_solid(ring_plate(), "ring")
    path = tmp_path / "ring.step"
    path.write_bytes(step_bytes([solid], "ring"))
    read = read_step(path, tolerance=1e-6)
    assert read.solids == 1
    assert read.mesh.volume == pytest.approx(RING, rel=2e-4)  # the reader's angle of 0.2 rad
    assert read.mesh.area == pytest.approx(area(solid), rel=2e-3)
    np.testing.assert_allclose(read.mesh.bounds, bounds(solid), atol=2e-6)


def test_a_solid_that_is_not_what_its_pieces_say_is_refused(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr(cad_build, "build_volume", lambda build, chord: 1.01 * RING)
    with pytest.raises(SolveError, match=r"ring: the CAD kernel made \S+ cm\^3 and the booleans"):
        build_solid(ring_plate(), "ring")
