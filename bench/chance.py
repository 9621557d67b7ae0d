# SPDX-License-Identifier: Apache-2.0
"""A thousand draws of one manoeuvre of the demo's pan, settling and suction line included."""

from bench.drive import demo_parts, drive_parts
from bench.table import Row, seconds
from sumpwright.studies.chance import chances

SAMPLES = 1000


def rows() -> list[Row]:
    """The circle of 18 s on all cores."""
    parts = demo_parts("left circle")
    done = drive_parts(parts)
    length = done.driven.motion.duration
    taken = seconds(lambda: chances(parts.loaded, parts.bodies, done, SAMPLES, 1), times=1)
    return [Row(f"{SAMPLES:,} draws of {length:.0f} s of manoeuvre", taken, must=60.0, aim=15.0)]
