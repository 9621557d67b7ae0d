# SPDX-License-Identifier: Apache-2.0
"""Lines of the parts list that no other study has: the pan whole, its fasteners, what is bought."""

from collections.abc import Iterator
from typing import Any

from sumpwright.geometry.wall import flange_thickness
from sumpwright.job.load import LoadedJob
from sumpwright.job.rail import Rail
from sumpwright.metal.clearance_hole import bolt_diameter
from sumpwright.studies.bodies import Bodies
from sumpwright.studies.part import Part

ENGAGED = {"grey iron": 1.5, "aluminium": 2.0}
"""Thread in the block over the bolt's diameter, [common-practice]"""
WASHER = {"M5": 1.0e-3, "M6": 1.6e-3, "M8": 1.6e-3, "M10": 2.0e-3, "M12": 2.5e-3}
"""m, thickness of a plain washer (ISO 7089, from memory)"""
LENGTHS = (10, 12, 16, 20, 25, 30, 35, 40, 45, 50, 55, 60, 65, 70, 80, 90, 100)
"""mm that bolts are sold in (ISO 888, from memory)"""


def parts_of(loaded: LoadedJob, bodies: Bodies, results: tuple[Any, ...]) -> tuple[Part, ...]:
    """Every line, made things first, then bought ones."""
    made = [part for result in results if result is not None for part in result.parts()]
    bought = [p for p in made if p.how == "bought"]
    kept = [p for p in made if p.how != "bought"]
    return (*kept, *bought, *_fasteners(loaded, bodies), *_bought(loaded))


def flange_of(loaded: LoadedJob, bodies: Bodies) -> float | None:
    """Thickness of the pan's flange [m]: as drawn, or as its outside has it."""
    shape = loaded.job.new.shape
    if shape is not None:
        return shape.flange.thickness
    outside = bodies.new.outside
    found = 0.0 if outside is None else flange_thickness(outside, float(outside.bounds[1, 2]))
    return found or None


def bolt_length(rail: Rail, flange: float) -> tuple[float, float]:
    """Length to buy [m]: the first on sale that reaches deep enough, and what it then engages."""
    held = flange + WASHER[rail.thread]
    needed = held + ENGAGED[rail.block] * bolt_diameter(rail.thread)
    chosen = next((1e-3 * n for n in LENGTHS if 1e-3 * n >= needed - 1e-9), needed)
    return chosen, chosen - held


def _fasteners(loaded: LoadedJob, bodies: Bodies) -> Iterator[Part]:
    rail = loaded.job.rail
    if rail is None or not rail.holes:
        return
    flange = flange_of(loaded, bodies)
    name, note = f"bolt {rail.thread}", "length not known: the job has no flange thickness"
    if flange is not None:
        long, engaged = bolt_length(rail, flange)
        name = f"bolt {rail.thread} x {1e3 * long:g}"
        note = (
            f"flange {1e3 * flange:.3g} mm, washer {1e3 * WASHER[rail.thread]:g} mm, "
            f"{1e3 * engaged:.3g} mm in the block, {ENGAGED[rail.block]:g} diameters asked: "
            "measure how deep the block is tapped before buying"
        )
    count = len(rail.holes)
    yield Part("pan-bolts", name, "bought", count, "steel 8.8", note=note)
    yield Part("pan-washers", f"washer for {rail.thread}", "bought", count, "steel")


def _bought(loaded: LoadedJob) -> Iterator[Part]:
    shop = loaded.job.shop
    for number, item in enumerate(() if shop is None else shop.bought):
        yield Part(
            f"bought-{number + 1}",
            item.name,
            "bought",
            item.count,
            cost=item.price,
            note=item.note or "",
        )
