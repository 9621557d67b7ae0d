# SPDX-License-Identifier: Apache-2.0
"""Whether a pickup housing can stand and draw where it is, and which of its metal is too thin."""

from collections.abc import Iterator, Sequence

from sumpwright.errors import Finding
from sumpwright.studies.housing_result import HousingResult
from sumpwright.studies.housing_shape import HousingShape
from sumpwright.units import shown

PLACE = "pickup housing"
NEAR = 1e-3
"""m; nearer than this is a touch: a welded pan and a bent tube are true to about a millimetre;
[common-practice]."""
THIN = 1e-3
"""m; of what is milled; [common-practice]."""
FLAT = 0.5
"""Least thickness of the retaining flange over its screws' diameter, so that it does not dish
between them; [common-practice]."""


def verdict_of(findings: Sequence[Finding]) -> str:
    """``not met`` where any of them decides."""
    return "not met" if any(f.severity == "error" for f in findings) else "met"


def judged_of(
    result: HousingResult, shape: HousingShape, floor_gap: float | str
) -> Iterator[Finding]:
    """What decides beside a hit, then thin metal; `floor_gap` is the job's requirement."""
    units = result.units
    over = result.over_floor_m
    low = over is not None and not isinstance(floor_gap, str) and over < floor_gap - 1e-6
    if low and over is not None and not isinstance(floor_gap, str):
        said = f"its rim is {_mm(over, units)} over the floor"
        need = f"raise it: `requirements.floor_gap` asks for {_mm(floor_gap, units)}"
        yield _lacking("HOUS-520", "inlet", said, need)
    yield from _near(result, told=over if low else None)
    cover = result.low_cover_m
    if cover is not None and cover <= 0.0:
        said = f"its rim is {_mm(-cover, units)} above the oil at the low mark, hot, with the "
        said += "engine running"
        yield _lacking("HOUS-514", "inlet", said, "lower the inlet, or raise the low mark")
    yield from _thin(shape, units)


def _near(result: HousingResult, *, told: float | None) -> Iterator[Finding]:
    """Gaps that are as good as none; not the floor's once more, where the rim's was `told`."""
    for room in result.room:
        gap = room.gap_m
        if gap is None or not 0.0 < gap < NEAR - 1e-6:
            continue
        if told is not None and room.what == "floor and walls" and gap > told - 1e-6:
            continue
        said = f"{_mm(gap, result.units, finer=1)} from {room.what}"
        need = f"leave {_mm(NEAR, result.units)}: a welded pan and a bent tube are no truer"
        yield _lacking("HOUS-521", PLACE, said, need)


def _thin(shape: HousingShape, units: str) -> Iterator[Finding]:
    housing, retainer = shape.housing, shape.housing.retainer
    parts = [("wall", housing.wall, THIN), ("roof", housing.top, THIN)]
    parts.append(("socket", housing.socket.wall, THIN))
    if retainer is not None and shape.thread is not None:
        least = max(THIN, FLAT * shape.thread.diameter)
        parts.append(("retaining flange", retainer.thickness, least))
    for place, thick, least in parts:
        if thick < least - 1e-9:
            said = f"{_mm(thick, units, finer=1)} thick"
            need = f"{_mm(least, units)} or more is common: it bends, or the cutter tears it"
            yield Finding("HOUS-522", place, said, need, "note")


def _mm(value: float, units: str, finer: int = 0) -> str:
    return shown(value, "length", units, finer=finer)


def _lacking(code: str, place: str, found: str, repair: str) -> Finding:
    return Finding(code, place, found, repair, "error")
