# SPDX-License-Identifier: Apache-2.0
"""The housing's lines of the parts list: what each is made from, what it weighs, what it costs."""

import math
from collections.abc import Iterator, Sequence

from sumpwright.job.shop import Shop, StockBlock
from sumpwright.metal.material import material
from sumpwright.studies.housing_result import Bolting, Solid
from sumpwright.studies.housing_shape import HousingShape
from sumpwright.studies.part import Part
from sumpwright.studies.size_words import nominal, sizes_to_buy

FACING = 0.001
"""m; stock stands over the part by this on every side; [common-practice]."""
WIRE_METAL = "stainless steel"
"""What pickup screens are commonly made of; the job does not say."""
FOLDER = "housing"


def housing_parts(
    shape: HousingShape,
    solids: Sequence[Solid],
    bolting: Bolting | None,
    shop: Shop | None,
    units: str = "metric",
) -> Iterator[Part]:
    """Housing, flange, screen and screws."""
    for solid in solids:
        files = (f"{FOLDER}/{solid.key}.step",)
        if solid.key == "screen-blank":
            yield _screen(shape, solid, files, units)
        elif shape.housing.made == "printed" and solid.key == "pickup-housing":
            yield Part(
                solid.key, solid.name, "printed", 1, solid.material, solid.mass_kg, files=files
            )
        else:
            yield _milled(solid, shop, files, units)
    if bolting is not None:
        name = f"ISO 4762 {bolting.thread} x {1e3 * bolting.length_m:.0f}"
        note = "hold them with locking wire or a fluid that stands hot oil"
        yield Part("retaining-screw", name, "bought", bolting.count, "steel 8.8", note=note)


def _milled(solid: Solid, shop: Shop | None, files: tuple[str, ...], units: str) -> Part:
    size = [s + 2.0 * FACING for s in solid.size_m]
    block = _block(shop, solid.material, size)
    if block is None:
        sides = sizes_to_buy(sorted(size, reverse=True), units)
        words, volume = f"block {sides}, to be bought", math.prod(size)
    else:
        words, volume = block.name, math.prod(block.size)
    return Part(
        solid.key,
        solid.name,
        "machined",
        1,
        solid.material,
        solid.mass_kg,
        words,
        material(solid.material).density * volume,
        _cost(shop, block, math.prod(size) - solid.volume_m3),
        files,
    )


def _block(shop: Shop | None, metal: str, size: Sequence[float]) -> StockBlock | None:
    """The smallest block on the shelf that the part comes out of."""
    needed = sorted(size)
    blocks = [] if shop is None else [b for b in shop.stock if b.material == metal]
    fits = [
        b
        for b in blocks
        if all(have >= need for have, need in zip(sorted(b.size), needed, strict=True))
    ]
    return min(fits, key=lambda b: math.prod(b.size), default=None)


def _cost(shop: Shop | None, block: StockBlock | None, removed: float) -> float | None:
    """The block and the time to mill it; None where the job does not say all of it."""
    if shop is None or block is None or block.price is None:
        return None
    machine, removal = shop.machine, shop.prices.removal
    if machine is None or machine.price_hour is None or removal is None:
        return None
    return block.price + removed / removal / 3600.0 * machine.price_hour


def _screen(shape: HousingShape, solid: Solid, files: tuple[str, ...], units: str) -> Part:
    cloth = shape.housing.screen
    assert cloth is not None
    if cloth.pitch is not None and cloth.wire is not None:
        pitch, wire = (nominal(v, units) for v in (cloth.pitch, cloth.wire))
        note = f"plain weave, pitch {pitch}, wire {wire}"
        how = "woven"
    else:
        hole, share = cloth.hole or 0.0, cloth.open_area or 0.0
        note = f"holes of {nominal(hole, units)}, {100 * share:g} % open"
        how = "cut and bent"
    line = Part(solid.key, solid.name, "woven", 1, solid.material, solid.mass_kg, note=note)
    return Part(**{**line.__dict__, "how": how, "files": files})


def screen_mass(shape: HousingShape) -> float:
    """Of the blank [kg]: two layers of straight wire, or the sheet less its holes."""
    cloth, area = shape.housing.screen, shape.screen_plan.area
    assert cloth is not None
    density = material(WIRE_METAL).density
    if cloth.pitch is not None and cloth.wire is not None:
        return density * area * 2.0 * 0.25 * math.pi * cloth.wire**2 / cloth.pitch
    assert cloth.thickness is not None
    assert cloth.open_area is not None
    return density * area * cloth.thickness * (1.0 - cloth.open_area)
