# SPDX-License-Identifier: Apache-2.0
"""Chances: intervals by scipy, a probability by hand, and the same draw whatever the threads."""

import math
from dataclasses import replace
from itertools import pairwise
from pathlib import Path

import numpy as np
import pytest
from scipy.stats import binomtest, kstest, norm, uniform

from sumpwright.oil.network_array import Net
from sumpwright.studies import chance
from sumpwright.studies.asked import Asked
from sumpwright.studies.chance import DRAWN, chances, spreads, wilson
from sumpwright.studies.drive import Run, drive
from sumpwright.studies.motion_result import Chance
from sumpwright.studies.network import Spread, spread_out
from tests.studies.baffled_job import DOOR, WALL
from tests.studies.motion_job import ENGINE, MotionJob, motion_folder, motion_parts, motion_run

STAND = {"uphill": "nose", "slope": "0 deg", "duration": "1 s"}
TURN = {"radius": "30 m", "accel": "0.5 g", "duration": "2 s", "rpm": "3000 rpm"}


@pytest.mark.parametrize(("count", "samples"), [(0, 50), (1, 50), (17, 50), (50, 50), (340, 1000)])
def test_the_interval_is_wilson_s_own(count: int, samples: int) -> None:
    """scipy's binomtest as the reference; Brown, Cai & DasGupta, Statist. Sci. 16 (2001) 101."""
    found = binomtest(count, samples).proportion_ci(confidence_level=0.95, method="wilson")
    assert wilson(count, samples) == pytest.approx((found.low, found.high), rel=1e-12, abs=1e-15)
    assert wilson(0, samples)[0] == 0.0
    assert wilson(samples, samples)[1] == 1.0


def test_what_is_drawn_is_drawn_as_it_is_said() -> None:
    drawn = spreads(4000, 7)
    fill = np.array([s.fill for s in drawn])
    retained = np.array([s.retained for s in drawn])
    discharge = np.array([s.discharge for s in drawn])
    gap = np.array([s.gap for s in drawn])
    for values, law in (
        (fill, norm(1.0, 0.02)),
        (np.log(retained), norm(0.0, 0.2)),
        (discharge, uniform(0.90, 0.25)),
        (np.log2(gap), uniform(-1.0, 2.0)),
    ):
        assert kstest(values, law.cdf).pvalue > 0.01  # a wrong spread by a tenth gives 1e-5
    assert "fill, normal, 2 % standard deviation" in DRAWN
    assert np.abs(np.corrcoef([fill, retained, discharge, gap])[np.triu_indices(4, 1)]).max() < 0.05


def test_a_seed_draws_the_same_and_another_something_else() -> None:
    assert spreads(20, 3) == spreads(20, 3)
    assert spreads(20, 3) != spreads(20, 4)


def test_gaps_and_discharge_spread_but_windows_keep_their_size(tmp_path: Path) -> None:
    _, _, made = motion_parts(tmp_path, MotionJob(pan=f"  baffles:\n{WALL}{DOOR}"))
    net = made.net
    through, leak = 0, 1
    spread = spread_out(net, Spread(discharge=1.1, gap=2.0))
    # the leak round the door: 0.3 mm by 120 mm, twice as wide; on twice its height
    assert areas(net)[leak] == pytest.approx(3e-4 * 0.12, rel=1e-9)
    assert areas(spread)[leak] == pytest.approx(6e-4 * 0.12, rel=1e-9)
    assert spread.ways.traits[leak, 0] == pytest.approx(2 * 6e-4, rel=1e-9)
    assert areas(spread)[through] == areas(net)[through] == pytest.approx(8e-4, rel=1e-9)
    assert spread.ways.traits[through].tolist() == net.ways.traits[through].tolist()
    np.testing.assert_allclose(spread.ways.whole, areas(spread), rtol=1e-12)
    np.testing.assert_allclose(spread.ways.discharge, 1.1 * net.ways.discharge, rtol=1e-12)
    assert (spread_out(net, Spread(discharge=2.0)).ways.discharge == 1.0).all()
    assert net.ways.whole[leak] == pytest.approx(3e-4 * 0.12, rel=1e-9)  # left alone


def areas(net: Net) -> np.ndarray:
    first = net.ways.first
    return np.array([net.ways.areas[a:b].sum() for a, b in pairwise(first)])


