# SPDX-License-Identifier: Apache-2.0
"""The inspection sheet: what is measured, with boxes to fill in; the leak test; the bolt order."""

import math

from sumpwright.report.palette import INK, PAPER
from sumpwright.report.svg import Drawing
from sumpwright.report.table import Table
from sumpwright.report.text import plain
from sumpwright.studies.make_result import BoltTurn, LeakTest, Made
from sumpwright.studies.rail_result import RailResult
from sumpwright.units import shown

WIDE, EDGE = 960.0, 44.0
MOST = 2e4
"""Pa over the air outside that no pan is tested beyond; the job file takes no more"""
PSI = 6894.757293168361
"""Pa"""
DOT = 12.0
"""Radius of a bolt's ring in the picture"""
FLANGE, FADED = "#8a96a3", "#55616e"


def inspection_tables(made: Made) -> tuple[Table, ...]:
    """Measures, hole places, leak test."""
    holes = () if made.rail is None else (holes_table(made.rail),)
    return (_measures(made), *holes, leak_table(made.leak, made.loaded.job.units))


def _measures(made: Made) -> Table:
    rows = tuple((plain(m.what), plain(m.asked), plain(m.how), "") for m in made.measures)
    return Table(
        "measures",
        "Inspection: sizes and faces",
        ("What", "Asked", "How", "Found, by, date"),
        rows,
        note="Measure at room temperature, washed and dry. What is out is written down and shown "
        "to whoever asked for the pan before it is fitted.",
        words=(0, 1, 2, 3),
    )


def holes_table(rail: RailResult) -> Table:
    """Where every hole is to be, from the first, with room for what is found."""
    units, datum = rail.units, rail.holes[0].at_m
    fine = 2 if units == "metric" else 4
    rows = tuple(
        (
            plain(h.name),
            *(shown(h.at_m[k] - datum[k], "length", units, digits=fine) for k in (0, 1)),
            shown(max(h.own_m, 0.0), "length", units, digits=fine),
            "",
            "",
        )
        for h in rail.holes
    )
    return Table(
        "holes",
        "Inspection: places of the bolt holes",
        ("Hole", "x", "y", "Asked, dia.", "Found dx, dy", "2 x root(dx² + dy²)"),
        rows,
        note=f"From hole {plain(rail.holes[0].name)}, x ahead, y to the left. A hole that is off "
        "by dx and dy is out of place by twice the root of dx² + dy², a diameter; it must not be "
        f"over the one asked. {rail.thread}, ISO 273 {rail.fit}.",
        words=(0, 4, 5),
    )


def leak_table(leak: LeakTest, units: str) -> Table:
    """The leak test in the order it is done."""
    limit = 60e6 * leak.limit_m3_s

    def pressure(value: float) -> str:
        return _gauge(value, units)

    why = "as the job asks"
    if not leak.given:
        why = (
            "stands for a drop of 0.05 mL of hot oil in eight hours under "
            f"{pressure(leak.head_pa or 0.0)} of oil, oil {1e3 * (leak.viscosity_pa_s or 0.0):.1f} "
            "mPa s, laminar through one fine way"
        )
    volume = shown(leak.volume_m3, "volume", units)
    rows = (
        ("Close it", "flat plate and gasket on the rail, all bolts; plugs in; baffles may stay"),
        ("Volume under test", f"{volume}; add hose and cover (`shop.inspection.hose`)"),
        ("Relief", f"valve or water column that opens at {pressure(1.3 * leak.pressure_pa)}"),
        ("Fill to", f"{pressure(leak.pressure_pa)} over the air outside, slowly; shut the valve"),
        ("Settle", f"{leak.settle_s / 60.0:.0f} min: out of sun and draught, not touched"),
        ("Wait", f"{leak.time_s / 60.0:.0f} min between the readings"),
        ("Most that may leak", f"{limit:.2g} std cm³/min of air: {why}"),
        (
            "Pressure may fall by",
            f"{pressure(leak.drop_pa)} at most, once temperature is allowed for",
        ),
        ("Gauge must see", f"{pressure(leak.resolution_pa)}"),
        ("0.1 K looks like", f"{pressure(leak.drift_pa)}: read the air's temperature inside, too"),
        ("Found p1, T1 / p2, T2", ""),
        ("Leak Q, passed, by, date", ""),
    )
    note = (
        "Q = V / t x T0 / p0 x (p1 / T1 - p2 / T2), pressures absolute, temperatures in kelvin, "
        "T0 273.15 K, p0 101 325 Pa: standard volume. A pan is not a pressure vessel: never over "
        f"{pressure(MOST)}, behind a guard, nobody in front of the plate, eye protection; let the "
        "air out before a bolt is touched. Soapy water shows where; then wash and dry."
    )
    return Table("leak", "Leak test by pressure decay", ("Step", "What"), rows, note, words=(0, 1))


