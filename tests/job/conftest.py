# SPDX-License-Identifier: Apache-2.0
"""A job folder to spoil: small, valid, with a file that is there."""

from collections.abc import Callable
from pathlib import Path

import pytest

MakeJob = Callable[[str], Path]

SMALL = """\
# the smallest job
job: Bench engine  # its name
new:
  cavity: {file: geometry/new.stl, unit: mm}
oil:
  fill: 4.6 L
"""
MOVING = """\
job: Bench engine
new:
  cavity: geometry/new.step
  displacing:
    - {name: pickup housing, file: geometry/new.step}
  baffles:
    - name: left wall
      at: [162 mm, 60 mm, -100 mm]
      normal: [0, 1, 0]
      outline: [[-60 mm, -25 mm], [60 mm, -25 mm], [60 mm, 30 mm], [-60 mm, 30 mm]]
      thickness: 1.5 mm
      gap: 0.5 mm  # measured
      openings:
        - {name: left window, centre: [0 mm, -10 mm], width: 30 mm, height: 20 mm}
        - name: left door
          centre: [20 mm, -10 mm]
          width: 30 mm
          height: 22 mm
          door:
            hinge: top
            opens: ahead
            mass: 20 g
            spring: {preload: 2 mN m, rate: 1 mN m/rad}
    - {name: tall, at: [9 cm, 0 mm, 0 mm], normal: [1, 0, 0], top: -4 cm, thickness: 1.5 mm}
    - {name: from CAD, face: geometry/new.step, thickness: 1.5 mm}
  suction:
    edge_radius: 3 mm
    screen: {pitch: 1.6 mm, wire: 0.4 mm, area: 20 cm^2}
    tubes:
      - {bore: 19 mm, length: 220 mm, bends: [{angle: 90 deg, radius: 28 mm}]}
    pump_inlet: [300 mm, 20 mm, 60 mm]
oil: {fill: 4.6 L}
engine:
  pump:
    displacement: 12 cm^3
    relief: 420 kPa
    relief_to: inlet
    reading: {pressure: 380 kPa, rpm: 3000 rpm, at: 90 degC}
  retained_cold: [{rpm: 800 rpm, oil: 0.4 L}, {rpm: 3000 rpm, oil: 0.9 L}]
  return_lag: 1.5 s
  returns:
    - {name: front drain, at: [330 mm, 0 mm, 20 mm], share: 40 %}
    - {name: rear drain, at: [30 mm, 0 mm, 20 mm], share: 60 %}
driveline:
  gears: [3.2, 1.9, 1.3, 1.0]
  final_drive: 4.1
  tyre_radius: 300 mm
  shift_up: 6500 rpm
  shift_down: 2800 rpm
air: {altitude: 300 m}
manoeuvres:
  - {name: left circle, kind: circle, radius: 30 m, accel: 1.1 g, duration: 15 s, rpm: 4500 rpm}
  - {name: eight, kind: figure-eight, radius: 15 m, accel: 1.0 g, laps: 2, gear: 2}
  - {name: log of 3 May, kind: trace, file: tests/eight.csv}
requirements: {hold_time: 8 s, dry_spell: off, inlet_hot: 80 kPa, inlet_cold: 70 kPa}
"""
"""A job of oil in motion: every section that it takes."""


@pytest.fixture
def make_job(tmp_path: Path) -> MakeJob:
    """Writes a job.yaml beside geometry/new.stl, new.step and a log, and gives the folder."""

    def make(text: str) -> Path:
        folder = tmp_path / "job"
        (folder / "geometry").mkdir(parents=True, exist_ok=True)
        for name in ("new.stl", "new.step"):
            (folder / "geometry" / name).write_bytes(b"not read by the loader")
        (folder / "tests").mkdir(exist_ok=True)
        (folder / "tests" / "eight.csv").write_bytes(b"not read by the loader")
        (folder / "job.yaml").write_bytes(text.encode("utf-8"))
        return folder

    return make


@pytest.fixture
def small() -> str:
    return SMALL


@pytest.fixture
def moving() -> str:
    return MOVING
