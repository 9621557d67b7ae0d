# SPDX-License-Identifier: Apache-2.0
"""Write src/sumpwright/unit.csv: the units of job files, each resolved once by the units library.

Run it after changing ROWS. tests/test_units.py compares the file with the library.
"""

from pathlib import Path

from sumpwright.units import resolved

TABLE = Path(__file__).parents[1] / "src/sumpwright/unit.csv"
HEAD = """\
# Units met in job files: typed name, SI unit, factor, offset (SI value = number * factor + offset).
# Source: resolved by pint's default registry; written by tools/write_units.py. qt, pt, gal are US.
"""
ROWS = {
    "m": 'mm cm m µm um in inch inches " ft feet foot thou',
    "m^3": "L l litre litres liter liters mL ml cL dL cc m^3 m³ cm^3 cm³ mm^3 mm³ dm^3 in^3 in³ "
    "ft^3 qt quart quarts pt pint pints gal gallon gallons fl_oz",
    "rad": "deg degree degrees ° rad",
    "rad/s": "rpm rad/s",
    "K": "degC °C C degF °F F K",
    "kg/m^3": "kg/m^3 kg/m³ kg/L kg/l g/cm^3 g/cm³ g/mL g/ml lb/ft^3 lb/gal",
    "m^2/s": "mm^2/s mm²/s cSt m^2/s cm^2/s",
    "m^3/s": "L/min l/min L/s L/h qt/min gal/min m^3/h m^3/s cm^3/s cm^3/min",
    "m/s^2": "g m/s^2 m/s² ft/s^2",
    "m^2": "mm^2 mm² cm^2 cm² m^2 m² in^2 in²",
    "m/s": "m/s km/h kph mph ft/s mm/min m/min",
    "s": "s ms min",
    "Hz": "Hz",
    "m/s^3": "m/s^3 m/s³ g/s",
    "Pa": "kPa bar psi mbar hPa Pa MPa",
    "kg": "g kg gram grams oz lb",
    "N m": "Nm mNm",
    "N m/rad": "Nm/rad mNm/rad",
    "dimensionless": "% percent",
}
SPACED = {
    "m^3": ("US qt", "US gal", "US pt", "fl oz"),
    "N m": ("N m", "mN m", "oz in", "lb in", "ozf in", "lbf in"),
    "N m/rad": ("N m/rad", "mN m/rad", "mN m/deg"),
}


def main() -> None:
    lines = []
    for si, names in ROWS.items():
        for name in (*names.split(), *SPACED.get(si, ())):
            factor, offset = resolved(name, si)
            quoted = '""""' if name == '"' else name
            lines.append(f"{quoted},{si},{factor!r},{offset!r}\n")
    TABLE.write_text(HEAD + "name,si,factor,offset\n" + "".join(lines), encoding="utf-8")
    print(f"{TABLE}: {len(lines)} units")


if __name__ == "__main__":
    main()
