# SPDX-License-Identifier: Apache-2.0
"""File the demo's bench tests, sessions, logs and teardown, so that its revision B can be released.

    python tools/make_demo_records.py [JOB]

Invented: nothing was poured, tilted, driven or taken apart. Run it again, with records/ emptied,
when the demo's pan or oil has changed: records belong to one part.
"""

import sys
from datetime import UTC, datetime, timedelta, tzinfo
from pathlib import Path
from typing import Any, ClassVar, Self
from unittest.mock import patch

import numpy as np

from sumpwright.job.load import load_job
from sumpwright.studies.check import check
from sumpwright.studies.history import kept_revisions
from sumpwright.studies.read import ReadAsked, file_record, read_logs
from sumpwright.studies.record import doors_of, write_record
from sumpwright.studies.tilt_pour import tilt_pour
from sumpwright.units import shown

JOB = Path(__file__).resolve().parents[1] / "examples" / "demo-b"
WHO = "Ada Quill"
NOTE = "invented for a demonstration"
ERROR = (0.4, -0.6, 0.3, 0.9, -0.2, 0.5)
"""mm that a person reads wrong"""
DAYS = {
    "fill-test": (1, "09:10"), "tilt-test": (1, "11:25"), "door-test": (1, "13:40"),
    "leak-test": (2, "08:15"), "circles": (3, "10:05"), "figure-eights and stops": (3, "11:50"),
    "log": (3, "14:20"), "teardown": (4, "09:30"),
}  # fmt: skip
"""When each is filed: days after the revision before was kept, and the hour. The leak test stands
overnight; the log is read after the driving and before the pan comes off."""


class Clock(datetime):
    """The clock of the invented days; a record takes the hour from it that it was filed at."""

    stands: ClassVar[datetime]

    @classmethod
    def now(cls, tz: tzinfo | None = None) -> Self:
        d = cls.stands
        return cls(d.year, d.month, d.day, d.hour, d.minute, tzinfo=tz or UTC)


def main(job: Path) -> int:
    """Write every record."""
    begun = datetime.fromisoformat(kept_revisions(load_job(job))[-1].when).astimezone(UTC)
    with patch("sumpwright.studies.record.datetime", Clock):
        for values in (*bench(job), *driven()):
            filed_at(begun, values.get("stage", values["kind"]))
            print(write_record(job, {"by": WHO, "note": NOTE, **values}))
        filed_at(begun, "log")
        day = ReadAsked(job, (job / "tests" / "skidpad.csv",), prediction=False)
        print(*file_record(read_logs(day)))
        filed_at(begun, "teardown")
        print(write_record(job, {"by": WHO, "note": NOTE, **teardown(job)}))
    return 0


def filed_at(begun: datetime, what: str) -> None:
    """Set the clock to when `what` was done."""
    days, hour = DAYS[what]
    hours, minutes = map(int, hour.split(":"))
    day = begun + timedelta(days=days)
    Clock.stands = day.replace(hour=hours, minute=minutes, second=0, microsecond=0)


def bench(job: Path) -> list[dict[str, Any]]:
    """Before the engine runs."""
    loaded = load_job(job)
    curve, full = (fill := check(job).fill).curve, fill.full_m3
    filled = shown(tilt_pour(loaded.job, fill).volume, "volume", loaded.job.units)
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
        {"kind": "tilt-test", "filled": filled, "rows": tilts},
        {"kind": "door-test", "doors": doors(job)},
        {"kind": "leak-test", "how": "dyed paraffin, level with the rail", "stood": "12 h"},
    ]


def driven() -> list[dict[str, Any]]:
    """At the skidpad."""
    return [
        {"kind": "session", "stage": "circles", "level_before": "4.5 L", "level_after": "4.5 L"},
        {"kind": "session", "stage": "figure-eights and stops", "level_before": "4.5 L",
         "level_after": "4.48 L"},
    ]  # fmt: skip


def teardown(job: Path) -> dict[str, Any]:
    """With the pan off again."""
    seams = ("pocket to floor", "left kick-out", "right kick-out", "drain boss")
    return {
        "kind": "teardown", "level_in": "4.5 L", "level_out": "4.4 L", "oil": "good",
        "debris": "none", "screen": "clean", "doors": doors(job),
        "welds": [{"name": seam, "sound": "yes"} for seam in seams],
    }  # fmt: skip


def doors(job: Path) -> list[dict[str, str]]:
    """Every trap door, free and tight."""
    named = doors_of(load_job(job))
    return [{"baffle": b, "door": d, "swings": "yes", "stops": "yes"} for b, d in named]


if __name__ == "__main__":
    sys.exit(main(Path(sys.argv[1]) if len(sys.argv) > 1 else JOB))
