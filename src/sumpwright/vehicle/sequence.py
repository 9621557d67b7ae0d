# SPDX-License-Identifier: Apache-2.0
"""Motions put together: one after the other, or one on top of the other; never with a step."""

from collections.abc import Callable, Sequence
from itertools import pairwise

import numpy as np

from sumpwright.errors import RangeError
from sumpwright.vehicle.motion import Floats, Motion, Span

_MEET = 1e-6  # m/s^2, m/s, 1/m or rad/s; values closer than this meet
_FOLLOWING = ("speed", "distance", "curvature", "engine_speed")
_LEAST_STEP = 1e-9  # s; nodes closer than this are one node, parted by rounding


def in_sequence(motions: Sequence[Motion]) -> Motion:
    """One motion after the other.

    Parameters
    ----------
    motions : sequence of Motion [m/s^2]
        Each must begin as the one before ends. What one does not know, the whole does not know.

    Returns
    -------
    motion : Motion [m/s^2]

    Raises
    ------
    RangeError
        If acceleration, speed, curvature or engine speed would jump where two meet.
    """
    for before, after in pairwise(motions):
        _refuse_jump(before, after)
    starts = np.concatenate([[0.0], np.cumsum([m.duration for m in motions])])
    return Motion(
        time=_counted_on([m.time for m in motions]),
        accel=_laid_on([m.accel for m in motions]),
        speed=_if_known(_laid_on, [m.speed for m in motions]),
        distance=_if_known(_counted_on, [m.distance for m in motions]),
        curvature=_if_known(_laid_on, [m.curvature for m in motions]),
        engine_speed=_if_known(_laid_on, [m.engine_speed for m in motions]),
        spans=tuple(
            Span(span.name, span.start + float(start), span.end + float(start))
            for start, motion in zip(starts, motions, strict=False)
            for span in motion.spans
        ),
    )


def overlaid(motion: Motion, extra: Motion, start: float) -> Motion:
    """A motion with the acceleration of another on top, such as a kerb struck in a turn.

    Parameters
    ----------
    motion : Motion [m/s^2]
        What the car does; speed and path stay its own.
    extra : Motion [m/s^2]
        Must begin and end without acceleration.
    start : float [s]
        When it begins.

    Returns
    -------
    motion : Motion [m/s^2]

    Raises
    ------
    RangeError
        If it would not fit in, or begin or end with a step.
    """
    if np.abs(extra.accel[[0, -1]]).max() > _MEET:
        raise RangeError("what is laid over a motion must begin and end without acceleration")
    if not 0.0 <= start <= motion.duration - extra.duration:
        raise RangeError(
            f"{extra.duration:.4g} s from {start:.4g} s on do not fit in {motion.duration:.4g} s"
        )
    time = np.union1d(motion.time, start + extra.time)
    time = time[np.concatenate([[True], np.diff(time) > _LEAST_STEP])]
    added = [np.interp(time - start, extra.time, a, left=0.0, right=0.0) for a in extra.accel.T]
    base = [np.interp(time, motion.time, a) for a in motion.accel.T]
    followed = {name: getattr(motion, name) for name in _FOLLOWING}
    return Motion(
        time=time,
        accel=np.stack(base, axis=1) + np.stack(added, axis=1),
        spans=motion.spans,
        **{n: np.interp(time, motion.time, v) for n, v in followed.items() if v is not None},
    )


def _refuse_jump(before: Motion, after: Motion) -> None:
    jump = float(np.abs(before.accel[-1] - after.accel[0]).max())
    if jump > _MEET:
        raise RangeError(f"acceleration must not jump where motions meet, here by {jump:.4g} m/s^2")
    for name in ("speed", "curvature", "engine_speed"):
        a, b = getattr(before, name), getattr(after, name)
        if a is not None and b is not None and abs(a[-1] - b[0]) > _MEET:
            raise RangeError(
                f"{name.replace('_', ' ')} must not jump where motions meet: "
                f"{a[-1]:.6g}, then {b[0]:.6g}"
            )


def _if_known(
    put_together: Callable[[Sequence[Floats]], Floats], pieces: Sequence[Floats | None]
) -> Floats | None:
    known = [piece for piece in pieces if piece is not None]
    return put_together(known) if len(known) == len(pieces) else None


def _counted_on(pieces: Sequence[Floats]) -> Floats:
    """Pieces that each start at 0, counted on from where the one before ended."""
    ends = np.concatenate([[0.0], np.cumsum([piece[-1] for piece in pieces])])
    return np.concatenate([np.zeros(1), *[e + p[1:] for e, p in zip(ends, pieces, strict=False)]])


def _laid_on(pieces: Sequence[Floats]) -> Floats:
    return np.concatenate([pieces[0][:1], *[piece[1:] for piece in pieces]])
