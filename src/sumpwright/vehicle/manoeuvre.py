# SPDX-License-Identifier: Apache-2.0
"""Manoeuvres by name: circle, figure-eight, slalom, braking, launch.

Each begins and ends without acceleration and never steps: its jerk stays within the limit it is
given, or it is refused. Left is the default sense; the other is its mirror image. Braking into a
turn and the staged skidpad are in `combined`; the rest is in `kerb`, `slope` and `trace`.
"""

import math
from dataclasses import replace

from sumpwright.errors import RangeError
from sumpwright.vehicle import course
from sumpwright.vehicle.circle import chosen_speed
from sumpwright.vehicle.guard import not_negative, positive
from sumpwright.vehicle.leg import Leg, driven, legs_motion, speed_change
from sumpwright.vehicle.motion import Motion, Span, within_jerk
from sumpwright.vehicle.path import Path, chained, straight, transition_length

JERK = 30.0
"""m/s^3; [common-practice]: from nothing to 1 g in a third of a second, a quick hand or foot."""
RUN_UP = 1.0
"""s; of straight, unhurried driving before and after."""


def steady_circle(
    radius: float,
    *,
    speed: float | None = None,
    accel: float | None = None,
    laps: float | None = None,
    duration: float | None = None,
    left: bool = True,
    run_up: float = RUN_UP,
    jerk: float = JERK,
) -> Motion:
    """A circle at one speed: straight, in along a clothoid, round, and out again.

    Parameters
    ----------
    radius : float [m]
        Of the path.
    speed : float or None [m/s]
        Given, or
    accel : float or None [m/s^2]
        given, one of the two.
    laps : float or None [-]
        Of the full circle, may be broken; given, or
    duration : float or None [s]
        of the full circle, given: one of the two. Transitions come on top.
    left : bool [-]
        Turns left; else right.
    run_up : float [s]
        Straight ahead before and after.
    jerk : float [m/s^3]
        The transitions are as short as it allows.

    Returns
    -------
    motion : Motion [m/s^2]
        The span ``steady`` is the full circle.

    Source
    ------
    [ISO-4138] for the circle, [closed-form]. Checked by tests/vehicle/test_manoeuvre.py.
    """
    v = chosen_speed(radius, speed=speed, accel=accel)
    if (laps is None) == (duration is None):
        raise RangeError("give the laps or the duration, one of the two")
    if laps is not None:
        round_by = 2.0 * math.pi * positive(laps, "laps", "(no unit)")
    else:
        round_by = v * positive(duration or 0.0, "duration", "s") / radius
    entry = transition_length(v, radius, jerk)
    motion = _driven_between(course.turn(radius, round_by, entry), v, run_up, left, jerk)
    start = run_up + entry / v
    return replace(motion, spans=(Span("steady", start, start + round_by * radius / v),))


def figure_eight(
    radius: float,
    *,
    speed: float | None = None,
    accel: float | None = None,
    laps: int = 1,
    left: bool = True,
    run_up: float = RUN_UP,
    jerk: float = JERK,
) -> Motion:
    """A figure-eight at one speed: from full one way to full the other through clothoids.

    Parameters
    ----------
    radius : float [m]
        Of both circles' paths.
    speed : float or None [m/s]
        Given, or
    accel : float or None [m/s^2]
        on the circles, given: one of the two.
    laps : int [-]
        Of the whole eight.
    left : bool [-]
        Left first; else right first.
    run_up : float [s]
        Straight ahead to the crossing and away from it.
    jerk : float [m/s^3]
        The transitions are as short as it allows.

    Returns
    -------
    motion : Motion [m/s^2]

    Source
    ------
    [closed-form]. Checked by tests/vehicle/test_manoeuvre.py.
    """
    v = chosen_speed(radius, speed=speed, accel=accel)
    eight = course.figure_eight(radius, transition_length(v, radius, jerk), laps)
    return _driven_between(eight, v, run_up, left, jerk)


