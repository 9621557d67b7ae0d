# SPDX-License-Identifier: Apache-2.0
"""Crossing triangles: contact is none, and every real crossing is one.

The second opinion is a library that tests one pair at a time ([GUIGUE-DEVILLERS-2003]); it counts
contact too, so the bodies compared are in general position.
"""

import numpy as np
import pytest

from sumpwright.errors import RangeError
from sumpwright.geometry import overlap
from sumpwright.geometry.mesh import Mesh, joined
from sumpwright.geometry.overlap import self_overlaps
from tests.geometry.bodies import box, icosphere, random_rotation, rippled_pan, star

CUBE = box([0, 0, 0], [0.1, 0.1, 0.1])


def moved(mesh: Mesh, *shift: float) -> Mesh:
    return mesh.moved(np.eye(3), shift)


def crossings_one_by_one(mesh: Mesh) -> set[tuple[int, int]]:
    """Every pair that shares no corner, asked of libigl."""
    import igl

    points = [[p[None] for p in tri] for tri in mesh.corners]
    found = set()
    for i, j in zip(*np.triu_indices(len(points), 1), strict=True):
        if np.isin(mesh.faces[i], mesh.faces[j]).any():
            continue
        if igl.tri_tri_overlap_test_3d(*points[i], *points[j]):
            found.add((int(i), int(j)))
    return found


@pytest.mark.parametrize("seed", range(6))
def test_agrees_with_a_library_pair_by_pair(seed: int) -> None:
    rng = np.random.default_rng(seed)
    one, two = (star(rng, halvings=1) for _ in range(2))
    both = joined([one, two.moved(random_rotation(rng), rng.uniform(-0.1, 0.1, 3))])
    expected = crossings_one_by_one(both)
    assert expected
    assert {(int(a), int(b)) for a, b in self_overlaps(both)} == expected


@pytest.mark.parametrize(
    "mesh",
    [
        CUBE,
        icosphere(4, 0.1),
        rippled_pan(40),
        joined([CUBE, moved(CUBE, 0.1, 0.0, 0.0)]),  # face on face
        joined([CUBE, moved(CUBE, 0.1, 0.03, 0.02)]),  # part of a face on part of a face
        joined([CUBE, moved(CUBE, 0.1, 0.1, 0.0)]),  # edge on edge
        joined([CUBE, moved(CUBE, 0.1 - 5e-7, 0.03, 0.02)]),  # half a micrometre deep
        joined([CUBE, moved(CUBE.scaled(0.5).flipped(), 0.025, 0.025, 0.025)]),  # a void
    ],
)
def test_contact_and_nesting_are_no_overlap(mesh: Mesh) -> None:
    assert len(self_overlaps(mesh)) == 0


@pytest.mark.parametrize(
    "shift", [(0.05, 0.03, 0.02), (0.05, 0, 0), (0.05, 0.05, 0), (0.1 - 5e-6, 0.03, 0.02)]
)
def test_bodies_in_one_another_overlap_however_they_line_up(shift: tuple[float, ...]) -> None:
    """In general, along an axis with all sides flush, along two axes, and 5 um deep."""
    assert len(self_overlaps(joined([CUBE, moved(CUBE, *shift)]))) > 0


def test_a_needle_through_a_plate_is_one_pair_a_side() -> None:
    plate = Mesh([[-1.0, -1, 0], [1, -1, 0], [0, 1, 0]], [[0, 1, 2]])
    needle = Mesh([[0.0, 0, -1], [0.01, 0, 1], [-0.01, 0.01, 1]], [[0, 1, 2]])
    assert self_overlaps(joined([plate, needle])).tolist() == [[0, 1]]
    assert self_overlaps(joined([plate, moved(needle, 3, 0, 0)])).tolist() == []


def test_single_precision_makes_no_overlaps() -> None:
    """Rounded as STL rounds it, a metre from the origin where that costs most."""
    ball = moved(icosphere(5, 0.1), 1.0, 1.0, 1.0)
    rounded = Mesh(ball.vertices.astype(np.float32).astype(float), ball.faces)
    assert len(self_overlaps(rounded)) == 0


def test_the_answer_does_not_depend_on_portions(monkeypatch: pytest.MonkeyPatch) -> None:
    mesh = joined([icosphere(3, 0.1), moved(icosphere(3, 0.1), 0.05, 0.02, 0.01)])
    whole = self_overlaps(mesh)
    monkeypatch.setattr(overlap, "_AT_ONCE", 50)
    np.testing.assert_array_equal(self_overlaps(mesh), whole)


def test_a_fan_of_needles_is_refused_before_it_takes_an_hour(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr(overlap, "MAX_NEAR_PAIRS", 1000)
    count = 200
    angle = 2 * np.pi * np.arange(count) / count
    rim = np.stack([np.cos(angle), np.sin(angle), 0 * angle], axis=1)
    i = np.arange(count)
    fan = Mesh(np.vstack([rim, [0, 0, 0]]), np.stack([i, (i + 1) % count, 0 * i + count], 1))
    with pytest.raises(RangeError, match="1,000 pairs"):
        self_overlaps(fan)
    from sumpwright.geometry.soundness import soundness

    answer = soundness(fan)
    assert answer.self_overlaps is None
    assert "GEO-311" in [f.code for f in answer.findings]
