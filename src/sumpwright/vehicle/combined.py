# SPDX-License-Identifier: Apache-2.0
"""Manoeuvres that combine braking and turning: brake-and-turn, the staged skidpad."""

import math
from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise

import numpy as np

from sumpwright.errors import RangeError
from sumpwright.vehicle.guard import not_negative, positive
from sumpwright.vehicle.leg import ACCEL_STEP, Leg, driven, fine_times, legs_motion, speed_change
from sumpwright.vehicle.manoeuvre import JERK, RUN_UP
from sumpwright.vehicle.motion import Floats, Motion, Span, level_motion, within_jerk
from sumpwright.vehicle.path import arc, chained, clothoid, straight, transition_length
from sumpwright.vehicle.sequence import in_sequence

_FORWARD = 0.5
"""Share of the jerk limit for changing speed on a circle; the turn, growing, needs the rest."""


def brake_and_turn(
    speed: float,
    turn_speed: float,
    *,
    decel: float,
    accel: float,
    hold: float = 3.0,
    release: float = 1.0,
    left: bool = True,
    run_up: float = RUN_UP,
    jerk: float = JERK,
) -> Motion:
    r"""Braking straight, then letting the brakes off as the turn builds up, then the turn.

    While one goes over into the other the acceleration runs along the ellipse of what the tyres do,
    at a steady rate of its angle:

    .. math:: (a_x/a_b)^2 + (a_y/a_t)^2 = 1

    Parameters
    ----------
    speed : float [m/s]
        At first.
    turn_speed : float [m/s]
        In the turn, once the brakes are off; its radius is turn_speed^2/accel.
    decel : float [m/s^2]
        a_b, braking straight ahead, positive.
    accel : float [m/s^2]
        a_t, in the turn, positive.
    hold : float [s]
        Of the steady turn.
    release : float [s]
        From full braking to full turning.
    left : bool [-]
        Turns left; else right.
    run_up : float [s]
        Straight ahead before and after.
    jerk : float [m/s^3]
        Limit throughout.

    Returns
    -------
    motion : Motion [m/s^2]
        Spans ``braking``, ``release`` and ``turn``.

    Raises
    ------
    RangeError
        If brakes on and off take more speed than there is, or the release is too quick.

    Source
    ------
    [common-practice] for the ellipse, [closed-form]. Checked by tests/vehicle/test_combined.py.
    """
    most, side = positive(decel, "deceleration", "m/s^2"), positive(accel, "acceleration", "m/s^2")
    onset = most / positive(jerk, "jerk limit", "m/s^3")
    turning_in = _ellipse(most, side, release, positive(turn_speed, "turn speed", "m/s"))
    lost = _start_speed(turning_in) - turn_speed + 0.5 * most * onset
    if lost > speed - turn_speed:
        raise RangeError(
            f"brakes going on and off take {lost:.4g} m/s already, and only "
            f"{speed - turn_speed:.4g} m/s are to go: brake less, or release sooner"
        )
    full = (speed - turn_speed - lost) / most
    before = not_negative(run_up, "run-up", "s")
    pieces = [
        legs_motion([Leg(before), Leg(onset, -most), Leg(full, -most)], speed),
        turning_in,
        _held_turn(side, hold, before, turn_speed, jerk),
    ]
    marks = np.cumsum([before, onset + full, release, hold]).tolist()
    names = ("braking", "release", "turn")
    spans = [Span(n, *pair) for n, pair in zip(names, pairwise(marks), strict=True)]
    whole = within_jerk(replace(in_sequence(pieces), spans=tuple(spans)), jerk)
    return whole if left else whole.mirrored()


