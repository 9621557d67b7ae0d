# SPDX-License-Identifier: Apache-2.0
"""The summary of a check, read on a terminal."""

import re
from dataclasses import replace
from pathlib import Path

from sumpwright.cli.check_text import WIDTH, check_text
from sumpwright.studies.result import CheckResult

EXPECTED = """\
NOT MET  Bench engine, revision B
2 requirements met, 2 not met, 2 not judged

What fails, and by how much
  The pan clears the crossmember:
    6.8 mm, needs 10.0 mm: short by 3.2 mm (worst case: full torque)
  The pickup stays covered in a left turn, static:
    0.78 g, needs 1.58 g: short by 0.80 g (against the stock pan)

Room (worst case of engine movement)
  crossmember                   6.8 mm  needs 10.0 mm  in full torque
  over the guard               12.0 mm
  over the ground             142.0 mm
  at full bump                 72.0 mm

Oil                                new         stock
  at the full mark              4.60 L        4.60 L
  service fill                  5.10 L        5.10 L
  most it can hold              5.60 L        5.60 L
  depth at full                75.2 mm      125.6 mm
  hot, to the crank            18.1 mm       18.1 mm

Dipstick (from its stop, level ground, cold)
  full mark                   190.9 mm
  low mark                    199.1 mm
  reads no lower than         266.2 mm

Hold, steady, no baffles           new         stock
  left turn                     0.78 g        1.58 g
  right turn                    0.81 g        1.60 g
  braking                       0.25 g        0.25 g
  accelerating                ≥ 1.60 g      ≥ 1.60 g
  nose uphill                    56.5°         56.5°
  nose downhill                  13.8°         13.8°
  left side uphill               37.4°         37.4°
  right side uphill              37.4°         37.4°
  with 4.16 L really in the pan, hot at 6500 rpm

Ledger
                                        value        limit       margin
  met      capacity                    5.60 L       4.60 L      +1.00 L
  NOT MET  clearance.crossmember       6.8 mm      10.0 mm      −3.2 mm
  NOT MET  hold_left                   0.78 g       1.58 g      −0.80 g
  met      slope_up                     56.5°        17.0°       +39.5°

Not judged yet
  target_left, target_right: needs baffles in motion

Noticed: pan.stl: near x 3 mm: 2 triangles without area [GEO-309]

Report  job/out/report.html
        job/out/report.pdf

Computed, not proven: an engine can be lost to a figure here that is off. Prove
the pan in stages, watch the oil pressure, and let local rules and qualified
practice go first."""


def test_says_the_verdict_first_then_what_fails_then_the_figures(result: CheckResult) -> None:
    pages = (Path("job/out/report.html"), Path("job/out/report.pdf"))
    assert check_text(result, pages) == EXPECTED


def test_fits_eighty_columns_and_a_screen_or_two(result: CheckResult) -> None:
    long = replace(result, summary="x", job="A name of " + "many words " * 3)
    lines = check_text(long, ()).splitlines()
    assert max(map(len, lines)) <= WIDTH
    assert len(lines) < 70


def test_shows_us_units_to_a_person_who_wants_them(result: CheckResult) -> None:
    text = check_text(replace(result, units="us", findings=()), ())
    # NIST SP 811 B.8: 1 qt = 0.946353 L, 1 in = 25.4 mm
    assert re.search(r"at the full mark +4\.86 qt", text)
    assert re.search(r"crossmember +0\.268 in", text)
    assert "0.268 in, needs 0.394 in: short by 0.126 in" in text
    assert "mm" not in text
    assert " L " not in text


def test_a_limit_beyond_what_was_looked_at_is_said_so(result: CheckResult) -> None:
    assert result.hold is not None
    steep = replace(result, hold=replace(result.hold, slope_up_deg=60.0))
    assert re.search(r"nose uphill +≥ 60\.0° +56\.5°", check_text(steep, ()))


def test_no_heading_stands_over_nothing(result: CheckResult) -> None:
    assert result.clearance is not None
    bare = replace(result.clearance, obstacles=(), guard=None, ground_m=None, ground_at_bump_m=None)
    assert "Room" not in check_text(replace(result, clearance=bare), ())


def test_colour_adds_nothing_but_colour(result: CheckResult) -> None:
    coloured = check_text(result, (), colour=True)
    assert "\x1b[31m" in coloured
    assert re.sub(r"\x1b\[[0-9;]*m", "", coloured) == check_text(result, ())


def test_does_not_call_a_job_met_that_nothing_was_judged_of(result: CheckResult) -> None:
    lines = tuple(r for r in result.requirements if r.state == "not judged")
    bare = replace(result, requirements=lines, verdict="not judged", clearance=None, hold=None)
    text = check_text(bare, ())
    assert text.startswith("NOTHING JUDGED YET  Bench engine")
    assert "nothing can be judged yet" in text
