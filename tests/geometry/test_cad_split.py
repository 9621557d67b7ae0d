# SPDX-License-Identifier: Apache-2.0
"""A rounded box parted and made ready for welding: volumes by [closed-form] and set arithmetic."""

import math
from pathlib import Path

import pytest

from sumpwright.errors import SolveError
from sumpwright.geometry.cad import silence
from sumpwright.geometry.cad_joint import grooved, lipped, rebated
from sumpwright.geometry.cad_measure import Solid, area, bounds, volume
from sumpwright.geometry.cad_solid import box, common, less, prism
from sumpwright.geometry.cad_split import Weighed, parted_solid, ring_at
from sumpwright.geometry.cad_step import step_solid
from sumpwright.geometry.cad_write import step_bytes
from sumpwright.geometry.profile import Profile, rounded_profile

WALL, RADIUS, HEIGHT = 0.004, 0.020, -0.04
SIDES = 0.30, 0.20


def outline(out: float) -> Profile:
    """The inside's plan, `out` larger all round."""
    (x, y), r = SIDES, RADIUS + out
    corners = [(-out, -out), (x + out, -out), (x + out, y + out), (-out, y + out)]
    return rounded_profile(corners, [r] * 4)


def pan() -> Solid:
    """Upright walls, a floor of the wall's thickness, 100 mm deep."""
    silence()
    return less(prism(outline(WALL), -0.10 - WALL, 0.0), [prism(outline(0.0), -0.10, 0.0)])


def halves() -> tuple[Weighed, Weighed]:
    upper, lower = parted_solid(pan(), HEIGHT)
    assert (len(upper), len(lower)) == (1, 1)
    return upper[0], lower[0]


def around(out: float) -> float:
    """Steiner: the rounded rectangle's length."""
    return 2.0 * (sum(SIDES) - 4.0 * RADIUS) + 2.0 * math.pi * (RADIUS + out)


def test_both_halves_add_up_to_the_body() -> None:
    upper, lower = halves()
    assert upper.volume + lower.volume == pytest.approx(volume(pan()), rel=1e-9)
    section = around(0.5 * WALL) * WALL
    assert upper.volume == pytest.approx(section * -HEIGHT, rel=1e-9)


def test_the_ring_is_as_long_as_the_rounded_box_s_outlines() -> None:
    for half in halves():
        ring = ring_at(half.solid, HEIGHT)
        assert ring is not None
        assert ring.outer == pytest.approx(around(WALL), rel=1e-9)
        assert ring.inner == pytest.approx(around(0.0), rel=1e-9)
        assert ring.area == pytest.approx(around(0.5 * WALL) * WALL, rel=1e-9)


def test_the_groove_takes_a_triangle_all_round() -> None:
    depth, leg = 0.0012, 0.0008
    for half in halves():
        ring = ring_at(half.solid, HEIGHT)
        assert ring is not None
        done = grooved(half, ring, depth=depth, leg=leg)
        # Pappus, about each corner's own axis: exact for upright walls
        gone = 0.5 * depth * leg * (around(WALL) - 2.0 * math.pi * depth / 3.0)
        assert half.volume - done.volume == pytest.approx(gone, rel=1e-6)


@pytest.mark.parametrize("on", ["lower", "upper"])
def test_lip_and_rebate_differ_by_the_clearance_alone(on: str) -> None:
    upper, lower = halves()
    own, other, way = (lower, upper, 1.0) if on == "lower" else (upper, lower, -1.0)
    rings = ring_at(own.solid, HEIGHT), ring_at(other.solid, HEIGHT)
    assert rings[0] is not None
    assert rings[1] is not None
    thick, tall, clear = 0.0015, 0.003, 0.0002
    lip = lipped(own, rings[0], thickness=thick, tall=way * tall)
    rebate = rebated(other, rings[1], thickness=thick + clear, tall=way * (tall + clear))

    def band(t: float, h: float) -> float:
        return h * t * around(0.5 * t)

    assert lip.volume - own.volume == pytest.approx(band(thick, tall), rel=1e-6)
    gone = band(thick + clear, tall + clear)
    assert other.volume - rebate.volume == pytest.approx(gone, rel=1e-6)
    assert common(lip.solid, rebate.solid) is None
    # by set arithmetic: the joint's halves are the body without what the clearance leaves empty
    both = volume(pan()) + band(thick, tall) - gone
    assert lip.volume + rebate.volume == pytest.approx(both, rel=1e-9)


def test_a_prepared_half_reads_back_from_step(tmp_path: Path) -> None:
    _, lower = halves()
    ring = ring_at(lower.solid, HEIGHT)
    assert ring is not None
    done = lipped(
        grooved(lower, ring, depth=0.0012, leg=0.0008), ring, thickness=0.0015, tall=0.003
    )
    (tmp_path / "half.step").write_bytes(step_bytes([done.solid], "half"))
    again = step_solid(tmp_path / "half.step")
    assert volume(again) == pytest.approx(done.volume, rel=1e-9)
    assert area(again) == pytest.approx(area(done.solid), rel=1e-9)
    assert bounds(again) == pytest.approx(bounds(done.solid), abs=1e-7)  # the kernel's edges


def test_a_wall_that_turns_away_is_said_and_not_written() -> None:
    # the floor lies 1 mm under the split: a rebate downward meets metal right across
    upper, lower = parted_solid(pan(), -0.099)
    ring = ring_at(lower[0].solid, -0.099)
    assert ring is not None
    assert len(upper) == 1
    with pytest.raises(SolveError, match="the wall turns away at some place"):
        rebated(lower[0], ring, thickness=0.001, tall=-0.004)


def test_a_post_in_the_split_leaves_no_ring() -> None:
    from sumpwright.geometry.cad_solid import fused

    body = fused([pan(), box([0.1, 0.1, -0.102], [0.11, 0.11, -0.01])])
    upper, lower = parted_solid(body, HEIGHT)
    assert ring_at(lower[0].solid, HEIGHT) is None
    assert len(upper) == 2
