# SPDX-License-Identifier: Apache-2.0
"""Every point of the dynamic hold maps of the demo's pan: 24 directions, 12 g, 4 speeds, 4 states.

As the study fills them, on all cores, from a cache that holds the bodies and tables but no field.
"""

import shutil
import tempfile
from pathlib import Path

from bench.drive import DEMO
from bench.table import Row, seconds
from sumpwright.studies.hold_field import DEGREES, MAGNITUDES
from sumpwright.studies.hold_map import SHARES, hold_map
from sumpwright.studies.motion_result import DOORS


def rows() -> list[Row]:
    """The whole study, and again with its answers kept."""
    with tempfile.TemporaryDirectory() as scratch:
        job = Path(scratch) / "job"
        shutil.copytree(DEMO, job, ignore=shutil.ignore_patterns("out"))
        hold_map(job)
        cache = job / "out" / "cache"
        fields = {path for path in cache.iterdir() if _is_field(path)}
        kept = {path: path.read_bytes() for path in cache.iterdir() if path not in fields}
        whole = seconds(lambda: _afresh(job, kept), times=1)
        again = seconds(lambda: hold_map(job), times=3)
    points = len(DOORS) * len(SHARES) * len(DEGREES) * len(MAGNITUDES)
    return [
        Row(f"dynamic hold maps, {points:,} points", whole, must=60.0, aim=20.0),
        Row("  the same with every field kept", again),
    ]


def _is_field(path: Path) -> bool:
    import numpy as np

    with np.load(path) as packed:
        return "time" in packed.files


def _afresh(job: Path, kept: dict[Path, bytes]) -> None:
    cache = job / "out" / "cache"
    for path in cache.iterdir():
        if path not in kept:
            path.unlink()
    hold_map(job)
