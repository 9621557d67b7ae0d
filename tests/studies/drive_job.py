# SPDX-License-Identifier: Apache-2.0
"""A job with something to drive, without any geometry read."""

from pathlib import Path

from sumpwright.job.load import LoadedJob, read_job

ENGINE = "engine: {rpm: 6000 rpm}\n"
DRIVELINE = """\
driveline:
  gears: [3.2, 1.9, 1.3, 1.0]
  final_drive: 4.1
  tyre_radius: 300 mm
  shift_up: 6500 rpm
  shift_down: 2800 rpm
"""
HEAD = (
    "job: bench\nnew: {cavity: geometry/new.step}\noil: {fill: 4 L, cold: 15 degC, hot: 95 degC}\n"
)


def drive_job(folder: Path, manoeuvres: str = "", more: str = "") -> LoadedJob:
    """The job of `HEAD` with a list of manoeuvres, one to a line, and other sections."""
    (folder / "geometry").mkdir(exist_ok=True)
    (folder / "geometry" / "new.step").write_text("not read by the loader")
    lines = "".join(f"  - {line}\n" for line in manoeuvres.splitlines())
    text = HEAD + more + (f"manoeuvres:\n{lines}" if lines else "")
    return read_job(text, folder / "job.yaml")
