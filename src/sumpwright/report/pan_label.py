# SPDX-License-Identifier: Apache-2.0
"""What the pan's picture names: the tightest gap, and each obstacle where it is seen."""

import numpy as np
from numpy.typing import NDArray

from sumpwright.report.label import Label
from sumpwright.report.room import by_room, tightest
from sumpwright.report.shade import FINE, Camera, Layer
from sumpwright.studies.result import CheckResult, ObstacleGap
from sumpwright.studies.scene import ObstacleShape, Scene
from sumpwright.units import shown

Floats = NDArray[np.float64]

HIDES = 25.0
"""Samples: what lies this much nearer to the viewer hides a spot."""


def pan_labels(
    result: CheckResult, scene: Scene, view: Camera, pan: Layer, others: Layer, elements: float
) -> list[Label]:
    """What to label, most important first; `elements` are those in a unit of the drawing."""
    labels = []
    worst = tightest(result)
    if worst is not None:
        x, y, z = (float(c) for c in view.seen(worst.worst.on_pan_m))
        if 0.0 <= x < view.width and 0.0 <= y < view.height:
            nearer = pan.depth[int(y * FINE), int(x * FINE)] - z * FINE
            words = _gap_words(worst, result.units)
            spot = (x / elements, y / elements)
            hidden = bool(nearer >= HIDES)
            over = "Tightest gap, on the far side" if hidden else "Tightest gap"
            labels.append(Label(spot, words, bold=True, over=over, hidden=hidden))
    depth = np.maximum(pan.depth, others.depth)
    for obstacle in _ranked(scene, result):
        seen = _visible_spot(obstacle.mesh.vertices, view, depth)
        if seen is not None:
            labels.append(Label((seen[0] / elements, seen[1] / elements), obstacle.name))
    return labels


def _ranked(scene: Scene, result: CheckResult) -> list[ObstacleShape]:
    names = [o.obstacle for o in by_room(result)]
    rank = {name: k for k, name in enumerate(names)}
    return sorted(scene.obstacles, key=lambda o: rank.get(o.name, len(rank)))


def _gap_words(worst: ObstacleGap, units: str) -> str:
    gap = worst.worst.gap_m
    size = shown(abs(gap), "length", units)
    what = f"{size} overlap with" if gap < 0.0 else f"{size} to"
    asked = worst.needed_m
    need = "" if asked is None else f" ({shown(asked, 'length', units)} asked for)"
    return f"{what} {worst.obstacle}, {worst.worst.case}{need}"


def _visible_spot(points: Floats, view: Camera, depth: Floats) -> tuple[float, float] | None:
    """The seen vertex furthest to the right, where the labels are."""
    seen = view.seen(points)
    inside = (np.abs(seen[:, :2] / [view.width, view.height] - 0.5) < 0.485).all(axis=1)
    seen = seen[inside]
    column, row = (seen[:, :2] * FINE).astype(int).T
    seen = seen[seen[:, 2] * FINE > depth[row, column] - 6.0]
    if not len(seen):
        return None
    best = seen[int(np.argmax(seen[:, 0]))]
    return float(best[0]), float(best[1])
