# SPDX-License-Identifier: Apache-2.0
"""Parts of a session are found where they were put.

Source: motion composed here from steady circles of [ISO-4138], a = v^2 / r and yaw rate v / r; the
limits themselves are common practice, no source.
"""

from time import perf_counter

import numpy as np
import pytest

from sumpwright.logs.log import Floats
from sumpwright.logs.stage import StageSpan, stages_of

G = 9.80665
STEP = 0.02
Part = tuple[float, float, float, float]
"""Duration s, ax g, ay g, speed m/s."""
SESSION: dict[str, list[Part]] = {
    "standing": [(10.0, 0.0, 0.0, 0.0)],
    "straight": [(5.0, 0.2, 0.0, 16.0)],
    "steady circle, left": [(40.0, 0.0, 0.94, 16.0)],
    "braking": [(2.0, -0.9, 0.0, 8.0)],
    "steady circle, right": [(40.0, 0.0, -0.94, 16.0)],
    "figure-eight": [(9.0, 0.0, 0.9, 12.0), (9.0, 0.0, -0.9, 12.0)] * 3,
    "slalom": [(1.2, 0.0, 0.7, 15.0), (1.2, 0.0, -0.7, 15.0)] * 4,
}
CALM: list[Part] = [(4.0, 0.0, 0.0, 10.0)]
ORDER = ["standing", "straight", "steady circle, left", "braking", "straight",
         "steady circle, right", "straight", "figure-eight", "straight", "slalom",
         "straight"]  # fmt: skip


def session() -> tuple[list[Part], list[tuple[str, float, float]]]:
    parts: list[Part] = []
    truth = []
    for name in ORDER:
        add = (
            SESSION[name] if name != "straight" or "straight" not in [t[0] for t in truth] else CALM
        )
        begin = sum(p[0] for p in parts)
        parts += add
        truth.append((name, begin, sum(p[0] for p in parts)))
    return parts, truth


def driven(parts: list[Part], *, noise: float = 0.0) -> dict[str, Floats]:
    rows = [round(p[0] / STEP) for p in parts]
    ax, ay, speed = (np.repeat([p[i] for p in parts], rows) for i in (1, 2, 3))
    rng = np.random.default_rng(7)
    size = len(ax)
    yaw = np.where(speed > 0.0, ay * G / np.maximum(speed, 1.0), 0.0)
    shake = [noise * rng.normal(size=size) for _ in range(2)]
    return {
        "time": np.arange(size) * STEP, "ax": (ax + shake[0]) * G, "ay": (ay + shake[1]) * G,
        "rpm": np.where(speed > 0.0, 4500.0, 900.0) * np.pi / 30.0, "speed": speed,
        "yaw_rate": yaw,
    }  # fmt: skip


def found(**values: Floats | None) -> tuple[StageSpan, ...]:
    got = {k: values.get(k) for k in ("ax", "ay", "rpm", "speed", "yaw_rate")}
    return stages_of(values["time"], **got)  # type: ignore[arg-type]


@pytest.mark.parametrize("without", [(), ("yaw_rate",), ("speed", "yaw_rate")])
@pytest.mark.parametrize("noise", [0.0, 0.15])
def test_finds_every_part_where_it_was_put(without: tuple[str, ...], noise: float) -> None:
    parts, truth = session()
    values = driven(parts, noise=noise)
    got = found(**{k: v for k, v in values.items() if k not in without})
    assert [s.name for s in got] == [t[0] for t in truth]
    # rows are judged by the middle of half a second, so that an edge moves by less than that
    np.testing.assert_allclose([s.start for s in got], [t[1] for t in truth], atol=0.5)
    np.testing.assert_allclose([s.end for s in got], [t[2] for t in truth], atol=0.5)


def test_parts_follow_each_other_without_a_gap() -> None:
    got = found(**driven(session()[0], noise=0.2))
    assert [s.start for s in got[1:]] == [s.end for s in got[:-1]]


def test_one_flick_is_a_change_of_side_and_one_bend_a_corner() -> None:
    flick: list[Part] = [*CALM, (1.2, 0, 0.8, 15.0), (1.2, 0, -0.8, 15.0), *CALM]
    assert [s.name for s in found(**driven(flick))] == ["straight", "change of side", "straight"]
    bend: list[Part] = [*CALM, (3.0, 0, -0.8, 15.0), *CALM]
    assert [s.name for s in found(**driven(bend))] == ["straight", "corner, right", "straight"]


def test_once_round_with_straights_about_it_is_a_circle_too() -> None:
    # 0.85 g at 30 m is 15.8 m/s and a lap of 11.9 s
    parts: list[Part] = [*CALM, (12.0, 0, 0.85, 15.8), *CALM, (12.0, 0, -0.85, 15.8), *CALM]
    names = [s.name for s in found(**driven(parts))]
    assert names[1::2] == ["steady circle, left", "steady circle, right"]


def test_a_turn_on_the_brakes_is_a_turn_where_the_side_pulls_more() -> None:
    parts: list[Part] = [*CALM, (3.0, -0.4, 0.8, 15.0), (3.0, -0.8, 0.4, 15.0), *CALM]
    assert [s.kind for s in found(**driven(parts))] == ["straight", "corner", "braking", "straight"]


def test_an_empty_log_has_no_parts_and_rows_of_nothing_are_straight() -> None:
    assert stages_of(np.zeros(1), None, None, None, None, None) == ()
    time = np.arange(100.0) * STEP
    (only,) = stages_of(time, None, np.full(100, np.nan), None, None, None)
    assert (only.kind, only.start, only.end) == ("straight", 0.0, time[-1])


@pytest.mark.slow
def test_seven_million_rows_take_seconds() -> None:
    values = driven(session()[0], noise=0.15)
    often = 7_000_000 // len(values["time"]) + 1
    many = {k: np.tile(v, often) for k, v in values.items()}
    many["time"] = np.arange(len(many["ax"])) * STEP
    begin = perf_counter()
    got = found(**many)
    assert len(got) >= 10 * often
    assert perf_counter() - begin < 30.0  # 3 s on two shared cores; a loop over rows takes minutes
