# SPDX-License-Identifier: Apache-2.0
"""The parts list whole: what the studies make, fasteners, welding, and what is bought."""

from collections.abc import Iterator
from typing import Any

from sumpwright.errors import Finding, Problem
from sumpwright.job.load import LoadedJob
from sumpwright.metal.cost import run_cost
from sumpwright.studies.bodies import Bodies
from sumpwright.studies.make_bought import with_bought
from sumpwright.studies.make_fastener import pan_bolts, rows_of, sheet_fasteners
from sumpwright.studies.make_result import WeldLine
from sumpwright.studies.make_seat import SeatedOn
from sumpwright.studies.make_weld import turned_bosses
from sumpwright.studies.part import Part
from sumpwright.units import shown

KINDS = {"boss": "bosses", "sheet": "sheet parts"}
"""Kinds of weld that the study of the halves does not price"""


def parts_of(
    loaded: LoadedJob,
    bodies: Bodies,
    results: tuple[Any, ...],
    seats: tuple[SeatedOn, ...],
    welds: tuple[WeldLine, ...],
) -> tuple[tuple[Part, ...], tuple[Problem, ...], tuple[Finding, ...]]:
    """Every line, made things first, then bought ones; what is wrong, and what was noticed."""
    found = [part for result in results if result is not None for part in result.parts()]
    bought = [p for p in found if p.how == "bought"]
    made = [p for p in found if p.how != "bought"]
    more = [*turned_bosses(loaded), *_welding(loaded, welds)]
    at = next((k + 1 for k, p in enumerate(made) if p.how == "welded"), len(made))
    rows = rows_of(loaded, results[2], seats)
    rivets, findings = sheet_fasteners(rows, loaded.job.units)
    lines = [*made[:at], *more, *made[at:], *bought, *rivets, *pan_bolts(loaded, bodies)]
    parts, problems = with_bought(loaded, lines)
    return parts, problems, tuple(findings)


def _welding(loaded: LoadedJob, welds: tuple[WeldLine, ...]) -> Iterator[Part]:
    shop = loaded.job.shop
    rate = None if shop is None else shop.prices.weld_rate
    hour = None if shop is None else shop.prices.weld_hour
    metric = loaded.job.units == "metric"
    for kind, words in KINDS.items():
        lines = [w for w in welds if w.kind == kind]
        length = sum(w.length_m or 0.0 for w in lines)
        if not lines:
            continue
        cost = None if rate is None or hour is None else run_cost(length, rate, hour)
        names = lines[0].name if len(lines) == 1 else f"{lines[0].name} to {lines[-1].name}"
        long = shown(length, "length", loaded.job.units, digits=0 if metric else 1)
        note = f"{long}, {'weld' if len(lines) == 1 else 'welds'} {names}"
        metal = next((w.metal for w in lines if w.metal), "")
        yield Part(f"welding-{kind}", f"welding {words}", "welded", 1, metal, cost=cost, note=note)