def _gauge(pressure: float, units: str) -> str:
    """As a gauge of low pressures reads it, two figures: ``2.1 mbar``, ``0.030 psi``."""
    value, unit = (pressure / 100.0, "mbar") if units == "metric" else (pressure / PSI, "psi")
    digits = 1 - math.floor(math.log10(value)) if 0.0 < value < 100.0 else 0
    return f"{value:.{max(digits, 0)}f} {unit}"


def bolts_table(made: Made) -> Table | None:
    """The order as a list."""
    if not made.bolts:
        return None
    rows = tuple((str(b.turn), plain(b.name)) for b in made.bolts)
    return Table("bolts", "Bolt order", ("Turn", "Hole"), rows, fold=4, words=(0, 1), note=BOLTS)


BOLTS = (
    "All bolts by hand first. Then twice round in this order, at half the torque and at all of it, "
    "and once more round at all of it. From the middle outward and crosswise is usual practice; "
    "the engine maker's own order and torque go before it."
)


def bolts_view(rail: RailResult, bolts: tuple[BoltTurn, ...]) -> bytes:
    """The order in a picture: seen from above, nose to the right; holes' names beside it."""
    spots = [*rail.edge, *(b.at_m for b in bolts)]
    low = [min(p[k] for p in spots) for k in (0, 1)]
    high = [max(p[k] for p in spots) for k in (0, 1)]
    scale = (WIDE - 2.0 * EDGE) / max(high[0] - low[0], 2.0 * (high[1] - low[1]), 1e-3)
    tall = scale * (high[1] - low[1]) + 2.0 * EDGE
    says = f"Bolts numbered in the order of tightening, {len(bolts)}"
    drawing = Drawing(WIDE, tall, key="bolts", says=says)

    def at(spot: tuple[float, float]) -> tuple[float, float]:
        return EDGE + scale * (spot[0] - low[0]), tall - EDGE - scale * (spot[1] - low[1])

    drawing.path([[at(p) for p in rail.edge]], stroke=FLANGE, width=1.2)
    middle = at((0.5 * (low[0] + high[0]), 0.5 * (low[1] + high[1])))
    for bolt in bolts:
        x, y = at(bolt.at_m)
        drawing.dot((x, y), DOT, fill=PAPER, stroke=INK, width=1.6)
        drawing.text((x, y + 5.5), str(bolt.turn), size=15, anchor="middle", bold=True)
        sides = (abs(y - middle[1]) / tall, abs(x - middle[0]) / WIDE)
        if sides[0] >= sides[1]:
            drop = DOT + 16.0 if y < middle[1] else -DOT - 7.0
            drawing.text((x, y + drop), plain(bolt.name), size=13, anchor="middle", fill=FADED)
        else:
            step, anchor = (DOT + 5.0, "start") if x < middle[0] else (-DOT - 5.0, "end")
            drawing.text((x + step, y + 4.5), plain(bolt.name), size=13, anchor=anchor, fill=FADED)
    words = "Seen from above: ahead to the right, left up. In rings: turn; beside them: hole."
    drawing.text((EDGE, tall - 16.0), words, size=14)
    return drawing.svg()
