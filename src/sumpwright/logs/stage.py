# SPDX-License-Identifier: Apache-2.0
"""Parts of a session: circles left and right, eights, slaloms, braking, straights, standing.

Every row is first one of standing, left, right, braking or straight; equal rows are then joined,
and what turns follow each other makes an eight or a slalom. Which is which is common practice of
people who test cars; nobody publishes limits.
"""

from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from sumpwright.geometry.frame import STANDARD_GRAVITY
from sumpwright.logs.log import Floats
from sumpwright.logs.stage_run import Run, joined

StageKind = Literal[
    "circle", "eight", "slalom", "transition", "corner", "braking", "straight", "standing"
]
_STRAIGHT, _LEFT, _RIGHT, _BRAKING, _STANDING = range(5)
_TURNING = 0.3 * STANDARD_GRAVITY
_BRAKES = 0.3 * STANDARD_GRAVITY
_STANDS = 0.5
"""[m/s]"""
_IDLES = 1200.0 * np.pi / 30.0
"""[rad/s]; without speed a car stands where the engine idles or is off and nothing pulls."""
_NO_PULL = 0.08 * STANDARD_GRAVITY
_SMOOTH = 0.5
"""[s] middle over which a row is judged, so that bumps are no corners."""
_SHORTEST = 0.4
"""[s] shorter runs are joined to what was before."""
_ROUND = (3.0 * np.pi, 15.0)
"""One and a half turns the same way, or [s] where nothing tells the heading: not half an eight."""
_CIRCLE = (1.5 * np.pi, 8.0)
"""Three quarters of a turn: no bend of a road goes on so long."""
_LOBE = (np.pi, 3.0)
"""Half a turn, or [s]: longer is a lobe of an eight, shorter a flick of a slalom."""
_CHANGE = (2.0, 1.0)
"""[s] between the turns of an eight, and of a slalom."""


@dataclass(frozen=True)
class StageSpan:
    """A part of a session."""

    kind: StageKind
    turn: Literal["left", "right", "straight"]
    """``straight`` also where both ways are in it"""
    start: float
    """[s]"""
    end: float
    """[s]"""

    @property
    def name(self) -> str:
        """Such as ``steady circle, left`` [-]."""
        return _NAMES[self.kind] + (f", {self.turn}" if self.turn != "straight" else "")


_NAMES = {
    "circle": "steady circle", "eight": "figure-eight", "slalom": "slalom",
    "transition": "change of side", "corner": "corner", "braking": "braking",
    "straight": "straight", "standing": "standing",
}  # fmt: skip


def stages_of(
    time: Floats,
    ax: Floats | None,
    ay: Floats | None,
    rpm: Floats | None,
    speed: Floats | None,
    yaw_rate: Floats | None,
) -> tuple[StageSpan, ...]:
    """Parts of a session one after another, without gaps; what is not known counts as 0.

    Parameters
    ----------
    time : (n,) [s]
        Rising strictly, about even.
    ax : (n,) or None [m/s^2]
        Forward; NaN where nothing was logged, as in all that follow.
    ay : (n,) or None [m/s^2]
        To the left.
    rpm : (n,) or None [rad/s]
        Engine speed.
    speed : (n,) or None [m/s]
        Road speed.
    yaw_rate : (n,) or None [rad/s]
        Positive to the left.

    Returns
    -------
    stages : tuple of StageSpan [s]
        Empty with fewer than two rows.

    Source
    ------
    [common-practice] for every limit. Checked by tests/logs/test_stage.py.
    """
    if len(time) < 2:
        return ()
    width = max(1, round(_SMOOTH / float(np.median(np.diff(time)))))
    along, side = _smooth(ax, width, len(time)), _smooth(ay, width, len(time))
    state = _states(along, side, rpm, speed)
    turned = _turned(time, side, speed, yaw_rate)
    return tuple(_spans(joined(time, state, turned, shortest=_SHORTEST)))


