# SPDX-License-Identifier: Apache-2.0
"""A small job folder to edit through forms: sections, lists and comments in every manner."""

from pathlib import Path
from typing import Any

from sumpwright.web.edit_verb import changed

TEXT = """\
# The bench engine's pan
job: "Bench engine"  # its name
new:
  cavity: geometry/new.step
  pickup: {centre: [100 mm, 0 mm, -100 mm], diameter: 40 mm}  # in braces
  baffles:
    # the rear one
    - name: rear wall
      at: [80 mm, 0 mm, 0 mm]
      normal: [1, 0, 0]
      thickness: 1 mm
      gap: 0.3 mm  # dressed
    - name: left wall
      at: [160 mm, 60 mm, 0 mm]
      normal: [0, 1, 0]
      thickness: 1 mm
  suction:
    tubes:
      - bore: 18 mm  # drawn
        length: 80 mm
      - bore: 18 mm
        length: 55 mm
    pump_inlet: [195 mm, -95 mm, 30 mm]
oil:
  fill: 4.5 L  # as poured
#  low: 3.6 L
  grade: 10W-40
ride:
  bump_travel: 60 mm
# What has to be cleared.
obstacles:
  - {name: rack, file: geometry/rack.stl, unit: mm, clearance: 12 mm}
  - name: beam
    file: geometry/beam.step
driveline:
  gears: [3.2, 1.9, 1.3]
  final_drive: 4.1
  tyre_radius: 300 mm
  shift_up: 6500 rpm
  shift_down: 2800 rpm
manoeuvres:
  - {name: left circle, kind: circle, radius: 30 m, accel: 1.0 g, duration: 15 s, rpm: 4500 rpm}
"""
FILES = ("geometry/new.step", "geometry/rack.stl", "geometry/beam.step", "tests/day.csv")


def job(folder: Path, text: str | bytes = TEXT) -> Path:
    """A job folder with `text` as its job file and every file that TEXT names."""
    for name in FILES:
        (folder / name).parent.mkdir(parents=True, exist_ok=True)
        (folder / name).write_bytes(b"not read by the loader")
    data = text.encode("utf-8") if isinstance(text, str) else text
    (folder / "job.yaml").write_bytes(data)
    return folder


def text_of(folder: Path) -> str:
    """The job file's text, byte for byte."""
    return (folder / "job.yaml").read_bytes().decode("utf-8")


def ask(folder: Path, verb: str, *, window: str = "one", **body: Any) -> dict[str, Any]:
    """What a page of `window` is told when it asks for a change."""
    return changed(folder, verb, {"window": window, **body})


def set_(folder: Path, key: str, value: str | None, before: str | None, **more: Any) -> Any:
    """A value that is set."""
    return ask(folder, "set", key=key, value=value, before=before, **more)


def lines(before: str, after: str) -> list[str]:
    """Lines that went (-) and came (+), each with its sign."""
    import difflib

    rows = difflib.ndiff(before.split("\n"), after.split("\n"))
    return [row for row in rows if row[0] in "+-"]
