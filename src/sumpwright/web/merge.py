# SPDX-License-Identifier: Apache-2.0
"""Take one change of a text back, though other lines of it changed since."""

from difflib import SequenceMatcher

_MOST_LINES = 4_000
"""Lines that differ; beyond that comparing takes too long."""

Region = tuple[int, int, list[str]]
"""First line, line behind the last, and the lines to stand there instead."""


def merged(have: str, now: str, want: str) -> str | None:
    """`now` with that changed which differs between `have` and `want`.

    None where a line to change is no longer as it was in `have`.
    """
    base, here, there = (text.split("\n") for text in (have, now, want))
    regions = _regions(base, there)
    places = None if regions is None else _lines_of(base, here)
    if regions is None or places is None:
        return None
    rows = list(here)
    for first, end, new in reversed(regions):
        spot = _spot(places, first, end)
        if spot is None:
            return None
        rows[spot : spot + end - first] = new
    return "\n".join(rows)


def _regions(base: list[str], there: list[str]) -> list[Region] | None:
    head, tail = _same(base, there)
    a, b = base[head : len(base) - tail], there[head : len(there) - tail]
    if max(len(a), len(b)) > _MOST_LINES:
        return None
    steps = SequenceMatcher(None, a, b, autojunk=False).get_opcodes()
    return [(head + i, head + j, b[k:m]) for what, i, j, k, m in steps if what != "equal"]


def _lines_of(base: list[str], here: list[str]) -> list[int | None] | None:
    """Where each line of `base` stands in `here` unchanged."""
    regions = _regions(base, here)
    if regions is None:
        return None
    places: list[int | None] = []
    shift = 0
    for first, end, new in regions:
        places += [i + shift for i in range(len(places), first)]
        places += [None] * (end - first)
        shift += len(new) - (end - first)
    return [*places, *(i + shift for i in range(len(places), len(base)))]


def _spot(places: list[int | None], first: int, end: int) -> int | None:
    """Where lines `first` to `end` stand together; of no lines, where they would."""
    if first == end:
        before = places[first - 1] if first else -1
        if before is not None:
            return before + 1
        return places[first] if first < len(places) else None
    spots = places[first:end]
    start = spots[0]
    whole = start is not None and spots == list(range(start, start + end - first))
    return start if whole else None


def _same(a: list[str], b: list[str]) -> tuple[int, int]:
    """How many lines are the same at the start, and at the end of what is left."""
    most = min(len(a), len(b))
    head = next((i for i in range(most) if a[i] != b[i]), most)
    tail = next((i for i in range(most - head) if a[-1 - i] != b[-1 - i]), most - head)
    return head, tail
