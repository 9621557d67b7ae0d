# SPDX-License-Identifier: Apache-2.0
"""Units at the edge: exact values, what is refused and what it then says.

Sources: NIST SP 811 (2008) appendix B.8 for inch, foot, gallon, quart, pint, pound; SI Brochure
(9th ed.) for litre and standard gravity, both from memory. The units library is the reference
for unit.csv.
"""

import csv
import math
import subprocess
import sys
from pathlib import Path

import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st
from pydantic_core import PydanticCustomError

import sumpwright.units
from sumpwright.units import Quantity, resolved, shown, to_si

TABLE = Path(sumpwright.units.__file__).with_name("unit.csv")
ROWS = list(csv.DictReader(x for x in TABLE.read_text("utf-8").splitlines() if x[0] != "#"))


@pytest.mark.parametrize("row", ROWS, ids=lambda r: f"{r['name']}-{r['si']}")
def test_the_table_is_what_the_units_library_says(row: dict[str, str]) -> None:
    assert resolved(row["name"], row["si"]) == (float(row["factor"]), float(row["offset"]))


@pytest.mark.parametrize(
    ("text", "unit", "si"),
    [
        ("1 in", "m", 0.0254),  # NIST SP 811 B.8: exact
        ("1 ft", "m", 0.3048),  # NIST SP 811 B.8: exact
        ("1 qt", "m^3", 9.463529e-4),  # NIST SP 811 B.8: 7 digits printed, US liquid
        ("1 gal", "m^3", 3.785412e-3),  # NIST SP 811 B.8: 7 digits printed
        ("1 pt", "m^3", 4.731765e-4),  # NIST SP 811 B.8: 7 digits printed, US liquid
        ("1 fl oz", "m^3", 2.957353e-5),  # NIST SP 811 B.8: 7 digits printed
        ("1 gal/min", "m^3/s", 6.309020e-5),  # NIST SP 811 B.8: 7 digits printed
        ("1 lb/ft^3", "kg/m^3", 16.01846),  # NIST SP 811 B.8: 7 digits printed
        ("1 lb/gal", "kg/m^3", 119.8264),  # NIST SP 811 B.8: 7 digits printed
        ("1 cSt", "m^2/s", 1e-6),  # NIST SP 811 B.8: exact
        ("1 g", "m/s^2", 9.80665),  # SI Brochure: standard gravity, exact; never grams
        ("1 L", "m^3", 1e-3),  # SI Brochure: exact
        ("212 degF", "K", 373.15),  # NIST SP 811 B.8: (t + 459.67)/1.8, exact
        ("60 rpm", "rad/s", 2 * math.pi),
        ("180 deg", "rad", math.pi),
        ('0.5"', "m", 0.0127),
        ("1 psi", "Pa", 6894.757),  # NIST SP 811 B.8: 7 digits printed
        ("1 bar", "Pa", 1e5),  # SI Brochure: exact
        ("1 mph", "m/s", 0.44704),  # NIST SP 811 B.8: exact
        ("36 km/h", "m/s", 10.0),  # SI Brochure: 1 h = 3600 s, exact
        ("1 in^2", "m^2", 6.4516e-4),  # NIST SP 811 B.8: exact
        ("20 g", "kg", 0.02),  # a mass cannot be standard gravity
        ("1 oz", "kg", 2.834952e-2),  # NIST SP 811 B.8: 7 digits printed
        ("1 lb", "kg", 0.4535924),  # NIST SP 811 B.8: 7 digits printed
        ("1 lb in", "N m", 0.1129848),  # NIST SP 811 B.8: pound-force inch, 7 digits printed
        ("1 oz in", "N m", 7.061552e-3),  # NIST SP 811 B.8: ounce-force inch, 7 digits printed
        ("1 mN m/deg", "N m/rad", 0.18 / math.pi),
        ("3 g/s", "m/s^3", 29.41995),  # of standard gravity, exact
        ("95 %", "dimensionless", 0.95),
    ],
)
def test_units_have_their_published_size(text: str, unit: str, si: float) -> None:
    assert to_si(text, unit) == pytest.approx(si, rel=5e-7)  # half the last of 7 digits


@pytest.mark.parametrize(
    "text",
    [
        *("3,5 mm", "3..5 mm", "mm", "nan mm", "inf mm", "1e999 mm", "3", "", "3 mm 4", "1.2 kg"),
        *("3 mm # c", "3 (mm)", "3 mm*1", "3 mm;", "3 mm + 1 mm", "3 mm**1"),
        *("- 3 mm", "3 furlongs per", "__import__('os') mm", "3 mm; 4 mm", "3 mm 2"),
    ],
)
def test_refuses_what_is_not_one_number_and_one_length(text: str) -> None:
    with pytest.raises(ValueError):
        to_si(text, "m")


@pytest.mark.parametrize(
    ("text", "unit"),
    [("50 Hz", "rad/s"), ("50 rpm", "Hz"), ("1 mN m", "N m/rad"), ("1 mN m/rad", "N m"),
     ("20 g", "N m"), ("1 kg", "m/s^2"), ("95 deg", "dimensionless"), ("95 %", "rad")],
)  # fmt: skip
def test_refuses_what_differs_by_an_angle_or_is_of_another_kind(text: str, unit: str) -> None:
    with pytest.raises(ValueError):
        to_si(text, unit)


