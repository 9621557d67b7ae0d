# SPDX-License-Identifier: Apache-2.0
"""File the demo's bench tests, sessions, logs and teardown, so that its revision B can be released.

    python tools/make_demo_records.py [JOB]

Invented: nothing was poured, tilted, driven or taken apart. Run it again, with records/ emptied,
when the demo's pan or oil has changed: records belong to one part.
"""

import sys
import time
from pathlib import Path
from typing import Any

import numpy as np

from sumpwright.job.load import load_job
from sumpwright.studies.check import check
from sumpwright.studies.read import ReadAsked, file_record, read_logs
from sumpwright.studies.record import doors_of, write_record

JOB = Path(__file__).resolve().parents[1] / "examples" / "demo-b"
WHO = "Ada Quill"
NOTE = "invented for a demonstration"
ERROR = (0.4, -0.6, 0.3, 0.9, -0.2, 0.5)
"""mm that a person reads wrong"""


def main(job: Path) -> int:
    """Write every record."""
    for values in (*bench(job), *after(job)):
        print(write_record(job, {"by": WHO, "note": NOTE, **values}))
        time.sleep(1.0)  # a record's name ends in its second
    day = ReadAsked(job, (job / "tests" / "skidpad.csv",), prediction=False)
    print(*file_record(read_logs(day)))
    return 0


def bench(job: Path) -> list[dict[str, Any]]:
    """Before the engine runs."""
    curve, full = (fill := check(job).fill).curve, fill.full_m3
    poured = np.linspace(0.6e-3, full, len(ERROR))
    depth = np.interp(poured, curve.volume_m3, curve.depth_m) * 1e3 + ERROR
    rows = [
        {"poured": f"{v * 1e3:.2f} L", "height": f"{d:.0f} mm"}
        for v, d in zip(poured, depth, strict=True)
    ]
    tilts = [
        {"turn": turn, "g": size, "off": off, "covered": "yes"}
        for turn, size, off in (
            ("left", "1.2 g", "2 mm"), ("right", "1.2 g", "3 mm"), ("brake", "1.1 g", "2 mm"),
        )
    ]  # fmt: skip
    return [
        {"kind": "fill-test", "liquid": "the engine's oil", "rows": rows},
        {"kind": "tilt-test", "filled": "4.5 L", "rows": tilts},
        {"kind": "door-test", "doors": doors(job)},
        {"kind": "leak-test", "how": "dyed paraffin, level with the rail", "stood": "12 h"},
    ]


def after(job: Path) -> list[dict[str, Any]]:
    """At the skidpad, and with the pan off again."""
    seams = ("pocket to floor", "left kick-out", "right kick-out", "drain boss")
    return [
        {"kind": "session", "stage": "circles", "level_before": "4.5 L", "level_after": "4.5 L"},
        {"kind": "session", "stage": "figure-eights and stops", "level_before": "4.5 L",
         "level_after": "4.48 L"},
        {"kind": "teardown", "level_in": "4.5 L", "level_out": "4.4 L", "oil": "good",
         "debris": "none", "screen": "clean", "doors": doors(job),
         "welds": [{"name": seam, "sound": "yes"} for seam in seams]},
    ]  # fmt: skip


def doors(job: Path) -> list[dict[str, str]]:
    """Every trap door, free and tight."""
    named = doors_of(load_job(job))
    return [{"baffle": b, "door": d, "swings": "yes", "stops": "yes"} for b, d in named]


if __name__ == "__main__":
    sys.exit(main(Path(sys.argv[1]) if len(sys.argv) > 1 else JOB))
