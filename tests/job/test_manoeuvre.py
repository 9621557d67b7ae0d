# SPDX-License-Identifier: Apache-2.0
"""Manoeuvres of the job file: the keys of each kind are what its own function takes."""

import inspect
import math
from collections.abc import Callable
from typing import Any, get_args

import pytest

from sumpwright.job.load import load_job
from sumpwright.job.manoeuvre import Kind, Manoeuvre
from sumpwright.job.manoeuvre_kind import KINDS, TAKES
from sumpwright.vehicle import combined, kerb, manoeuvre, slope, trace

FUNCTIONS: dict[str, Callable[..., Any]] = {
    "circle": manoeuvre.steady_circle,
    "figure-eight": manoeuvre.figure_eight,
    "slalom": manoeuvre.slalom,
    "brake": manoeuvre.brake,
    "brake-and-turn": combined.brake_and_turn,
    "launch": manoeuvre.launch,
    "hill": slope.hill,
    "bank": slope.banked_circle,
    "kerb": kerb.kerb_strike,
    "skidpad": combined.staged_skidpad,
    "trace": trace.logged_trace,
}
AS = {"turn": "left", "uphill": "direction", "stages": "accels"}
"""Keys that the functions call otherwise."""
COLUMNS = {"time", "ax_g", "ay_g", "az_g", "rpm"}
"""What a trace's function takes out of the file."""


@pytest.mark.parametrize("kind", KINDS)
def test_a_kind_takes_what_its_function_takes_and_needs_what_it_needs(kind: str) -> None:
    takes = TAKES[kind]
    parameters = inspect.signature(FUNCTIONS[kind]).parameters
    must = {n for n, p in parameters.items() if p.default is inspect.Parameter.empty} - COLUMNS
    needed = {AS.get(key, key) for key in takes.needs} - {"file"}
    assert must == needed
    engine = {"name", "kind", "oil", "rpm", "gear", "file"}
    assert {AS.get(key, key) for key in takes.keys} - engine == set(parameters) - COLUMNS


def test_every_kind_has_its_keys_and_every_key_a_kind() -> None:
    assert set(TAKES) == set(get_args(Kind))
    used = {key for takes in TAKES.values() for key in takes.keys}
    assert used == set(Manoeuvre.model_fields)


def test_reads_manoeuvres_in_si(make_job, moving) -> None:
    circle, eight, log = load_job(make_job(moving)).job.manoeuvres
    assert (circle.kind, circle.radius, circle.duration, circle.oil) == (
        "circle",
        30.0,
        15.0,
        "hot",
    )
    assert circle.accel == pytest.approx(1.1 * 9.80665, rel=1e-15)  # standard gravity, exact
    assert (eight.laps, eight.gear, eight.rpm) == (2.0, 2, None)
    assert (log.kind, log.file) == ("trace", "tests/eight.csv")


ONE = "manoeuvres: [{{name: a, kind: hill, uphill: {}, slope: 10 deg, duration: 5 s, oil: {}}}]\n"


@pytest.mark.parametrize(
    ("uphill", "oil", "read"),
    [
        ("nose", "cold", ("nose", "cold")),
        ("90 deg", "60 degC", (math.radians(90.0), 333.15)),
    ],
)
def test_takes_words_and_values_for_slope_and_oil(make_job, small, uphill, oil, read) -> None:
    (hill,) = load_job(make_job(small + ONE.format(uphill, oil))).job.manoeuvres
    assert (hill.uphill, hill.oil) == read
