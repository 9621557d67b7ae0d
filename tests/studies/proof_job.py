# SPDX-License-Identifier: Apache-2.0
"""A box of a pan with one trap door, and forms filled in for it."""

from pathlib import Path
from typing import Any

from tests.studies.box_job import JOB, box_job

DOORED = JOB.replace(
    "oil:",
    """\
  pickup: {centre: [75 mm, 0 mm, -90 mm], diameter: 40 mm, facing: [0, 0, -1]}
  baffles:
    - name: wall
      at: [150 mm, 0 mm, 0 mm]
      normal: [1, 0, 0]
      thickness: 1 mm
      openings:
        - name: door
          centre: [0 mm, -85 mm]
          width: 40 mm
          height: 20 mm
          door: {hinge: top, opens: behind, material: steel}
oil:""",
)
DOOR = {"baffle": "wall", "door": "door", "swings": "yes", "stops": "yes"}
SIDES = [{"turn": turn, "held": "1.25 g", "dips": 0} for turn in ("left", "right", "brake")]
FORMS: dict[str, dict[str, Any]] = {
    # the box holds 60 L a metre: 1 L stands 16.667 mm high
    "fill-test": {
        "rows": [
            {"poured": f"{litres} L", "height": f"{litres / 0.06:.1f} mm"}
            for litres in (1.0, 2.0, 3.0)
        ]
    },
    "tilt-test": {
        "filled": "3 L",
        "rows": [
            {"turn": t, "g": "0.5 g", "off": "2 mm", "covered": "yes"} for t in ("left", "right")
        ],
    },
    "door-test": {"doors": [DOOR]},
    "leak-test": {"stood": "12 h"},
    "session": {"stage": "circle, left", "level_before": "3 L", "level_after": "2.95 L"},
    "teardown": {
        "level_in": "3 L",
        "level_out": "2.9 L",
        "oil": "good",
        "debris": "none",
        "screen": "clean",
        "doors": [DOOR],
        "welds": [{"name": "front corner", "sound": "yes"}],
    },
    "fit": {
        "prototype": "print 1",
        "findings": [
            {"place": "rear left", "found": "touches", "at": ["20 mm", "60 mm", "-40 mm"]},
            {"place": "front", "found": "short", "by": "3 mm"},
        ],
        "change": "left wall 4 mm further in",
    },
    "log": {
        "files": [{"file": "tests/day.csv", "sha256": "0" * 64}],
        "sides": SIDES,
        "verdict": "no dip either way",
    },
    "decision": {"text": "Go on to release."},
}


def form(kind: str, **other: Any) -> dict[str, Any]:
    """The filled-in form of a kind, with some values otherwise."""
    return {"kind": kind, "by": "Tamsin Orrel", **FORMS[kind], **other}


def doored_job(folder: Path, text: str = DOORED) -> Path:
    """The job's folder."""
    return box_job(folder, text)
