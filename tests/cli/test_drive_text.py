# SPDX-License-Identifier: Apache-2.0
"""The answer of a drive, read on a terminal."""

import re
from dataclasses import replace
from pathlib import Path

import pytest

from sumpwright.cli.drive_text import drive_text, drive_verdict
from sumpwright.cli.ledger_text import WIDTH
from tests.cli.drive_sample import drive_result

EXPECTED = """\
NOT MET  Bench engine, revision B
  left, accel 1.0 g (circle)
  4.0 s, up to 1.00 g, oil 100 °C, doors working

What fails, and by how much
  Longest time with air at the pickup:
    1.1 s, needs 0.0 s: short by 1.1 s (from 1.60 s on)

Pickup (in compartment A)
  first air                    1.60 s  1.00 g, left turn (steady)
  longest time with air        1.10 s
  with air in all              1.10 s
  air drawn                    0.21 L
  least cover                 −4.0 mm  at 2.00 s, 1.00 g, left turn (steady)
  least inlet pressure       71.2 kPa  at 2.00 s, 1.00 g, left turn (steady)

Oil in compartments
              least                 most                holds
  A  right   0.40 L at 2.00 s     2.00 L at 0.00 s     3.20 L
  B          1.00 L at 0.00 s     2.45 L at 2.00 s     2.50 L

Doors
  left door                       61°  of 70°, from 1.00 s, 50 % of the time
  right door                     shut  all the time

Chance that it fails (96 samples, seed 7)
  Longest time with air at the pickup: 34.0 % (25.2 to 44.1 %)
  drawn at random: fill ±0.2 L; door gap ±50 %

Ledger
                            value        limit       margin
  NOT MET  dry_spell        1.1 s        0.0 s       −1.1 s

Not judged yet
  inlet_hot: needs `new.suction`

Numbers: oil lost or won 3.0e-12 of the fill; a step's error up to 0.019 mm,
         allowed 0.020 mm; levels by table within 0.110 mm of exact ones; 5210
         steps, 44 taken back.
Assumed: Engine speed is held at 4500 rpm.
Noticed: log.csv: gravity is in it; 1 g was taken off [LOG-120]

Report  out/drive.html

Computed, not proven: an engine can be lost to a figure here that is off. Prove
the pan in stages, watch the oil pressure, and let local rules and qualified
practice go first.
"""


def test_says_what_was_driven_what_fails_and_where_the_oil_was() -> None:
    assert drive_text(drive_result(), (Path("out/drive.html"),)) == EXPECTED.rstrip("\n")


def test_a_pickup_that_keeps_its_oil_is_said_shortly() -> None:
    text = drive_text(drive_result(dry=False), ())
    assert text.startswith("MET  Bench")
    assert (
        "  first air                     never\n  least cover                  1.2 mm  at" in text
    )
    for gone in ("What fails", "longest time", "air drawn", "Noticed", "Report", "Chance"):
        assert gone not in text


def test_a_pan_without_pickup_doors_or_pump() -> None:
    result = drive_result(dry=False)
    bare = replace(
        result,
        doors=(),
        doors_are="no baffles",
        pickup=replace(result.pickup, compartment=None, cover_m=(None,) * 5, air_fraction=()),
        summary=replace(result.summary, least_cover_m=None, least_inlet_pa=None),
        requirements=(),
    )
    text = drive_text(bare, ())
    assert text.startswith("NOTHING JUDGED YET  Bench engine")
    assert "oil 100 °C, no baffles" in text
    assert "\nPickup\n  first air                         -\n\nOil in compartments" in text
    assert "Doors" not in text


def test_a_pressure_that_no_oil_can_have_is_none() -> None:
    summary = replace(drive_result().summary, least_inlet_pa=-1.05e5)
    text = drive_text(replace(drive_result(), summary=summary), ())
    assert "  least inlet pressure           none  at 2.00 s, 1.00 g, left turn" in text


def test_no_line_is_wider_than_a_terminal() -> None:
    wide = replace(
        drive_result(),
        manoeuvre="a name that goes on " * 6,
        assumptions=("A sentence that goes on and on. " * 6,),
    )
    wide = replace(
        wide,
        compartments=tuple(replace(c, where="middle, behind the tray") for c in wide.compartments),
        time_s=tuple(t + 1234.5 for t in wide.time_s),
        accel_g=((-0.4, -0.9, 0.3),) * 5,
        spans=(("a stage with a long name", 0.0, 2000.0),),
        doors=tuple(
            replace(d, name=f"a door with a name that goes on, the {side} one")
            for d, side in zip(wide.doors, ("left", "right"), strict=True)
        ),
        requirements=tuple(
            replace(r, id=f"{r.id}.a name that goes on and on, {'x' * 40}")
            for r in wide.requirements
        ),
    )
    lines = drive_text(wide, ()).splitlines()
    assert max(map(len, lines)) <= WIDTH
    at = lines.index("  NOT MET  dry_spell.a name that goes on")
    assert lines[at + 2].split() == ["x" * 18, "1.1", "s", "0.0", "s", "−1.1", "s"]
    at = lines.index("  a door with a name that goes on, the left one")
    assert lines[at + 1].split()[:3] == ["61°", "of", "70°,"]


@pytest.mark.parametrize(
    ("kind", "said"),
    [
        ("circle", "1.02 g, left turn and thrown up"),
        ("bank", "1.02 g, left turn and pressed down"),
        ("hill", "1.02 g, as if left turn and pressed down"),
    ],
)
def test_a_slope_is_no_jump(kind: str, said: str) -> None:
    tilted = replace(drive_result(), kind=kind, accel_g=((0.0, 1.0, 0.2),) * 5)
    assert said in " ".join(drive_text(tilted, ()).split())


def test_us_units_and_colour() -> None:
    text = drive_text(replace(drive_result(), units="us"), (), colour=True)
    assert "oil 212 °F" in text
    assert "0.42 qt" in text
    plain = re.sub(r"\x1b\[\d+m", "", text)
    assert plain == drive_text(replace(drive_result(), units="us"), ())


def test_verdict_is_that_of_the_worst_line() -> None:
    assert drive_verdict(drive_result()) == "not met"
    assert drive_verdict(drive_result(dry=False)) == "met"
    result = drive_result()
    assert drive_verdict(replace(result, requirements=result.requirements[1:])) == "not judged"
