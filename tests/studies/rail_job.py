# SPDX-License-Identifier: Apache-2.0
"""A box with a bolt pattern of ten holes, no two ways of laying it alike."""

from pathlib import Path

import numpy as np

from tests.studies.box_job import JOB, box_job

SPOTS = np.array(
    [[10, -90], [60, -90], [115, -90], [170, -90], [230, -90], [290, -90],
     [290, 90], [215, 90], [110, 90], [10, 90]], dtype=float
)  # fmt: skip
"""mm"""
NAMES = [str(k + 1) for k in range(len(SPOTS))]


def holes_text(spots: np.ndarray, names: list[str], indent: int) -> str:
    """Entries of a list of holes, millimetres."""
    rows = (
        f"{' ' * indent}- {{name: {n}, at: [{x:.4f} mm, {y:.4f} mm]}}"
        for n, (x, y) in zip(names, spots, strict=True)
    )
    return "\n".join(rows) + "\n"


def rail_text(*sets: tuple[str, str, np.ndarray], more: str = "") -> str:
    """The job's text; each set is its name, how it was measured, and where, all ten holes."""
    text = JOB + "rail:\n" + more + "  holes:\n" + holes_text(SPOTS, NAMES, 4)
    if sets:
        text += "  measured:\n"
    for name, how, spots in sets:
        text += f"    - name: {name}\n      how: {how}\n      holes:\n"
        text += holes_text(spots, NAMES[: len(spots)], 8)
    return text


def rail_job(folder: Path, *sets: tuple[str, str, np.ndarray], more: str = "") -> Path:
    """The job's folder."""
    return box_job(folder, rail_text(*sets, more=more))


def turned(spots: np.ndarray, by: float, shift: tuple[float, float] = (0.0, 0.0)) -> np.ndarray:
    """The spots turned by degrees, then moved."""
    c, s = np.cos(np.radians(by)), np.sin(np.radians(by))
    return spots @ np.array([[c, s], [-s, c]]) + shift