def flooded(folder: Path, depth: float) -> tuple[Run, tuple[Chance, ...]]:
    """A pickup whose mouth has `depth` [m] over it, pump at a trickle, standing on level ground."""
    trickle = "[{rpm: 1000 rpm, flow: 0.006 L/min}, {rpm: 6000 rpm, flow: 0.006 L/min}]"
    height = f"{-50.0 - 1e3 * depth:.6f} mm"
    job = MotionJob(
        pickup=f"  pickup: {{centre: [150 mm, 0 mm, {height}], diameter: 40 mm}}\n",
        more=f"engine: {{rpm: 6000 rpm, flow: {trickle}}}\n",
    )
    parts = motion_parts(folder, job)
    done = motion_run(parts, Asked("hill", STAND))
    return done, chances(parts[0], parts[1], done, 400, 11)


def test_the_chance_of_a_level_too_low_is_that_of_its_fill(tmp_path: Path) -> None:
    """50 mm of oil in a box, 2 % of it a millimetre: dry where the fill is 1 - (d - H)/50 mm."""
    drawdown = 0.6884 * (1e-14 / 9.80665) ** 0.2  # R2.3a
    for depth in (drawdown + 0.5e-3, drawdown + 1.5e-3):
        done, (dry,) = flooded(tmp_path, depth)
        assert dry.requirement.startswith("dry_spell.hill, ")
        assert done.course.marched.least_cover == pytest.approx(depth - drawdown, abs=2e-5)
        least = 1.0 - (depth - drawdown) / 0.05
        exactly = np.mean([s.fill < least for s in spreads(400, 11)])
        # 1e-7 m3/s for 1.5 s up in the engine is 0.003 mm, the level's table up to 0.02: 2 samples
        assert dry.fails == pytest.approx(exactly, abs=0.006)
        wanted = float(norm(1.0, 0.02).cdf(least))
        assert dry.low - 0.005 < wanted < dry.high + 0.005


def test_the_draw_is_the_same_whatever_the_threads(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    folder = motion_folder(tmp_path, MotionJob(pan=f"  baffles:\n{WALL}{DOOR}", more=ENGINE))
    answers = []
    for threads in ("1", "2", "5"):
        monkeypatch.setenv("SUMPWRIGHT_THREADS", threads)
        answers.append(drive(folder, Asked("circle", TURN, chance=40, seed=5)).chances)
    assert answers[0] == answers[1] == answers[2]
    (only,) = answers[0]
    assert (only.samples, only.seed, only.drawn) == (40, 5, DRAWN)
    assert only.low <= only.fails <= only.high


def test_says_how_many_are_drawn(tmp_path: Path) -> None:
    said: list[tuple[str, float]] = []
    drive(
        motion_folder(tmp_path, MotionJob(more=ENGINE)),
        Asked("circle", TURN, chance=50, seed=1),
        lambda *told: said.append(told),
    )
    assert [share for text, share in said if text == "drawing chances"] == [0.2, 0.4, 0.6, 0.8, 1.0]


def test_a_typed_start_is_scaled_in_every_sample(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    parts = motion_parts(tmp_path, MotionJob(pan=f"  baffles:\n{WALL}{DOOR}", more=ENGINE))
    done = motion_run(parts, Asked("circle", TURN, start=(("A", 1e-3), ("B", 2.5e-3))))
    begun = []
    plain = chance.started_again

    def kept(*asked: object) -> object:
        begun.append(plain(*asked))  # type: ignore[arg-type]
        return begun[-1]

    monkeypatch.setattr(chance, "started_again", kept)
    monkeypatch.setenv("SUMPWRIGHT_THREADS", "1")
    chances(*parts[:2], done, 3, 2)
    for start, spread in zip(begun, spreads(3, 2), strict=True):
        held = 0.3e-3 * spread.retained  # up in the engine at 3000 rpm
        there = 3.8e-3 * spread.fill - held
        assert start.state[:2] == pytest.approx([there / 3.5, there * 2.5 / 3.5], rel=1e-12)
        assert start.state[2] == pytest.approx(held, rel=1e-12)


def test_what_is_off_has_no_chance(tmp_path: Path) -> None:
    job = MotionJob(more=ENGINE + "requirements: {dry_spell: off}\n")
    assert drive(motion_folder(tmp_path, job), Asked("circle", TURN, chance=2)).chances == ()
    bare = replace(job, pickup="", more=ENGINE)
    assert drive(motion_folder(tmp_path, bare), Asked("circle", TURN, chance=2)).chances == ()


def test_half_of_all_samples_fail_where_half_of_them_should() -> None:
    low, high = wilson(500, 1000)
    assert low == pytest.approx(1.0 - high, rel=1e-12)
    # half a width of 1.96 sqrt(p q / n) for many samples
    assert high - low == pytest.approx(2 * 1.96 * math.sqrt(0.25 / 1000), rel=0.01)
