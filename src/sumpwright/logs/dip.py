# SPDX-License-Identifier: Apache-2.0
"""Intervals in which pressure was short beyond noise, and what each of them was."""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from sumpwright.geometry.frame import STANDARD_GRAVITY
from sumpwright.logs.learn_from import PRIMING
from sumpwright.logs.motion import Motion

Floats = NDArray[np.float64]
Kind = Literal["dip", "shift", "sensor", "engine off", "idle", "relief"]
Cause = Literal[
    "starvation", "aeration", "shift transient", "sensor", "engine off", "idle", "relief valve"
]
Turn = Literal["left", "right", "straight"]

ENTER, LEAVE, BACK = 4.5, 2.5, 1.5
"""Noise, in standard deviations: an event begins, ends, and where its start is traced back to."""
SURE = 2.0
"""Standard deviations of the surface itself, counted in at the beginning of an event."""
ENTER_SHARE, LEAVE_SHARE, BACK_SHARE = 0.12, 0.06, 0.03
"""Least shares of the expected pressure for the same [common-practice]."""
MERGE, TRACE = 0.15, 0.6
"""[s] gap that joins two events; longest way back to a start [common-practice]."""
CALM = 0.4
"""[s] before that in which pressure shows what it was [common-practice]."""
SHORTEST = 0.06
"""[s] in which oil does not come and go: shorter is the sensor's [common-practice]."""
OFF, IDLE = 300.0 * np.pi / 30.0, 1200.0 * np.pi / 30.0
"""[rad/s] below which an engine does not run, and idles [common-practice]."""
IDLE_LOSS = 0.25
"""Share of what the same log shows at idle from which a loss is a dip [common-practice]."""
TURNING = 0.25 * STANDARD_GRAVITY
LEAP, MOST_LEAPS = 0.45, 4
"""Share of the expected pressure that oil does not gain or lose from row to row time and again
[common-practice]."""
BURST = 0.25
"""[s] under which a loss amid readings that leap both ways is noise [common-practice]."""
NOTHING, QUICK = 0.05, 0.06
"""Share of it that is none, and spacing [s] of rows in which oil gets neither there nor back
[common-practice]."""
FLUTTER = 4.0
"""Second differences this many times the noise's own are a flutter [common-practice]."""


@dataclass(frozen=True)
class Dip:
    """An event; SI throughout. Accelerations are nan where not logged."""

    start: float
    end: float
    kind: Kind
    turn: Turn
    depth: float
    """Largest share of the expected pressure that was missing"""
    least: float
    expected: float
    """Where `depth` was found"""
    speed: float
    ax: float
    ay: float
    temperature: float
    """Middle values over the event"""
    cause: Cause
    severity: float
    lost: float
    """[Pa s] missing pressure over time"""
    beyond_noise: float
    """Largest shortfall over one standard deviation"""

    @property
    def direction(self) -> float:
        """Of the acceleration, from forward toward left [rad]; nan if not known."""
        return float(np.arctan2(self.ay, self.ax))


def dips_of(m: Motion) -> tuple[Dip, ...]:
    """Every interval of a motion in which pressure was short, in the order of time.

    Parameters
    ----------
    m : Motion [-]

    Returns
    -------
    events : tuple of Dip [-]
    """
    short = np.where(np.isfinite(m.pressure), m.expected - m.pressure, 0.0)
    within = np.where(np.isfinite(m.pressure), m.least_expected - m.pressure, 0.0)
    enter = allowance(m)
    leave = np.maximum(_beyond(m, LEAVE, 0.5 * SURE), LEAVE_SHARE * m.expected)
    back = np.maximum(BACK * m.sigma, BACK_SHARE * m.expected)
    found: list[Dip] = []
    before = -1
    for began, last in _intervals(short > enter, short > leave, m):
        over = began + int(np.argmax(short[began : last + 1] > enter[began : last + 1]))
        first = _traced(over, before + 1, short, back, m)
        before = last
        found.append(_dip(first, last, short, within > enter, m))
    return tuple(found)


def allowance(m: Motion) -> Floats:
    """How far pressure may be under what is expected before it counts as short.

    Parameters
    ----------
    m : Motion [-]

    Returns
    -------
    allowed : (n,) [Pa]
    """
    return np.maximum(_beyond(m, ENTER, SURE), ENTER_SHARE * m.expected)


def _beyond(m: Motion, noises: float, doubts: float) -> Floats:
    """Noise is drawn anew each sample, the surface's doubt once: one has far more chances."""
    doubt = np.sqrt(np.maximum(m.sigma**2 - m.noise**2, 0.0))
    return np.asarray(np.hypot(noises * m.noise, doubts * doubt))


def _intervals(over: NDArray[np.bool_], stay: NDArray[np.bool_], m: Motion) -> list[list[int]]:
    """First and last place of every run of `stay` that has some `over`, near ones joined."""
    found: list[list[int]] = []
    for first, last in _runs(stay):
        if not over[first : last + 1].any():
            continue
        if found and _joins(found[-1], first, last, m):
            found[-1][1] = last
        else:
            found.append([first, last])
    return found


def _joins(before: list[int], first: int, last: int, m: Motion) -> bool:
    """Whether two runs are one event; a dropout beside it is none of it."""
    near = m.time[first] - m.time[before[1]] <= MERGE
    long = last - first > 1 and before[1] - before[0] > 1
    return bool(near and (long or m.step > 0.5 * MERGE))


