# SPDX-License-Identifier: Apache-2.0
"""Plain numbers of the job file: ratios, counts, numbers of things."""

import pytest
from pydantic_core import PydanticCustomError

from sumpwright.job.number import Number

RATIO = Number(0.1, 20.0)
SIDE = Number(0, 11, "top", "bottom", whole=True)


@pytest.mark.parametrize(("text", "value"), [("4.1", 4.1), (" 1 ", 1.0), ("2e1", 20.0), (3, 3.0)])
def test_reads_a_plain_number(text: object, value: float) -> None:
    assert RATIO.read(text) == value


def test_reads_a_word_or_a_whole_number_where_both_may_stand() -> None:
    assert [SIDE.read(x) for x in ("top", "2", "2.0")] == ["top", 2, 2]
    assert isinstance(SIDE.read("2.0"), int)


@pytest.mark.parametrize("text", ["4,1", "4.1:1", "nan", "inf", "1e999", "", "4 mm", True, None])
def test_refuses_what_is_no_plain_number(text: object) -> None:
    with pytest.raises(PydanticCustomError) as caught:
        RATIO.read(text)
    assert (caught.value.type, str(caught.value)) == (
        "number",
        "a number without a unit, 0.1 to 20",
    )


@pytest.mark.parametrize("text", ["1.5", "left"])
def test_refuses_a_broken_number_where_it_counts_something(text: str) -> None:
    with pytest.raises(PydanticCustomError, match="top, or bottom, or a whole number, 0 to 11"):
        SIDE.read(text)


@pytest.mark.parametrize("text", ["0.09", "20.1", "-4"])
def test_refuses_what_is_outside_its_range(text: str) -> None:
    with pytest.raises(PydanticCustomError) as caught:
        RATIO.read(text)
    assert caught.value.type == "range"
    assert caught.value.context is not None
    assert caught.value.context["do"] == "change the value; it takes no unit"
