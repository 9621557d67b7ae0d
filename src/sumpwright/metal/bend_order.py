# SPDX-License-Identifier: Apache-2.0
"""In which order to make a part's bends, so that none already made is in the way of the next.

Every order is looked at, but what cannot matter: where the bends that are left stay stuck whether
one was made or not, that one is not tried again at another time.
"""

from dataclasses import dataclass, field

from sumpwright.metal.bend_swing import Hindrance, Swings
from sumpwright.metal.flat_pattern import FlatPattern
from sumpwright.metal.fold_clash import clash


@dataclass(frozen=True)
class BendOrder:
    """An order, or why there is none."""

    order: tuple[int, ...]
    """Numbers of the bends, the first to be made first; empty where there is no order"""
    made: tuple[int, ...] = ()
    """Where the press brake, or the sheet itself, lets no order be: the bends that could be made"""
    hindrances: tuple[Hindrance, ...] = ()
    """And why each of those left then cannot; of an order, why a press brake cannot do it"""


def bend_order(pattern: FlatPattern) -> BendOrder:
    """An order in which nothing is in a bend's way, as near as may be to the pattern's own.

    Bends the same way follow one another where they can.

    Parameters
    ----------
    pattern : FlatPattern [m]
        As it is cut.

    Returns
    -------
    order : BendOrder [m]
        With hindrances: only by hand, the straight tool of a press brake is in the way.

    Raises
    ------
    RangeError
        Where a bend does not part the sheet, so that nothing can turn about it.
    """
    if not pattern.bends or clash(pattern) is not None:
        return BendOrder(())
    swings = Swings(pattern)
    pressed = _Search(swings, tools=True)
    order = pressed.rest(0)
    if order is not None:
        return BendOrder(tuple(order))
    byhand = _Search(swings, tools=False)
    order = byhand.rest(0)
    if order is not None:
        return BendOrder(tuple(order), pressed.made, pressed.stuck)
    return BendOrder((), byhand.made, byhand.stuck)


@dataclass
class _Search:
    """Through the sets of bends that are made, a bit for each."""

    swings: Swings
    tools: bool
    dead: dict[int, int] = field(default_factory=dict)
    """Sets from which nothing leads on, and the bends that this is owed to"""
    made: tuple[int, ...] = ()
    stuck: tuple[Hindrance, ...] = ()

    def rest(self, made: int, last: int | None = None) -> list[int] | None:
        """The order of what is left to bend, after the one made last; None where there is none."""
        left = self._left(made, last)
        if not left:
            return []
        if made in self.dead:
            return None
        blame, stuck = 0, []
        for k in left:
            met = self.swings.hindrance(k, made, tools=self.tools)
            if met is not None:
                stuck.append(met)
                blame |= met.mask
                continue
            order = self.rest(made | 1 << k, k)
            if order is not None:
                return [k, *order]
            owed = self.dead[made | 1 << k]
            blame |= owed
            if not owed >> k & 1:
                blame = owed
                break
        else:
            self._keep(made, stuck)
        self.dead[made] = blame
        return None

    def _left(self, made: int, last: int | None) -> list[int]:
        """By the pattern's order, but what goes the same way first: the sheet is turned over as
        seldom as may be."""
        bends = self.swings.pattern.bends
        left = [k for k in range(self.swings.count) if not made >> k & 1]
        if last is None:
            return left
        return sorted(left, key=lambda k: bends[k].up != bends[last].up)

    def _keep(self, made: int, stuck: list[Hindrance]) -> None:
        """The dead end in which most bends are made."""
        done = tuple(k for k in range(self.swings.count) if made >> k & 1)
        if stuck and (not self.stuck or len(done) > len(self.made)):
            self.made, self.stuck = done, tuple(stuck)
