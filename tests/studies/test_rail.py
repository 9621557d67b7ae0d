# SPDX-License-Identifier: Apache-2.0
"""Bolt pattern and measurements, on patterns whose answers are known by construction."""

from pathlib import Path

import numpy as np
import pytest

from sumpwright.errors import InputError
from sumpwright.studies.rail import rail_of
from tests.studies.box_job import box_job
from tests.studies.rail_job import NAMES, SPOTS, rail_job, turned


def off_one(hole: int, dx: float, dy: float) -> np.ndarray:
    spots = SPOTS.copy()
    spots[hole] += [dx, dy]
    return spots


def test_a_true_measurement_fits_wherever_its_axes_lie(tmp_path: Path) -> None:
    result = rail_of(rail_job(tmp_path, ("March", "calipers", turned(SPOTS, 33.0, (120, -40)))))
    (found,) = result.sets
    assert result.verdict == "met"
    assert found.rms_m < 1e-7  # typed to 0.0001 mm
    assert np.degrees(found.turn_rad) == pytest.approx(33.0, abs=1e-4)
    assert {h.state for h in found.holes} == {"fits"}
    assert not found.scale.told


def test_allowances_are_those_of_fixed_fasteners(tmp_path: Path) -> None:
    # [ASME-Y14.5] appendix B: M6 in 6.6 leaves 0.3 to each part; from a hole's centre half of that
    result = rail_of(rail_job(tmp_path, ("March", "calipers", SPOTS)))
    assert [h.own_m for h in result.holes] == pytest.approx([0.3e-3] * 10, rel=1e-9)
    hole = result.sets[0].holes[0]
    assert (hole.allowed_m, hole.most_m) == pytest.approx((0.15e-3, 0.3e-3), rel=1e-9)
    coarse = rail_of(rail_job(tmp_path / "b", more="  fit: coarse\n  position: 0.2 mm\n"))
    assert coarse.holes[0].left_m == pytest.approx(0.8e-3, rel=1e-9)  # 7.0 - 6 - 0.2


@pytest.mark.parametrize(("off", "state"), [(0.12, "fits"), (0.25, "tight"), (0.5, "strikes")])
def test_a_hole_out_of_place_is_named(tmp_path: Path, off: float, state: str) -> None:
    # what the fit takes of it: of one hole of ten at the side, under a fifth
    result = rail_of(rail_job(tmp_path, ("March", "calipers", off_one(3, 0.0, off))))
    found = result.sets[0]
    assert found.worst == "4"
    assert 0.8e-3 * off < found.worst_m <= 1e-3 * off
    assert found.holes[3].off_m[1] > 0.0
    assert found.state == state
    assert result.verdict == ("not met" if state == "strikes" else "met")


def test_a_small_print_names_the_printer_and_judges_no_pan(tmp_path: Path) -> None:
    noise = np.random.default_rng(3).normal(0, 0.02, SPOTS.shape)
    sets = (("March", "calipers", SPOTS), ("print 1", "printer", 0.996 * SPOTS + noise))
    result = rail_of(rail_job(tmp_path, *sets))
    found = result.sets[1]
    assert found.scale.told
    assert found.scale.scale == pytest.approx(0.996, abs=3 * found.scale.spread)
    assert found.state == "strikes"
    assert result.verdict == "met"
    assert any("the printer is 0.4" in c and "print at 100.4" in c for c in result.cautions)


def test_a_set_seen_from_the_other_side_is_told_so(tmp_path: Path) -> None:
    over = SPOTS * [1.0, -1.0]
    result = rail_of(rail_job(tmp_path, ("scan", "scan", over)))
    assert result.sets[0].mirrored_fits
    assert result.verdict == "not judged"
    assert any("say `seen: below`" in c for c in result.cautions)
    text = (tmp_path / "job.yaml").read_text("utf-8")
    (tmp_path / "job.yaml").write_text(text.replace("how: scan", "how: scan\n      seen: below"))
    again = rail_of(tmp_path)
    assert again.sets[0].rms_m < 1e-7
    assert again.verdict == "met"


def test_heat_and_pitch_are_worked_by_hand(tmp_path: Path) -> None:
    result = rail_of(rail_job(tmp_path))
    # aluminium on grey iron, 12.8e-6 /K, 100 K, corners 140 and 90 mm from the middle
    assert result.holes[0].grows_m == pytest.approx(12.8e-4 * np.hypot(0.14, 0.09), rel=1e-9)
    assert result.growth.growth_m == pytest.approx(12.8e-4 * np.hypot(0.28, 0.18), rel=1e-9)
    assert len(result.pitches) == 10
    widest = max(result.pitches, key=lambda p: p.pitch_m)
    assert {widest.first, widest.second} in ({"10", "1"}, {"6", "7"})
    assert widest.pitch_m == pytest.approx(0.18)
    assert widest.usual == "wide"
    assert {p.usual for p in result.pitches if p.first == "1"} == {"usual"}  # 50 mm


@pytest.mark.parametrize(
    ("fit", "words"), [("medium", "end holes the coarse series"), ("coarse", "slots along the pan")]
)
def test_ends_that_heat_moves_too_far_get_what_still_helps(
    tmp_path: Path, fit: str, words: str
) -> None:
    rail_job(tmp_path, more=f"  fit: {fit}\n  hot: 200 degC\n")
    assert any(words in caution for caution in rail_of(tmp_path).cautions)


def test_the_edge_goes_round_the_holes_where_nobody_draws_it(tmp_path: Path) -> None:
    edge = np.array(rail_of(rail_job(tmp_path)).edge)
    assert edge.min(axis=0) == pytest.approx((0.0, -0.1), abs=2e-4)  # 10 mm round the holes
    assert edge.max(axis=0) == pytest.approx((0.3, 0.1), abs=2e-4)


