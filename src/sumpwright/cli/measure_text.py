# SPDX-License-Identifier: Apache-2.0
"""What `measure` answers, as a person reads it."""

from collections.abc import Iterator

from sumpwright.studies.result import LevelReading, MeasureResult, Triple
from sumpwright.units import shown, shown_number, unit_name


def measure_text(result: MeasureResult, *, us: bool = False) -> str:
    """The answer in metric or US units, one fact to a line."""
    return "\n".join(_lines(result, "us" if us else "metric"))


def _lines(result: MeasureResult, system: str) -> Iterator[str]:
    low, high = result.bounds_m
    size = tuple(b - a for a, b in zip(low, high, strict=True))
    yield f"{result.file}  ({result.unit})"
    yield f"  volume    {shown(result.volume_m3, 'volume', system)}"
    yield f"  skin      {shown(result.area_m2, 'area', system)}"
    yield f"  size      {_triple((size[0], size[1], size[2]), system, ' x ')}"
    yield f"  from      {_triple(low, system)}"
    yield f"  to        {_triple(high, system)}"
    sound = "closed" if result.watertight else "not closed: the volume means nothing"
    bodies = "1 body" if result.bodies == 1 else f"{result.bodies} bodies"
    yield f"  skin is   {sound}; {bodies}, {result.triangles} triangles"
    for finding in result.findings:
        yield f"  {finding.severity:8s}  {finding.found}: {finding.place}  [{finding.code}]"
        if finding.repair:
            yield f"            repair: {finding.repair}"
    if result.level is not None:
        yield from _level(result.level, system)


def _level(level: LevelReading, system: str) -> Iterator[str]:
    yield "oil"
    yield f"  volume    {shown(level.volume_m3, 'volume', system, digits=3)}"
    yield f"  height    {shown(level.height_m, 'length', system, digits=_fine(system))}"
    yield f"  surface   {shown(level.surface_area_m2, 'area', system)}"
    if level.centroid_m is not None:
        yield f"  centroid  {_triple(level.centroid_m, system)}"


def _triple(place: Triple, system: str, joint: str = ", ") -> str:
    fine = _fine(system)
    numbers = (f"{round(shown_number(c, 'length', system), fine) + 0.0:.{fine}f}" for c in place)
    return f"{joint.join(numbers)} {unit_name('length', system)}"


def _fine(system: str) -> int:
    return 3 if system == "us" else 2