def _smooth(value: Floats | None, width: int, rows: int) -> Floats:
    """Moving middle over `width` rows; the ends over what there is."""
    if value is None:
        return np.zeros(rows)
    total = np.concatenate(([0.0], np.cumsum(np.nan_to_num(value))))
    first = np.maximum(np.arange(rows) - width // 2, 0)
    last = np.minimum(first + width, rows)
    return np.asarray((total[last] - total[first]) / (last - first))


def _states(
    along: Floats, side: Floats, rpm: Floats | None, speed: Floats | None
) -> NDArray[np.int8]:
    state = np.full(len(side), _STRAIGHT, dtype=np.int8)
    state[(along < -_BRAKES) & (-along > np.abs(side))] = _BRAKING
    turns = (np.abs(side) > _TURNING) & (state != _BRAKING)
    state[turns] = np.where(side[turns] > 0.0, _LEFT, _RIGHT)
    if speed is not None:
        state[speed < _STANDS] = _STANDING  # NaN is no less
    elif rpm is not None:
        state[(rpm < _IDLES) & (np.hypot(along, side) < _NO_PULL)] = _STANDING
    return state


def _turned(
    time: Floats, side: Floats, speed: Floats | None, yaw_rate: Floats | None
) -> Floats | None:
    """Heading at each row [rad]; None where nothing tells it."""
    if yaw_rate is not None:
        rate = np.nan_to_num(yaw_rate)
    elif speed is not None:
        fast = np.nan_to_num(speed) > 2.0  # below, a slope or a tilted sensor would turn the car
        rate = np.where(fast, side / np.where(fast, speed, 1.0), 0.0)
    else:
        return None
    return np.concatenate(([0.0], np.cumsum(0.5 * (rate[1:] + rate[:-1]) * np.diff(time))))


def _spans(runs: list[Run]) -> list[StageSpan]:
    spans: list[StageSpan] = []
    at = 0
    while at < len(runs):
        chain = _chain(runs, at)
        if len(chain) > 1:
            spans.append(_both_ways([runs[i] for i in chain]))
            at = chain[-1] + 1
        else:
            spans.append(_alone(runs[at]))
            at += 1
    return spans


def _chain(runs: list[Run], at: int) -> list[int]:
    """Places of turns from `at` on that take each other's place quickly, left and right."""
    chain = [at]
    if not _weaves(runs[at]):
        return chain
    i = at + 1
    while i < len(runs):
        gap = runs[i].start - runs[chain[-1]].end
        allowed = _CHANGE[0] if _is_lobe(runs[chain[-1]]) else _CHANGE[1]
        if gap > allowed or runs[i].state == _STANDING:
            break
        if _weaves(runs[i]):
            same = runs[i].state == runs[chain[-1]].state
            if same or _is_lobe(runs[i]) != _is_lobe(runs[at]):
                break
            chain.append(i)
        elif runs[i].state in (_LEFT, _RIGHT):
            break
        i += 1
    return chain


def _weaves(run: Run) -> bool:
    """A turn that is not a circle by itself."""
    return run.state in (_LEFT, _RIGHT) and not run.is_over(*_ROUND)


def _is_lobe(run: Run) -> bool:
    return run.is_over(*_LOBE)


def _both_ways(turns: list[Run]) -> StageSpan:
    kind: StageKind = "slalom" if len(turns) > 2 else "transition"
    if _is_lobe(turns[0]):
        kind = "eight"
    return StageSpan(kind, "straight", turns[0].start, turns[-1].end)


def _alone(run: Run) -> StageSpan:
    if run.state in (_LEFT, _RIGHT):
        kind: StageKind = "circle" if run.is_over(*_CIRCLE) else "corner"
        return StageSpan(kind, "left" if run.state == _LEFT else "right", run.start, run.end)
    plain: dict[int, StageKind] = {
        _BRAKING: "braking", _STANDING: "standing", _STRAIGHT: "straight",
    }  # fmt: skip
    return StageSpan(plain[run.state], "straight", run.start, run.end)