def _runs(mask: NDArray[np.bool_]) -> Iterator[tuple[int, int]]:
    edges = np.diff(np.concatenate([[0], mask.astype(np.int8), [0]]))
    starts, ends = np.flatnonzero(edges > 0), np.flatnonzero(edges < 0) - 1
    return zip(starts.tolist(), ends.tolist(), strict=True)


def _traced(over: int, least: int, short: Floats, back: Floats, m: Motion) -> int:
    """Back to where pressure left what it had before, but not into the event before."""
    low = max(least, int(np.searchsorted(m.time, m.time[over] - TRACE - CALM)))
    seen = short[low : over + 1]
    usual = 0.0
    if len(seen) > 4 and not m.typed:  # what is expected can be off for long: no beginning
        threes = np.lib.stride_tricks.sliding_window_view(seen, 3)
        usual = max(float(np.median(threes, axis=1).min()), 0.0)
    under = seen > usual + back[low : over + 1]
    at = over
    while at > low and under[at - 1 - low] and m.time[over] - m.time[at - 1] <= TRACE:
        at -= 1
    return at


def _dip(first: int, last: int, short: Floats, beyond: NDArray[np.bool_], m: Motion) -> Dip:
    here = slice(first, last + 1)
    share = short[here] / np.maximum(m.expected[here], 1.0)
    k = first + int(np.argmax(share))
    depth = float(min(max(share.max(), 0.0), 1.0))
    speed, start, end = _middle(m.speed[here]), float(m.time[first]), float(m.time[last])
    kind = _kind(first, last, depth, beyond, m)
    load = min(1.0, speed / m.top_speed) if m.top_speed > 0.0 else 0.0
    lost = float(np.sum(np.maximum(short[here], 0.0)) * m.step)
    lasting = 1.0 - float(np.exp(-(end - start + m.step) / 0.5))
    return Dip(
        start, end, kind, _turn(m, here), depth, float(m.pressure[k]), float(m.expected[k]), speed,
        _middle(m.ax[here]), _middle(m.ay[here]), _middle(m.temperature[here]),
        _cause(kind, here, m), depth * (0.4 + 0.6 * lasting) * (0.5 + 0.5 * load), lost,
        float(np.max(short[here] / m.sigma[here])),
    )  # fmt: skip


def _kind(first: int, last: int, depth: float, beyond: NDArray[np.bool_], m: Motion) -> Kind:
    here = slice(first, last + 1)
    speed = float(np.nanmin(m.speed[here])) if np.isfinite(m.speed[here]).any() else np.nan
    if speed < OFF or _starting(first, m):
        return "engine off"
    begun = m.time[first] - m.time[0] > PRIMING  # it may have been started just before
    known = begun and _middle(m.learnt[here]) > 0.5
    if _middle(m.speed[here]) < IDLE and not (known and depth > IDLE_LOSS):
        return "idle"
    if not m.typed and _of_the_sensor(first, last, m):
        return "sensor"
    if beyond[here].sum() < (1 if m.typed else 2):
        return "shift"
    if not m.typed and m.time[last] - m.time[first] < BURST and _amid_noise(first, last, m):
        return "sensor"
    if m.relief is not None and m.pressure[here].min() > 0.85 * m.relief:
        return "relief"
    return "dip"


def _starting(first: int, m: Motion) -> bool:
    """Whether the engine stood a moment before, so that pressure still builds up."""
    before = m.speed[np.searchsorted(m.time, m.time[first] - PRIMING) : first]
    return not m.typed and bool((before < OFF).any())


def _of_the_sensor(first: int, last: int, m: Motion) -> bool:
    """Too short for oil, one number all along after a jump, or a plug that shakes."""
    p = m.pressure[first : last + 1]
    expected = float(m.expected[first : last + 1].max())
    leaps = np.abs(np.diff(m.pressure[max(first - 1, 0) : last + 2])) > LEAP * expected
    dead = m.step <= QUICK and float(p.min()) < NOTHING * expected
    if leaps.sum() >= (2 if dead else MOST_LEAPS):
        return True
    core = p[p < 0.5 * (p.max() + p.min())] if len(p) > 2 else p
    if (len(core) * m.step < SHORTEST and len(core) <= 2) or len(core) == 1:
        return True
    return len(core) > 3 and bool(np.ptp(core) == 0.0)


def _amid_noise(first: int, last: int, m: Motion) -> bool:
    """Whether readings leap over what is expected as well: no oil makes more than the pump."""
    near = slice(*np.searchsorted(m.time, [m.time[first] - BURST, m.time[last] + BURST]))
    most = float(m.expected[near].max())  # a shift moves what is expected as well
    return bool((m.pressure[near] - most > max(ENTER * m.noise, LEAVE_SHARE * most)).any())


def _turn(m: Motion, here: slice) -> Turn:
    ay = _middle(m.ay[here])
    if not abs(ay) > TURNING:
        return "straight"
    return "left" if ay > 0.0 else "right"


def _cause(kind: Kind, here: slice, m: Motion) -> Cause:
    if kind == "dip":
        bend = np.diff(m.pressure[here], 2)
        shaken = len(bend) > 4 and float(np.median(np.abs(bend))) > FLUTTER * m.noise_bend
        return "aeration" if shaken else "starvation"
    names: dict[Kind, Cause] = {"shift": "shift transient", "relief": "relief valve"}
    return names.get(kind, kind)  # type: ignore[arg-type]


def _middle(value: Floats) -> float:
    sound = value[np.isfinite(value)]
    return float(np.median(sound)) if len(sound) else float("nan")