def staged_skidpad(
    radius: float,
    accels: Sequence[float],
    *,
    hold: float = 10.0,
    ease: float = 1.0,
    rest: float = 5.0,
    both: bool = True,
    run_up: float = RUN_UP,
    jerk: float = JERK,
) -> Motion:
    """A skidpad in stages of rising acceleration, left round and then right round.

    The speed rises on the circle from stage to stage, and falls again on the straight after the
    last.

    Parameters
    ----------
    radius : float [m]
        Of the path.
    accels : (n,) [m/s^2]
        Of the stages, rising. The standard's steps are 0.5 m/s^2 or less.
    hold : float [s]
        Of each stage.
    ease : float [m/s^2]
        Largest forward acceleration between stages, and braking after the last.
    rest : float [s]
        Straight ahead at the first stage's speed, after each direction.
    both : bool [-]
        Left and then right; else left alone, which `Motion.mirrored` turns round.
    run_up : float [s]
        Straight ahead before and after the circle.
    jerk : float [m/s^3]
        Limit throughout.

    Returns
    -------
    motion : Motion [m/s^2]
        A span a stage: ``left 1``, ``left 2``, ... ``right 1``, ...

    Raises
    ------
    RangeError
        If the stages do not rise, or changing speed needs more jerk than the limit.

    Source
    ------
    [ISO-4138] for the method, [closed-form]. Checked by tests/vehicle/test_combined.py.
    """
    stages = [positive(a, "acceleration of a stage", "m/s^2") for a in accels]
    if not stages or any(b <= a for a, b in pairwise(stages)):
        raise RangeError("a staged skidpad needs at least one stage, and each harder than the last")
    speeds = [math.sqrt(a * positive(radius, "radius", "m")) for a in stages]
    positive(hold, "hold", "s")
    pieces = [_entry(speeds[0], radius, run_up, jerk)]
    for i, v in enumerate(speeds):
        if i:
            pieces.append(_faster(speeds[i - 1], v, radius, ease, jerk))
        steady = driven(arc(radius, hold * v / radius), v)
        pieces.append(replace(steady, spans=(Span(f"left {i + 1}", 0.0, steady.duration),)))
    pieces.append(_entry(speeds[-1], radius, run_up, jerk, away=True))
    pieces.append(_slower(speeds[-1], speeds[0], ease, rest, jerk))
    left = within_jerk(in_sequence(pieces), jerk)
    return in_sequence([left, _right(left)]) if both else left


def _ellipse(most: float, side: float, release: float, end_speed: float) -> Motion:
    """From full braking to full turning at a steady rate of the angle on the ellipse."""
    duration = positive(release, "release time", "s")
    count = math.ceil(0.5 * math.pi * max(most, side) / ACCEL_STEP)
    angle = 0.5 * math.pi * np.arange(count + 1) / count
    time = duration * np.arange(count + 1) / count
    forward, left = -most * np.cos(angle), side * np.sin(angle)
    forward[-1] = 0.0  # cos(pi/2) is not 0 to the last digit
    lost = -np.sum(0.5 * (forward[:-1] + forward[1:]) * np.diff(time))
    return level_motion(time, forward, left, end_speed + float(lost))


def _start_speed(motion: Motion) -> float:
    assert motion.speed is not None
    return float(motion.speed[0])


def _held_turn(side: float, hold: float, run_out: float, speed: float, jerk: float) -> Motion:
    legs = [Leg(positive(hold, "hold", "s"), 0.0, side), Leg(side / jerk), Leg(run_out)]
    return legs_motion(legs, speed, (0.0, side))


def _entry(speed: float, radius: float, run_up: float, jerk: float, away: bool = False) -> Motion:
    """Straight into the circle, or out of it."""
    long = transition_length(speed, radius, jerk)
    spiral = clothoid(math.sqrt(radius * long), long)
    ahead = speed * not_negative(run_up, "run-up", "s")
    path = chained(straight(ahead), spiral) if ahead else spiral
    return driven(path.mirrored().reversed() if away else path, speed)


def _faster(start: float, end: float, radius: float, ease: float, jerk: float) -> Motion:
    """From one stage to the next on the circle: the turn's acceleration follows the speed's."""
    legs = speed_change(start=start, end=end, accel=ease, jerk=_FORWARD * jerk)
    flat = legs_motion(legs, start)
    assert flat.speed is not None
    left = flat.speed**2 / radius
    fine = fine_times(flat.time, left[:, None])
    forward = np.interp(fine, flat.time, flat.accel[:, 0])
    gained = np.cumsum(0.5 * (forward[:-1] + forward[1:]) * np.diff(fine))
    speed: Floats = start + np.concatenate([[0.0], gained])
    return level_motion(fine, forward, speed**2 / radius, start)


def _slower(start: float, end: float, ease: float, rest: float, jerk: float) -> Motion:
    """Back to the first stage's speed on the straight, and steady there."""
    change = speed_change(start=start, end=end, accel=ease, jerk=jerk) if start > end else ()
    return legs_motion([*change, Leg(positive(rest, "rest", "s"))], start)


def _right(left: Motion) -> Motion:
    renamed = tuple(Span(s.name.replace("left", "right"), s.start, s.end) for s in left.spans)
    return replace(left.mirrored(), spans=renamed)
