# SPDX-License-Identifier: Apache-2.0
"""What the shop buys: prices for lines of the parts list, and lines of their own."""

from collections.abc import Sequence
from dataclasses import replace

from sumpwright.errors import Problem
from sumpwright.job.load import LoadedJob
from sumpwright.job.shop import Bought
from sumpwright.studies.part import Part


def with_bought(
    loaded: LoadedJob, parts: Sequence[Part]
) -> tuple[tuple[Part, ...], tuple[Problem, ...]]:
    """The lines with what `shop.bought` says of them, its own lines last; and what is wrong."""
    shop = loaded.job.shop
    lines = {part.key: part for part in parts}
    own: list[Part] = []
    problems: list[Problem] = []
    priced: set[str] = set()
    for number, item in enumerate(() if shop is None else shop.bought):
        if item.line is None:
            own.append(_own(number, item))
            continue
        where = loaded.where("shop", "bought", number, "line")
        part = lines.get(item.line)
        if part is None or part.how != "bought" or item.line in priced:
            problems.append(_no_line(where, item.line, item.line in priced, parts))
            continue
        priced.add(item.line)
        lines[item.line] = _priced(part, item)
        if lines[item.line].count < part.count:
            problems.append(_too_few(where.replace(".line", ".count"), item, part))
    return (*lines.values(), *own), tuple(problems)


def _own(number: int, item: Bought) -> Part:
    key, note = f"bought-{number + 1}", item.note or ""
    return Part(key, item.name, "bought", item.count, cost=item.price, note=note)


def _priced(part: Part, item: Bought) -> Part:
    """The line under the name to ask for; what it has to be stays beside it."""
    name = part.name if item.name == part.name else f"{item.name} ({part.name})"
    count = item.count if "count" in item.model_fields_set else part.count
    note = "; ".join(n for n in (item.note, part.note) if n)
    return replace(part, name=name, count=count, cost=item.price, note=note)


def _no_line(where: str, line: str, twice: bool, parts: Sequence[Part]) -> Problem:
    known = ", ".join(part.key for part in parts if part.how == "bought") or "none"
    found = f"`{line}`, which an entry before this one buys already" if twice else f"`{line}`"
    needed = f"a bought line of the parts list, once: {known}"
    return Problem("MAKE-507", where, found, needed, "correct the key, or drop it")


def _too_few(where: str, item: Bought, part: Part) -> Problem:
    found, needed = f"{item.count} of `{part.key}`", f"{part.count}, one for each hole"
    return Problem(
        "MAKE-507", where, found, needed, "raise `count`, or drop it: then it is counted"
    )
