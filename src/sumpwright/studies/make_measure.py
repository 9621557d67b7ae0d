# SPDX-License-Identifier: Apache-2.0
"""What is measured on the finished pan: asked, and how it is found."""

from collections.abc import Iterator

from sumpwright.errors import RangeError
from sumpwright.job.load import LoadedJob
from sumpwright.job.shop import Inspection
from sumpwright.metal.tolerance import general_flatness, general_tolerance
from sumpwright.studies.bodies import Bodies
from sumpwright.studies.make_flange import flange_of
from sumpwright.studies.make_result import BoltPitch, Measure
from sumpwright.studies.rail_result import RailResult
from sumpwright.units import shown

FLAT = 0.15e-3
"""m over the whole sealing face, [common-practice] of 0.1 to 0.2 mm"""
LOCAL = 0.05e-3
"""m over any 100 mm of it, [common-practice]"""


def measures_of(
    loaded: LoadedJob, bodies: Bodies, rail: RailResult | None, pitch: BoltPitch | None
) -> tuple[Measure, ...]:
    """The lines of the inspection sheet, leak test and holes apart."""
    return (
        *_flange(loaded, bodies),
        *_sizes(loaded, bodies),
        *_holes(loaded, rail),
        *_pitch(pitch, loaded.job.units),
        *_last(),
    )


def size_asked(size: float, units: str) -> str:
    """A size with its general tolerance, medium."""
    said = _mm(size, units, 2)
    try:
        return f"{said} ± {_mm(general_tolerance(size), units, 2)}"
    except RangeError:
        return said


def _flange(loaded: LoadedJob, bodies: Bodies) -> Iterator[Measure]:
    units, shop = loaded.job.units, loaded.job.shop
    asked = Inspection() if shop is None else shop.inspection
    flat = asked.flatness or FLAT
    low, high = bodies.new.cavity.bounds[:, :2]
    long = float(max(high - low))
    row = ""
    if 0.03 < long <= 1.0:
        row = f"; ISO 2768-2 K alone would allow {_mm(general_flatness(long), units, 2)}"
    yield Measure(
        "Sealing face, flat",
        f"within {_mm(flat, units, 2)} over all, {_mm(LOCAL, units, 2)} over any "
        f"{_mm(0.1, units, 0)}{row}",
        "after welding and skimming, cold, not clamped: surface plate and feeler gauge all round, "
        "or a dial gauge over it on three supports",
    )
    thick = flange_of(loaded, bodies)
    if thick is not None:
        how = "calliper beside every third hole"
        yield Measure("Flange, thickness", size_asked(thick, units), how)


def _sizes(loaded: LoadedJob, bodies: Bodies) -> Iterator[Measure]:
    units = loaded.job.units
    cavity, outside = bodies.new.cavity, bodies.new.outside
    deep = float(cavity.bounds[1, 2] - cavity.bounds[0, 2])
    yield Measure("Depth inside, rail to lowest floor", size_asked(deep, units), "depth gauge")
    if outside is not None:
        tall = float(outside.bounds[1, 2] - outside.bounds[0, 2])
        how = "height gauge, pan upside down on the plate"
        yield Measure("Height outside, rail to lowest point", size_asked(tall, units), how)
    shape = loaded.job.new.shape
    if shape is not None:
        how = "ultrasonic or calliper: each floor and two places of each side"
        yield Measure("Wall", size_asked(shape.wall, units), how)
        yield Measure("Floor", size_asked(shape.floor or shape.wall, units), how)
    holds = bodies.new.cavity.volume
    litres = shown(holds, "volume", units)
    water = "1 kg is 1 L" if units == "metric" else "1 qt is 2.08 lb"
    yield Measure(
        "Volume to the rail",
        f"{litres} ± 2 %, nothing in it",
        f"level on its rail's plane, filled with water by weight ({water}); then dried at once",
    )


def _holes(loaded: LoadedJob, rail: RailResult | None) -> Iterator[Measure]:
    units = loaded.job.units
    if rail is not None:
        sizes = sorted({h.diameter_m for h in rail.holes})
        words = ", ".join(_mm(s, units, 2) for s in sizes)
        yield Measure(
            f"Bolt holes, {len(rail.holes)}", words, "plug gauge or calliper; places below"
        )
    shape = loaded.job.new.shape
    for boss in () if shape is None else shape.bosses:
        size = boss.thread or _mm(boss.bore or 0.0, units, 2)
        how = "thread gauge, go and no go" if boss.thread else "plug gauge"
        yield Measure(f"{boss.name}: {boss.kind}", f"{size}, seat square to it", how)


def _pitch(pitch: BoltPitch | None, units: str) -> Iterator[Measure]:
    """Not measured on the part: what the flange's thickness says of how its bolts stand."""
    if pitch is None:
        return
    most = ", ".join(f"{_mm(v, units, 1)} on {kind}" for kind, v in pitch.most_m.items())
    one, other = pitch.between
    yield Measure(
        "Bolt pitch against flange",
        f"at most {most}: a guide of pressure vessels (TEMA, from memory), a hint for a pan",
        f"widest {_mm(pitch.widest_m, units, 1)}, {one} to {other}: look there for light under "
        "the flange, bolts drawn up dry, feeler gauge between them",
    )


def _last() -> Iterator[Measure]:
    yield Measure("Welds", "no crack, no pore that a nail finds, no undercut", "eye, then dye")
    yield Measure("Inside", "no chip, no spatter, no abrasive", "washed, wiped with a white cloth")


def _mm(value: float, units: str, digits: int) -> str:
    return shown(value, "length", units, digits=digits + (1 if units == "us" else 0))