def slalom(
    cone_spacing: float,
    offset: float,
    *,
    speed: float,
    cones: int = 6,
    left: bool = True,
    run_up: float = RUN_UP,
    jerk: float = JERK,
) -> Motion:
    """A slalom at one speed.

    Parameters
    ----------
    cone_spacing : float [m]
        Along the line of cones.
    offset : float [m]
        Of the path to the side of each cone.
    speed : float [m/s]
        Held.
    cones : int [-]
        How many are passed.
    left : bool [-]
        Passes the first cone on its left; else on its right.
    run_up : float [s]
        Straight ahead before and after.
    jerk : float [m/s^3]
        Refused where the weave needs more.

    Returns
    -------
    motion : Motion [m/s^2]

    Source
    ------
    [closed-form]. Checked by tests/vehicle/test_manoeuvre.py.
    """
    weave = course.slalom(cone_spacing, offset, cones)
    return _driven_between(weave, positive(speed, "speed", "m/s"), run_up, left, jerk)


def brake(
    speed: float,
    decel: float,
    *,
    end_speed: float = 0.0,
    run_up: float = RUN_UP,
    rest: float = 2.0 * RUN_UP,
    jerk: float = JERK,
) -> Motion:
    """Braking in a straight line, to a stop or to a lower speed.

    Parameters
    ----------
    speed : float [m/s]
        At first.
    decel : float [m/s^2]
        Largest deceleration, positive.
    end_speed : float [m/s]
        After braking.
    run_up : float [s]
        At the first speed before.
    rest : float [s]
        At the last speed afterwards, while the oil comes back.
    jerk : float [m/s^3]
        At which the brakes come on and off.

    Returns
    -------
    motion : Motion [m/s^2]
        The span ``braking`` is from the pedal to the end of it.

    Source
    ------
    [closed-form]. Checked by tests/vehicle/test_manoeuvre.py.
    """
    if end_speed >= speed:
        raise RangeError(f"braking ends slower than {speed:.4g} m/s, got {end_speed:.4g} m/s")
    return _straight_run("braking", speed, end_speed, decel, run_up, rest, jerk)


def launch(
    speed: float,
    accel: float,
    *,
    start_speed: float = 0.0,
    run_up: float = RUN_UP,
    rest: float = 2.0 * RUN_UP,
    jerk: float = JERK,
) -> Motion:
    """Accelerating in a straight line, from a stand or from a lower speed.

    Parameters
    ----------
    speed : float [m/s]
        Reached at the end.
    accel : float [m/s^2]
        Largest acceleration, positive.
    start_speed : float [m/s]
        At first.
    run_up : float [s]
        At the first speed before.
    rest : float [s]
        At the last speed afterwards.
    jerk : float [m/s^3]
        At which the push comes and goes.

    Returns
    -------
    motion : Motion [m/s^2]
        The span ``launch`` is from the first push to the end of it.

    Source
    ------
    [closed-form]. Checked by tests/vehicle/test_manoeuvre.py.
    """
    if start_speed >= speed:
        raise RangeError(f"a launch ends faster than {start_speed:.4g} m/s, got {speed:.4g} m/s")
    return _straight_run("launch", start_speed, speed, accel, run_up, rest, jerk)


def _driven_between(path: Path, speed: float, run_up: float, left: bool, jerk: float) -> Motion:
    """A path that begins and ends straight, with straights of so many seconds round it."""
    length = speed * not_negative(run_up, "run-up", "s")
    ends = [straight(length)] if length else []
    motion = within_jerk(driven(chained(*ends, path, *ends), speed), jerk)
    return motion if left else motion.mirrored()


def _straight_run(
    name: str, start: float, end: float, accel: float, run_up: float, rest: float, jerk: float
) -> Motion:
    change = speed_change(start=start, end=end, accel=accel, jerk=jerk)
    before = not_negative(run_up, "run-up", "s")
    legs = [Leg(before), *change, Leg(not_negative(rest, "rest", "s"))]
    motion = within_jerk(legs_motion(legs, start), jerk)
    took = sum(leg.duration for leg in change)
    return replace(motion, spans=(Span(name, before, before + took),))
