# SPDX-License-Identifier: Apache-2.0
"""An hour of log at 100 Hz judged, and how many invented dips are found; no validation."""

import numpy as np
from numpy.typing import NDArray

from bench.table import Row, seconds
from sumpwright.logs.judge import judged
from tools.invented_log import Invented, invented
from tools.second_log import Second, second

SEEDS, RATES = range(24), (20.0, 25.0, 50.0, 100.0)
KINDS = [
    (engine, where)
    for engine in ("usual", "weak", "strong")
    for where in ("left", "right", "brake", "none")
]
NEAR = 0.2
"""[s] within which a start counts as found."""


def rows() -> list[Row | tuple[str, str]]:
    """Time for the hour, then precision and recall over all seeds."""
    hour = invented(1, rate=100.0, length=3600.0, dips=60)
    judged(hour.log)
    taken = seconds(lambda: judged(hour.log), times=5)
    counts = np.array([_counts(invented(s, rate=RATES[s % len(RATES)])) for s in SEEDS])
    tracks = np.array([
        _counts(second(s, engine=e, where=w, cold=bool(s % 2)))
        for s, (e, w) in enumerate(KINDS * 2, start=20)
    ])  # fmt: skip
    return [
        Row("an hour of log at 100 Hz judged, file read before", taken, must=1.0, aim=0.5),
        ("dips in invented logs, starts within 0.2 s", _said(counts)),
        ("the same on tracks, by another hand", _said(tracks)),
    ]


def _said(counts: NDArray[np.int64]) -> str:
    true, found, hits = counts.sum(axis=0)
    shares = f"precision {hits / found:.3f}, recall {hits / true:.3f}"
    return f"{shares} ({true} dips, {len(counts)} logs)"


def _counts(made: Invented | Second) -> tuple[int, int, int]:
    """Dips that are there, dips found, and those of them that are there."""
    found = judged(made.log).dips
    hits = sum(any(abs(d.start - e.start) <= NEAR for e in found) for d in made.dips)
    return len(made.dips), len(found), hits
