# SPDX-License-Identifier: Apache-2.0
"""Which block a part is cut from, and whether a machine can hold it; sides along sides."""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import permutations

from sumpwright.errors import RangeError

Size = tuple[float, float, float]

SAW = 0.003
"""m; lost to the saw where a block is parted. Common practice, no source."""
ROUND = 0.005
"""m; sizes to be bought are rounded up to this."""
SLACK = 1e-9
"""m; rounding of a sum of lengths."""


@dataclass(frozen=True)
class Block:
    """A block on the shelf."""

    name: str
    size: Size
    """m"""
    price: float | None = None


@dataclass(frozen=True)
class Cut:
    """Blocks that parts are cut from: for each part the number of its block, None to be bought."""

    blocks: tuple[int | None, ...]
    volume: float
    """m^3, of the blocks taken"""
    price: float | None
    """Of the blocks taken; None where one has no price"""


def fits(part: Sequence[float], block: Sequence[float]) -> bool:
    """Whether a part fits a block, turned any way with sides along sides.

    Parameters
    ----------
    part : (3,) [m]
        Sides of the part's box, allowance included.
    block : (3,) [m]
        Sides of the block.

    Returns
    -------
    fits : bool [-]

    Source
    ------
    [closed-form] sides compared in order of size.
    """
    pairs = zip(sorted(part), sorted(block), strict=True)
    return all(p <= b + SLACK for p, b in pairs)


def both_fit(one: Sequence[float], other: Sequence[float], block: Sequence[float]) -> bool:
    """Whether two parts come out of one block, parted by one saw cut.

    Parameters
    ----------
    one : (3,) [m]
        Sides of a part's box.
    other : (3,) [m]
        Sides of the other's.
    block : (3,) [m]
        Sides of the block.

    Returns
    -------
    fit : bool [-]
    """
    for a in set(permutations(one)):
        for axis in range(3):
            rest = list(block)
            rest[axis] -= a[axis] + SAW
            held = all(p <= b + SLACK for p, b in zip(a, block, strict=True))
            if held and rest[axis] > 0.0 and fits(other, rest):
                return True
    return False


def cut_from(parts: Sequence[Size], blocks: Sequence[Block]) -> Cut:
    """The blocks that one or two parts are best cut from: as few to buy as possible, then cheapest,
    then smallest.

    Parameters
    ----------
    parts : sequence of (3,) [m]
        One or two, sides of each one's box, allowance included.
    blocks : sequence of Block [m]
        Each once for every one there is.

    Returns
    -------
    cut : Cut

    Raises
    ------
    RangeError
        For more than two parts.
    """
    if not 1 <= len(parts) <= 2:
        raise RangeError(f"one or two parts are cut from blocks, not {len(parts)}")
    best = min((_cut(choice, blocks) for choice in _choices(parts, blocks)), key=_rank)
    return best


def _choices(parts: Sequence[Size], blocks: Sequence[Block]) -> list[tuple[int | None, ...]]:
    each = [[None, *(k for k, b in enumerate(blocks) if fits(part, b.size))] for part in parts]
    if len(parts) == 1:
        return [(k,) for k in each[0]]
    return [
        (i, j)
        for i in each[0]
        for j in each[1]
        if i is None or i != j or both_fit(parts[0], parts[1], blocks[i].size)
    ]


def _cut(choice: tuple[int | None, ...], blocks: Sequence[Block]) -> Cut:
    used = [blocks[k] for k in sorted({k for k in choice if k is not None})]
    prices = [b.price for b in used if b.price is not None]
    volume = sum(b.size[0] * b.size[1] * b.size[2] for b in used)
    return Cut(choice, volume, sum(prices) if len(prices) == len(used) else None)


def _rank(cut: Cut) -> tuple[float, ...]:
    """Blocks without a price come after those with one."""
    known = cut.price is not None
    return (cut.blocks.count(None), not known, cut.price if cut.price is not None else 0.0,
            cut.volume)  # fmt: skip


def to_buy(part: Sequence[float]) -> Size:
    """Sides of the smallest block for a part, each rounded up to 5 mm.

    Parameters
    ----------
    part : (3,) [m]
        Sides of the part's box, allowance included.

    Returns
    -------
    size : (3,) [m]
        The longest first.
    """
    up = sorted((-(-(side - SLACK) // ROUND) * ROUND for side in part), reverse=True)
    return up[0], up[1], up[2]


@dataclass(frozen=True)
class Held:
    """What a part asks of a machine, and what the machine has, along x, y and z [m]."""

    needed: Size
    has: Size
    turned: bool
    """The part lies across the table"""

    @property
    def fits(self) -> bool:
        """True where the machine has as much as is needed, each way."""
        return all(n <= h + SLACK for n, h in zip(self.needed, self.has, strict=True))


def held_by(
    part: Size, travel: Size, *, cutter: float, fixture: float, tool: float, daylight: float
) -> Held:
    """A part on a machine, along or across its table, whichever leaves more.

    The cutter goes round the part: its travel is the part and one diameter. Upright, fixture, part
    and the longest tool stand under the spindle's nose, and the part's height is travelled.

    Parameters
    ----------
    part : (3,) [m]
        Sides of the blank as it stands: x, y, height.
    travel : (3,) [m]
        Of the machine.
    cutter : float [m]
        Diameter of the largest cutter.
    fixture : float [m]
        Height of what the part stands on.
    tool : float [m]
        From the nose to the longest tool's tip.
    daylight : float [m]
        Most between table and nose.

    Returns
    -------
    held : Held [m]
        Of z the height under the nose, unless the part is higher than z is travelled.
    """
    x, y, z = part
    high, room = fixture + z + tool, daylight
    if z > travel[2]:
        high, room = z, travel[2]
    ways = [
        Held((a + cutter, b + cutter, high), (travel[0], travel[1], room), turned)
        for a, b, turned in ((x, y, False), (y, x, True))
    ]
    return min(ways, key=lambda h: max(h.needed[0] - h.has[0], h.needed[1] - h.has[1]))