@given(st.floats(-1e3, 1e3).map(lambda x: round(x, 6)), st.sampled_from(ROWS))
def test_reads_any_number_as_the_units_library_does(number: float, row: dict[str, str]) -> None:
    name, si = row["name"], row["si"]
    zero, one = (_peer(x, name, si) for x in (0.0, 1.0))
    # the library works in binary floats: a few roundings of its own
    assert to_si(f"{number:.6f} {name}", si) == pytest.approx(
        zero + number * (one - zero), rel=1e-11, abs=1e-11 * abs(zero)
    )


_PEER = pint.UnitRegistry(autoconvert_offset_to_baseunit=True)
_PEER_NAMES = {
    "g": "standard_gravity", "l": "liter", "litres": "liter", "C": "degC", "F": "degF",
    "°C": "degC", "°F": "degF", "°": "degree", '"': "inch", "cSt": "mm^2/s", "pt": "pint",
    "US qt": "quart", "US gal": "gallon", "US pt": "pint", "fl oz": "fluid_ounce",
    "fl_oz": "fluid_ounce", "g/s": "standard_gravity/s", "Nm": "newton*meter",
    "mNm": "mN*m", "Nm/rad": "N*m/rad", "mNm/rad": "mN*m/rad", "lb in": "lbf*inch",
    "oz in": "ozf*inch", "%": "percent",
}  # fmt: skip


def _peer(number: float, name: str, si: str) -> float:
    peer = "gram" if (name, si) == ("g", "kg") else _PEER_NAMES.get(name, name)
    return float(_PEER.Quantity(number, peer).m_as(si))


@pytest.mark.parametrize(
    ("text", "do"),
    [
        ("4.9", "write its unit behind the number, as in '4.9 L'"),
        ("3,5 L", "write a point, and the unit: '3.5 L'"),
        ("3,5", "write a point, and the unit: '3.5 L'"),
        ("4 1/2 qt", "write a decimal: '4.5 qt'"),
        ("4 kg", "'kg' is not a unit for this; use L or qt"),
        ("4 Litres", "'Litres' is not a unit for this; use litres"),
        ("4 mm", "'mm' is not a unit for this; use L or qt"),
        ("4 g", "'g' is not a unit for this; use L or qt"),
        ("1e400 L", "write a smaller number"),
        ("4 L # stock", "'L # stock' is not a unit for this; use L or qt"),
        ("plenty", "write number, point, unit: '0.001 L'"),
        ("3..5 L", "write number, point, unit: '0.001 L'"),
    ],
)
def test_says_what_to_write_instead(text: str, do: str) -> None:
    with pytest.raises(PydanticCustomError) as caught:
        Quantity("m^3", "0.001 L", "100 L").read(text)
    assert caught.value.context == {"needed": "0.001 L to 100 L", "do": do}


@pytest.mark.parametrize(
    ("need", "text", "do"),
    [
        (Quantity("dimensionless", "20 %", "100 %"), "0.95", "write it in percent, as in '20 %'"),
        (
            Quantity("N m", "0 mN m", "10 N m"),
            "2",
            "write its unit behind the number, as in '2 mN m'",
        ),
        (Quantity("kg", "0.1 g", "10 kg"), "2 mm", "'mm' is not a unit for this; use g or oz"),
        (Quantity("Pa", "1 kPa", "2 MPa"), "2 g", "'g' is not a unit for this; use kPa or psi"),
        (Quantity("s", "0 s", "9 s"), "2 mm", "'mm' is not a unit for this; use s"),
    ],
)
def test_says_what_to_write_for_the_quantities_of_motion(need, text: str, do: str) -> None:
    with pytest.raises(PydanticCustomError) as caught:
        need.read(text)
    assert caught.value.context == {"needed": need.needed, "do": do}


def test_says_the_range_and_its_words() -> None:
    with pytest.raises(PydanticCustomError) as caught:
        Quantity("m/s^2", "0 g", "3 g", "stock", "off").read("4 g")
    assert caught.value.type == "range"
    assert "0 g to 3 g, or stock, or off" in str(caught.value)


def test_takes_the_ends_of_the_range_as_typed() -> None:
    assert Quantity("m", "0.1 mm", "5 m").read("500 cm") == pytest.approx(5.0, rel=1e-15)


def test_shows_metric_and_us() -> None:
    assert shown(4.52e-3, "volume") == "4.52 L"
    assert shown(9.46352946e-4, "volume", "us") == "1.00 qt"  # NIST SP 811 B.8
    assert shown(0.0254, "length", "us") == "1.000 in"
    assert shown(373.15, "temperature", "us") == "212 °F"


def test_reading_the_usual_units_does_not_wake_the_units_library() -> None:
    code = (
        "import sys; from sumpwright.units import to_si; to_si('4.6 L', 'm^3'); "
        "to_si('3 qt', 'm^3'); sys.exit('pint' in sys.modules)"
    )
    assert subprocess.run([sys.executable, "-c", code], check=False).returncode == 0