def test_an_arc_in_the_outline_goes_through_its_point(tmp_path: Path) -> None:
    more = (
        "  outline:\n    - at: [0 mm, -100 mm]\n    - at: [300 mm, -100 mm]\n"
        "    - {at: [300 mm, 100 mm], through: [320 mm, 0 mm]}\n    - at: [0 mm, 100 mm]\n"
    )
    edge = np.array(rail_of(rail_job(tmp_path, more=more)).edge)
    # 200 mm chord, 20 mm high: radius (100^2 + 20^2) / 40 = 260 mm about (60, 0)
    bent = edge[edge[:, 0] > 0.3001]
    assert len(bent) > 5
    np.testing.assert_allclose(np.hypot(bent[:, 0] - 0.06, bent[:, 1]), 0.26, atol=1e-9)
    assert edge[:, 0].max() == pytest.approx(0.32, abs=3e-4)


@pytest.mark.parametrize(
    ("count", "words"),
    [
        (10, "Every bolt goes in: "),
        (2, "The bolts of the 2 of 10 holes that were measured go in: "),
    ],
)
def test_only_holes_that_were_measured_are_said_to_fit(
    tmp_path: Path, count: int, words: str
) -> None:
    result = rail_of(rail_job(tmp_path, ("March", "calipers", SPOTS[:count])))
    assert result.summary.startswith(words)


def test_a_job_without_holes_says_what_it_needs(tmp_path: Path) -> None:
    with pytest.raises(InputError, match="RAIL-505"):
        rail_of(box_job(tmp_path))


WRONG = {
    "twice": ("RAIL-501", "at: [60.0000 mm, -90.0000 mm]", "at: [13 mm, -88 mm]"),
    "small": ("RAIL-502", "{name: 1, at", "{diameter: 5.9 mm, name: 1, at"),
    "stranger": ("RAIL-503", "        - {name: 1,", "        - {name: 11,"),
    "cold": ("RAIL-504", "  holes:\n    -", "  hot: -20 degC\n  holes:\n    -"),
    "crossed": ("RAIL-512", "  holes:\n    -", "  outline: [{at: [0 mm, -100 mm]}, "
                "{at: [300 mm, 100 mm]}, {at: [300 mm, -100 mm]}, {at: [0 mm, 100 mm]}]\n"
                "  holes:\n    -"),
    "off the edge": ("RAIL-513", "at: [60.0000 mm, -90.0000 mm]", "diameter: 21 mm, "
                     "at: [60.0000 mm, -90.0000 mm]"),
    "in the opening": ("RAIL-513", "  holes:\n    -", "  opening: [{at: [13 mm, -80 mm]}, "
                       "{at: [280 mm, -80 mm]}, {at: [280 mm, 88 mm]}, {at: [200 mm, 88 mm]}, "
                       "{at: [200 mm, 80 mm]}, {at: [13 mm, 80 mm]}]\n"
                       "  outline: [{at: [-9 mm, -99 mm]}, {at: [299 mm, -99 mm]}, "
                       "{at: [299 mm, 99 mm]}, {at: [-9 mm, 99 mm]}]\n  holes:\n    -"),
    "wide": ("RAIL-514", "  holes:\n    -", "  opening: [{at: [20 mm, -80 mm]}, "
             "{at: [320 mm, 0 mm]}, {at: [20 mm, 80 mm]}]\n  holes:\n    -"),
    "arc": ("RAIL-512", "  holes:\n    -", "  outline: [{at: [-9 mm, -99 mm]}, {at: [299 mm, "
            "-99 mm], radius: 50 mm}, {at: [299 mm, -60 mm], through: [301 mm, -80 mm]}, "
            "{at: [299 mm, 99 mm]}, {at: [-9 mm, 99 mm]}]\n  holes:\n    -"),
    "same name": ("JOB-136", "        - {name: 2,", "        - {name: 1,"),
}  # fmt: skip


@pytest.mark.parametrize("what", WRONG)
def test_bad_patterns_get_one_clear_problem(tmp_path: Path, what: str) -> None:
    code, old, new = WRONG[what]
    rail_job(tmp_path, ("March", "calipers", SPOTS))
    path = tmp_path / "job.yaml"
    text = path.read_text("utf-8")
    assert old in text
    path.write_text(text.replace(old, new, 1), encoding="utf-8")
    with pytest.raises(InputError) as caught:
        rail_of(tmp_path)
    assert [p.code for p in caught.value.problems] == [code]
    assert "rail." in caught.value.problems[0].where


@pytest.mark.parametrize(("count", "words"), [(3, "3 bolts hold no"), (4, "")])
def test_few_bolts_hold_no_flange_flat(tmp_path: Path, count: int, words: str) -> None:
    folder = rail_job(tmp_path)
    path = folder / "job.yaml"
    last = f"    - {{name: {count + 1},"
    text = path.read_text("utf-8")
    path.write_text(text[: text.index(last)], encoding="utf-8")
    said = [c for c in rail_of(folder).cautions if "flange flat" in c]  # common practice
    assert len(said) == (1 if words else 0)
    assert all(c.startswith(words) for c in said)


def test_two_holes_are_enough_for_a_fit_but_for_no_scale(tmp_path: Path) -> None:
    found = rail_of(rail_job(tmp_path, ("two", "calipers", SPOTS[:2]))).sets[0]
    assert found.scale.spread is None
    assert not found.scale.told
    assert found.bend is None
    assert list(found.missing) == NAMES[2:]
