# SPDX-License-Identifier: Apache-2.0
"""Job folders of pans drawn from numbers."""

from pathlib import Path

PAN = """\
job: drawn
new:
  shape:
    wall: 3 mm
    corner_radius: 10 mm
    zones:
      - { name: well, box: [0 mm, 300 mm, -100 mm, 100 mm], depth: 100 mm }
rail:
  outline:
    - at: [-20 mm, -120 mm]
    - at: [320 mm, -120 mm]
    - at: [320 mm, 120 mm]
    - at: [-20 mm, 120 mm]
  radius: 20 mm
  holes:
    - { name: 1, at: [-10 mm, 0 mm] }
oil: { fill: 3 L }
"""

BOSS = """\
    bosses:
      - name: plug
        kind: drain
        at: [150 mm, 0 mm, -113 mm]
        facing: [0, 0, -1]
        diameter: 26 mm
        height: 14 mm
        thread: M14x1.5
"""


def shape_job(folder: Path, *changes: tuple[str, str], boss: bool = False) -> Path:
    """A job folder of that pan, changed as asked; every change must find its place."""
    text = PAN.replace("rail:\n", f"{BOSS}rail:\n") if boss else PAN
    for before, after in changes:
        assert before in text, before
        text = text.replace(before, after, 1)
    folder.mkdir(parents=True, exist_ok=True)
    (folder / "job.yaml").write_text(text, encoding="utf-8")
    return folder
