# SPDX-License-Identifier: Apache-2.0
"""Mends: each by itself, what it says it did, and what it leaves alone."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sumpwright.geometry.mesh import Mesh, joined
from sumpwright.geometry.repair import repaired
from sumpwright.geometry.soundness import soundness
from tests.geometry.bodies import box, icosphere, star

CUBE = box([0, 0, 0], [0.1, 0.1, 0.1])
INNER = box([0.03] * 3, [0.07] * 3)
CORE = box([0.04] * 3, [0.06] * 3)


def said(mesh: Mesh, **how: float) -> tuple[Mesh, dict[str, str]]:
    mended, findings = repaired(mesh, **how)
    return mended, {f.code: f.found for f in findings}


def test_a_sound_mesh_is_given_back_untouched() -> None:
    for mesh in (CUBE, icosphere(2, 0.1), joined([CUBE, INNER.flipped(), CORE])):
        mended, findings = said(mesh)
        assert findings == {}
        np.testing.assert_array_equal(mended.corners, mesh.corners)


def test_a_shaken_soup_is_joined_again() -> None:
    ball = icosphere(3, 0.1)
    shaken = ball.corners.reshape(-1, 3)
    shaken = shaken + np.random.default_rng(2).uniform(-1e-7, 1e-7, shaken.shape)
    mended, findings = said(Mesh(shaken, np.arange(len(shaken))))
    assert findings == {"GEO-321": "3,198 points made one with another nearer than 0.001 mm"}
    assert soundness(mended).sound
    # each corner moved by at most 0.2 um: volume by at most area times that
    assert mended.volume == pytest.approx(ball.volume, abs=ball.area * 2e-7)


def test_copies_and_repeated_corners_are_dropped() -> None:
    mended, findings = said(
        Mesh(CUBE.vertices, np.vstack([CUBE.faces, CUBE.faces[:2], [[1, 1, 2]]]))
    )
    assert findings == {
        "GEO-322": "1 triangle of repeated corners dropped",
        "GEO-323": "2 further copies of triangles dropped",
    }
    assert soundness(mended).findings == ()
    twice, _ = said(joined([CUBE, CUBE]))
    assert twice.volume == pytest.approx(1e-3, rel=1e-12)


@settings(deadline=None, max_examples=40)
@given(st.integers(0, 2**32 - 1), st.floats(0.0, 1.0))
def test_volume_comes_back_however_many_triangles_were_turned(seed: int, share: float) -> None:
    rng = np.random.default_rng(seed)
    body = star(rng, halvings=1)
    turned = rng.random(len(body.faces)) < share
    mended, _ = repaired(
        Mesh(body.vertices, np.where(turned[:, None], body.faces[:, ::-1], body.faces))
    )
    assert mended.volume == pytest.approx(body.volume, rel=1e-12)  # double rounding
    assert soundness(mended, overlaps=False).sound


@settings(deadline=None, max_examples=40)
@given(st.integers(0, 2**32 - 1), st.integers(0, 2))
def test_a_casting_comes_back_with_its_void_and_its_core(seed: int, skins: int) -> None:
    """Solid 1,000 mL, void 64 mL, loose core 8 mL; some triangles of each turned."""
    whole = joined([CUBE, INNER.flipped(), CORE][: skins + 1])
    rng = np.random.default_rng(seed)
    faces = whole.faces.copy()
    for skin in range(skins + 1):
        some = 12 * skin + rng.choice(12, rng.integers(1, 12), replace=False)
        faces[some] = faces[some, ::-1]
    mended, _ = repaired(Mesh(whole.vertices, faces))
    assert mended.volume == pytest.approx([1e-3, 936e-6, 944e-6][skins], rel=1e-12)
    assert soundness(mended).findings == ()


def test_an_inside_out_casting_keeps_its_void() -> None:
    mended, findings = said(joined([CUBE, INNER.flipped()]).flipped())
    assert mended.volume == pytest.approx(936e-6, rel=1e-12)
    assert findings == {"GEO-327": "2 skins turned over, so that the outermost faces outward"}


def test_a_solid_in_a_solid_is_left_for_the_person() -> None:
    """It could be a void drawn the wrong way or a body too many; nobody can tell from here."""
    mended, findings = said(joined([CUBE, INNER]))
    assert findings == {}
    assert [f.code for f in soundness(mended).findings] == ["GEO-307"]


def test_a_flat_hole_is_closed_exactly() -> None:
    """A 20 x 30 mm brick side cut out of a plate; the cap is flat, so no volume is lost."""
    brick = box([0, 0, 0], [0.02, 0.03, 0.005])
    flat = np.abs(brick.area_vectors[:, 2]) < 1e-12
    lid = ~flat & (brick.area_vectors[:, 2] > 0)
    mended, findings = said(Mesh(brick.vertices, brick.faces[~lid]), widest_hole=0.04)
    assert findings == {"GEO-325": "1 hole up to 40 mm across closed, 2 triangles"}
    assert mended.volume == pytest.approx(3e-6, rel=1e-12)
    assert soundness(mended).findings == ()


def test_a_hole_that_is_not_convex_is_closed_flat() -> None:
    """The end of an L-shaped bar, 30 mm^2 by 10 mm; seen from the middle one corner is hidden."""
    from tests.geometry.bodies import prism

    ell = np.array([[0, 0], [1, 0], [1, 4], [4, 4], [4, 5], [0, 5]]) * 1e-3
    bar = prism(ell, 0.01)
    end = np.isclose(bar.corners[:, :, 1], 0.01).all(axis=1)
    area = 4e-6 + 4e-6  # 1 x 4 and 4 x 1 mm
    assert bar.volume == pytest.approx(area * 0.01, rel=1e-12)
    mended, findings = said(Mesh(bar.vertices, bar.faces[~end]))
    assert findings == {"GEO-325": "1 hole up to 10 mm across closed, 4 triangles"}
    assert mended.volume == pytest.approx(area * 0.01, rel=1e-12)


def test_many_holes_that_meet_in_corners_are_all_closed() -> None:
    ball = icosphere(4, 0.05)
    kept = np.random.default_rng(4).permutation(len(ball.faces))[60:]
    mended, findings = said(Mesh(ball.vertices, ball.faces[kept]))
    assert set(findings) == {"GEO-325"}
    assert soundness(mended).findings == ()
    # a patch is flat where the ball bulges: each lost triangle changes at most its area times
    # the sagitta of its widest patch, 4 edges of 3.5 mm on a radius of 50 mm: 0.5 mm
    assert mended.volume == pytest.approx(ball.volume, abs=60 * ball.area / 5120 * 5e-4)


def test_wide_and_folded_holes_stay_open_and_are_said() -> None:
    mended, findings = said(Mesh(CUBE.vertices, CUBE.faces[1:]))
    assert set(findings) == {"GEO-326"}
    assert findings["GEO-326"].startswith("1 hole left open: wider than 10 mm")
    assert soundness(mended).open_edges == 3


def test_a_mess_is_no_reason_to_stop() -> None:
    """Triangles at random: whatever comes out, it comes out, with everything still finite."""
    rng = np.random.default_rng(8)
    for count in (1, 2, 7, 60):
        mesh = Mesh(rng.uniform(0, 0.1, (count + 2, 3)), rng.integers(0, count + 2, (count, 3)))
        if (mesh.area_vectors != 0).any():
            mended, _ = repaired(mesh)
            assert np.isfinite(mended.vertices).all()
            soundness(mended)
