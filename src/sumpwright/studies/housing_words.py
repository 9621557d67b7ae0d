# SPDX-License-Identifier: Apache-2.0
"""What a person should know of a pickup housing before it is made, each with its code."""

from collections.abc import Iterator

from sumpwright.errors import Finding
from sumpwright.metal.thread import ENGAGED
from sumpwright.studies.housing_result import HousingResult
from sumpwright.studies.housing_shape import HousingShape
from sumpwright.units import shown, shown_number, unit_name

OPEN_LEAST = 3.0
"""Open area of the screen over the tube's bore; 3 to 4 and more is [common-practice]."""
TALL = 1.0
"""Height over the inlet's diameter above which a housing is not low; [common-practice]."""


def findings_of(result: HousingResult, shape: HousingShape) -> Iterator[Finding]:
    """Hits first, then the oil's way, then what concerns the making."""
    yield from _hits(result)
    yield from _ways(result)
    bolts = result.bolting
    if bolts is not None and bolts.ratio < ENGAGED - 1e-9:
        said = f"{shown(bolts.engagement_m, 'length', result.units)} of {bolts.thread} thread, "
        said += f"{bolts.ratio:.2g} times its diameter"
        need = f"{ENGAGED:g} times is common in aluminium; give more `engagement` or longer screws"
        yield _note("HOUS-515", "retaining flange", said, need)
    if result.low_profile > TALL:
        said = f"{result.low_profile:.2g} times as high as its inlet is wide"
        need = "a lower roof, or a tube that leaves at the side, makes it low"
        yield _note("HOUS-518", "pickup housing", said, need)
    if shape.housing.made == "printed":
        said = "a printed housing is for checking the fit"
        need = "run none whose material is not proven in hot oil"
        yield _note("HOUS-519", "pickup housing", said, need)


def _hits(result: HousingResult) -> Iterator[Finding]:
    codes = {"floor": "HOUS-511", "baffle": "HOUS-512", "swing": "HOUS-513"}
    for room in result.room:
        if room.gap_m != 0.0:
            continue
        shared = f"{_shared(room.shared_m3, result.units)} of it are inside"
        said = f"touches {room.what}" if room.shared_m3 <= 0.0 else f"hits {room.what}: {shared}"
        yield Finding(
            codes[room.what.split(" ")[0]],
            "pickup housing",
            said,
            "move it, make it lower or smaller, or move the other",
            "error",
        )


def _shared(volume: float, units: str) -> str:
    """To two figures."""
    return f"{shown_number(volume, 'small_volume', units):.2g} {unit_name('small_volume', units)}"


def _ways(result: HousingResult) -> Iterator[Finding]:
    tube = result.tube_m2
    if result.open_m2 < OPEN_LEAST * tube:
        said = f"{result.open_m2 / tube:.2g} times the tube's bore is open"
        need = "3 to 4 times or more is common; it also has to catch dirt"
        yield _note("HOUS-516", "screen", said, need)
    for area, place in (
        (result.curtain_m2, "between the rim and the floor"),
        (result.inside_m2, "inside, from the screen to the tube"),
    ):
        if area is not None and area < tube:
            said = f"{area / tube:.2g} times the tube's bore {place}"
            need = "make it wider there: the tube is to be the narrowest"
            yield _note("HOUS-517", "pickup housing", said, need)


def _note(code: str, place: str, found: str, repair: str) -> Finding:
    return Finding(code, place, found, repair, "note")
