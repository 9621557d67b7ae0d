# SPDX-License-Identifier: Apache-2.0
"""Options of `drive`: a manoeuvre's keys by name, and all that cannot be used at once."""

import inspect
from typing import Any

import pytest
import typer
from typer.testing import CliRunner

from sumpwright.cli.drive_key import KEYS, with_manoeuvre_keys
from sumpwright.cli.drive_option import asked
from sumpwright.errors import InputError, Problem
from sumpwright.job.manoeuvre import Manoeuvre
from sumpwright.studies.asked import Asked


def read(**more: Any) -> Asked:
    rest: dict[str, Any] = {"oil": None, "doors": "working", "start": None, "chance": "0",
                            "seed": "1", **more}  # fmt: skip
    return asked("eight", rest.pop("options", {}), **rest)


def problem(**more: Any) -> Problem:
    with pytest.raises(InputError) as caught:
        read(**more)
    (only,) = caught.value.problems
    return only


def test_every_key_of_a_manoeuvre_is_an_option() -> None:
    assert set(KEYS) == set(Manoeuvre.model_fields) - {"name", "kind", "oil", "file"}


def test_keys_become_options_of_a_command() -> None:
    got: dict[str, str | None] = {}

    @with_manoeuvre_keys
    def command(job: str, *, as_json: bool = False, **options: str | None) -> None:
        got.update(options)

    assert list(inspect.signature(command).parameters) == ["job", "as_json", *KEYS]
    app = typer.Typer()
    app.command()(command)
    done = CliRunner().invoke(app, ["my-pan", "--cone-spacing", "18 m", "--bank", "-5 deg"])
    assert done.exit_code == 0
    assert got == {**dict.fromkeys(KEYS), "cone_spacing": "18 m", "bank": "-5 deg"}


def test_nothing_typed_asks_for_the_manoeuvre_as_it_is() -> None:
    assert read(options={"radius": None}) == Asked("eight", {}, None, "working", None, 0, 1)


def test_all_that_can_be_asked() -> None:
    answer = read(
        options={"radius": "15 m", "turn": None}, oil="60 degC", doors="stuck shut",
        start="A=1.2 L, rear left = 0.8 L", chance="1000", seed="7",
    )  # fmt: skip
    assert answer.options == {"radius": "15 m"}
    assert (answer.oil, answer.doors) == ("60 degC", "stuck shut")
    assert answer.start == (("A", pytest.approx(1.2e-3)), ("rear left", pytest.approx(8e-4)))
    assert (answer.chance, answer.seed) == (1000, 7)


def test_doors_are_one_of_four_words() -> None:
    assert problem(doors="stuck-open") == Problem(
        "CLI-401", "--doors", "stuck-open", "working, stuck open, stuck shut, no baffles",
        'did you mean --doors "stuck open"?',
    )  # fmt: skip
    assert problem(doors="7").do == "write one of these words"


@pytest.mark.parametrize(
    ("start", "found", "do"),
    [
        ("A", "A", 'write it as --start "A=1.2 L, B=0.8 L"'),
        ("A=1 L,", "", 'write it as --start "A=1.2 L, B=0.8 L"'),
        ("A=1", "1", "write its unit behind the number, as in '1 L'"),
        ("A=80 L", "80 L", "change the value, or check its unit"),
        ("A=1 L,A=2 L", "A twice", "take one of the two out"),
    ],
)
def test_start_is_compartments_with_their_oil(start: str, found: str, do: str) -> None:
    wrong = problem(start=start)
    assert (wrong.code, wrong.where, wrong.found, wrong.do) == ("CLI-401", "--start", found, do)


def test_samples_and_seed_are_whole_numbers() -> None:
    with pytest.raises(InputError) as caught:
        read(chance="-1", seed="1.5")
    assert [(p.where, p.found, p.needed) for p in caught.value.problems] == [
        ("--chance", "-1", "a whole number, 0 to 100000"),
        ("--seed", "1.5", "a whole number, 0 to 999999"),
    ]
