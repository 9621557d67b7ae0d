# SPDX-License-Identifier: Apache-2.0
"""One line of the parts list: what every study of something to be made hands on to `make`."""

from dataclasses import dataclass
from typing import Literal

How = Literal["machined", "cut and bent", "woven", "printed", "bought", "turned", "welded"]


@dataclass(frozen=True)
class Part:
    """A part, as made or bought. SI."""

    key: str
    """Its own in the parts list, such as ``lower-half`` or ``print-pan-1``"""
    name: str
    how: How
    count: int = 1
    material: str = ""
    mass: float | None = None
    """Of one, finished [kg]"""
    stock: str = ""
    """What it is made from, in words, such as ``plate 500 x 400 x 60 mm``"""
    stock_mass: float | None = None
    """Of that [kg]"""
    cost: float | None = None
    """Of one, in the job's currency; None where the job gives no price"""
    files: tuple[str, ...] = ()
    """In the pack, relative to it"""
    note: str = ""
