# SPDX-License-Identifier: Apache-2.0
"""One half: what it weighs, what it is cut from, whether the machine takes it, what it costs."""

from dataclasses import dataclass

import numpy as np

from sumpwright.geometry.cad_measure import area, bounds
from sumpwright.geometry.cad_split import Weighed
from sumpwright.geometry.mesh import Mesh
from sumpwright.metal.stock import Cut, Size, to_buy
from sumpwright.studies.halves_making import Making
from sumpwright.studies.halves_reach import Missed, reach_of
from sumpwright.studies.halves_result import FromStock, Half, OnMachine, Spot

KEYS = ("upper-half", "lower-half")
NAMES = ("upper half", "lower half")


@dataclass(frozen=True, eq=False)
class Piece:
    """A half as it is to be made."""

    number: int
    """0 the upper, 1 the lower"""
    mesh: Mesh
    half: Weighed | None
    """The kernel's, made ready for welding; None of a pan of triangles"""
    prepared: bool

    @property
    def volume(self) -> float:
        """Of its metal [m^3]."""
        return self.mesh.volume if self.half is None else self.half.volume


def half_of(
    made: Making, piece: Piece, blanks: tuple[Size, Size], blocks: Cut, missed: Missed
) -> Half:
    """All that is said of a half."""
    k = piece.number
    metal = piece.volume
    mass = metal * made.material.density
    stock = _stock(made, k, blanks, blocks)
    chips = stock.mass_in_kg - mass
    held = made.held(blanks[k])
    time = _milling(made, chips / made.material.density)
    return Half(
        key=KEYS[k],
        name=NAMES[k],
        volume_m3=metal,
        prepared=piece.prepared,
        area_m2=piece.mesh.area if piece.half is None else area(piece.half.solid),
        bounds_m=_bounds(piece),
        mass_kg=mass,
        chips_kg=chips,
        stock=stock,
        machine=OnMachine(held.needed, held.has, held.turned, held.fits),
        reach=reach_of(missed, made.cutters),
        milling_s=time,
        cost=_cost(made, stock, time),
    )


def _stock(made: Making, k: int, blanks: tuple[Size, Size], blocks: Cut) -> FromStock:
    number = blocks.blocks[k]
    if number is None:
        buy = to_buy(blanks[k])
        mass = made.material.density * float(np.prod(buy))
        return FromStock(blanks[k], None, None, False, buy, mass, None)
    block = made.stock[number]
    shared = blocks.blocks[0] == blocks.blocks[1]
    share = 1.0
    if shared:
        own, both = float(np.prod(blanks[k])), sum(float(np.prod(b)) for b in blanks)
        share = own / both
    return FromStock(
        blank_m=blanks[k],
        block=block.name,
        block_m=block.size,
        shared=shared,
        buy_m=None,
        mass_in_kg=share * made.material.density * float(np.prod(block.size)),
        cost=None if block.price is None else share * block.price,
    )


def _milling(made: Making, chips: float) -> float | None:
    """Time at the shop's average removal rate [s]."""
    shop = made.loaded.job.shop
    rate = None if shop is None else shop.prices.removal
    return None if rate is None else chips / rate


def _cost(made: Making, stock: FromStock, time: float | None) -> float | None:
    hour = made.machine.price_hour
    if stock.cost is None or time is None or hour is None:
        return None
    return stock.cost + time / 3600.0 * hour


def _bounds(piece: Piece) -> tuple[Spot, Spot]:
    found = piece.mesh.bounds if piece.half is None else bounds(piece.half.solid)
    (a, b, c), (d, e, f) = found.tolist()
    return (a, b, c), (d, e, f)
