# SPDX-License-Identifier: Apache-2.0
"""One line of the benchmark table, and the table."""

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from statistics import median
from time import perf_counter


@dataclass(frozen=True)
class Row:
    """A time of ours, perhaps beside a peer's in the same run, against what was promised."""

    label: str
    ours: float
    """[s]"""
    peer: float | None = None
    """[s]; then `must` and `aim` are how many times faster, otherwise seconds."""
    must: float | None = None
    aim: float | None = None

    @property
    def ratio(self) -> float | None:
        """How many times the peer's time is ours."""
        return None if self.peer is None else self.peer / self.ours

    @property
    def met(self) -> str:
        """Which promise is kept: aim, must, NO, or nothing where none was made."""
        for name, limit in (("aim", self.aim), ("must", self.must)):
            if limit is not None and (
                self.ratio >= limit if self.ratio is not None else self.ours <= limit
            ):
                return name
        return "" if self.must is None else "NO"

    def cells(self) -> tuple[str, ...]:
        """The line as text."""
        shown = [_seconds(t) if t is not None else "" for t in (self.ours, self.peer)]
        limits = [_limit(x, self.peer is not None) for x in (self.must, self.aim)]
        promised = " / ".join(limits) if any(limits) else ""
        times = "" if self.ratio is None else f"{self.ratio:,.0f}x"
        return (self.label, *shown, times, promised, self.met)


HEAD = ("", "ours", "peer", "ratio", "must / aim", "met")


def table(rows: Iterable[Row]) -> str:
    """The rows under their heading, columns aligned."""
    lines = [HEAD, *(row.cells() for row in rows)]
    widths = [max(len(line[k]) for line in lines) for k in range(len(HEAD))]
    return "\n".join(_aligned(line, widths) for line in lines)


def seconds(work: Callable[[], object], *, times: int = 5) -> float:
    """Median seconds that `work` takes; run once beforehand, so that nothing is compiled in it."""
    work()
    taken = []
    for _ in range(times):
        start = perf_counter()
        work()
        taken.append(perf_counter() - start)
    return median(taken)


def _seconds(value: float) -> str:
    return f"{value:.3g} s" if value >= 1.0 else f"{value * 1e3:.3g} ms"


def _limit(value: float | None, ratio: bool) -> str:
    if value is None:
        return ""
    return f"{value:,.0f}x" if ratio else _seconds(value)


def _aligned(line: tuple[str, ...], widths: list[int]) -> str:
    label, *rest = line
    cells = [label.ljust(widths[0]), *(c.rjust(w) for c, w in zip(rest, widths[1:], strict=True))]
    return "  ".join(cells).rstrip()
