# SPDX-License-Identifier: Apache-2.0
"""Measured holes laid over the design: what is off, and which scale the measurement wants."""

from collections.abc import Mapping, Sequence

import numpy as np

from sumpwright.geometry.registration import (
    Registration,
    rigid_fit,
    scale_spread,
    similarity_fit,
    stretch,
)
from sumpwright.job.rail import MeasuredSet
from sumpwright.studies.rail_result import (
    Bend,
    HoleLine,
    MeasuredFit,
    Scale,
    SetHole,
    State,
)

WORTH = 2e-5
"""m at the pattern's ends; a scale that moves them less is not worth a word."""
FAR_BETTER = 0.25
"""Of the rms: a mirror image has to fit this much better to be named."""


def measured_fit(lines: Sequence[HoleLine], bolt: float, measured: MeasuredSet) -> MeasuredFit:
    """One set against the design. Its names are those of the design; the job's check sees to it."""
    by_name = {line.name: line for line in lines}
    design = [by_name[hole.name] for hole in measured.holes]
    x = np.array([line.at_m for line in design])
    turned = np.array([1.0, -1.0 if measured.seen == "below" else 1.0])
    y = np.array([hole.at for hole in measured.holes]) * turned
    fit = rigid_fit(x, y)
    holes = tuple(_hole(line, bolt, fit, k) for k, line in enumerate(design))
    worst = max(holes, key=lambda h: (h.distance_m - h.allowed_m, h.distance_m))
    seen = {hole.name for hole in measured.holes}
    return MeasuredFit(
        name=measured.name,
        how=measured.how,
        seen=measured.seen,
        holes=holes,
        missing=tuple(line.name for line in lines if line.name not in seen),
        turn_rad=fit.turn,
        shift_m=(float(fit.shift[0]), float(fit.shift[1])),
        rms_m=fit.rms,
        worst=worst.name,
        worst_m=worst.distance_m,
        scale=_scale(x, y),
        bend=_bend(x, y),
        mirrored_fits=len(x) > 2 and _mirrored(x, y, fit),
        state=_worst_state(holes),
    )


def _hole(line: HoleLine, bolt: float, fit: Registration, k: int) -> SetHole:
    off = fit.residual[k]
    distance = float(np.hypot(*off))
    most, allowed = 0.5 * (line.diameter_m - bolt), 0.5 * line.left_m
    state: State = "fits" if distance <= allowed else "tight" if distance <= most else "strikes"
    at = (line.at_m[0] + float(off[0]), line.at_m[1] + float(off[1]))
    return SetHole(line.name, at, (float(off[0]), float(off[1])), distance, allowed, most, state)


def _scale(x: np.ndarray, y: np.ndarray) -> Scale:
    free = similarity_fit(x, y) if not _is_mirror(x, y) else None
    if free is None:
        return Scale(1.0, None, False, rigid_fit(x, y).rms)
    spread = scale_spread(x, free)
    ends = float(np.linalg.norm(x - x.mean(axis=0), axis=1).max())
    off = abs(free.scale - 1.0)
    told = spread is not None and off > 2.0 * spread and off * ends > WORTH
    return Scale(free.scale, spread, told, free.rms)


def _is_mirror(x: np.ndarray, y: np.ndarray) -> bool:
    """Whether the best proper turn is none: no scale over zero would fit."""
    a, b = x - x.mean(axis=0), y - y.mean(axis=0)
    u, s, v = np.linalg.svd(b.T @ a)
    return bool(s[0] + np.sign(np.linalg.det(u) * np.linalg.det(v)) * s[1] <= 1e-9 * s[0])


def _bend(x: np.ndarray, y: np.ndarray) -> Bend | None:
    found = stretch(x, y)
    return None if found is None else Bend(found.along, found.across, found.skew)


def _mirrored(x: np.ndarray, y: np.ndarray, fit: Registration) -> bool:
    over = rigid_fit(x, y * [1.0, -1.0]).rms
    return over < FAR_BETTER * fit.rms and fit.rms > 1e-3


def _worst_state(holes: Sequence[SetHole]) -> State:
    order: Mapping[State, int] = {"fits": 0, "tight": 1, "strikes": 2}
    return max((h.state for h in holes), key=lambda s: order[s])
