# SPDX-License-Identifier: Apache-2.0
"""One value changed in the text of a job, every other byte left alone."""

import difflib

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sumpwright.errors import InputError
from sumpwright.job.edit import keys_of, with_value
from sumpwright.job.tree import read_tree

TEXT = """\
# my job
job:   "Bench engine"   # quoted, with room around

new:
    cavity: geometry/new.step
    pickup: {centre: [0 mm, 1 mm, 2 mm], diameter: 40 mm}  # in braces
oil:                # fill cold
  fill: 4.6 L       # as measured, twice
#  low: 3.8 L
engine:
#  rpm: 6500 rpm

note: |
  two lines
  of text
obstacles:
- name: rack        # no indentation
  file: geometry/rack.step
-   name: beam
    file: geometry/beam.step
movement: []
"""


def changed(before: str, after: str) -> list[str]:
    """The lines that came (+) and went (-)."""
    rows = difflib.ndiff(before.splitlines(), after.splitlines())
    return [row for row in rows if row[0] in "+-"]


CASES = {
    "a value, its comment kept": (
        ("oil", "fill"), "4.9 qt",
        ["-   fill: 4.6 L       # as measured, twice",
         "+   fill: 4.9 qt       # as measured, twice"],
    ),
    "a quoted value": (
        ("job",), "New: 2",
        ['- job:   "Bench engine"   # quoted, with room around',
         '+ job:   "New: 2"   # quoted, with room around'],
    ),
    "a new key in a section": (("oil", "low"), "3.5 L", ["+   low: 3.5 L"]),
    "a key in a section of comments": (("engine", "rpm"), "7000 rpm", ["+   rpm: 7000 rpm"]),
    "a key in braces": (
        ("new", "pickup", "place"), "free",
        ["-     pickup: {centre: [0 mm, 1 mm, 2 mm], diameter: 40 mm}  # in braces",
         "+     pickup: {centre: [0 mm, 1 mm, 2 mm], diameter: 40 mm, place: free}  # in braces"],
    ),
    "a list in brackets": (
        ("new", "pickup", "centre"), "[1 mm, 1 mm, 2 mm]",
        ["-     pickup: {centre: [0 mm, 1 mm, 2 mm], diameter: 40 mm}  # in braces",
         "+     pickup: {centre: [1 mm, 1 mm, 2 mm], diameter: 40 mm}  # in braces"],
    ),
    "a key beside a file written short": (
        ("new", "cavity", "unit"), "mm",
        ["-     cavity: geometry/new.step",
         "+     cavity: {file: geometry/new.step, unit: mm}"],
    ),
    "a section that is not there yet": (
        ("requirements", "hold_left"), "0.8 g", ["+ requirements:", "+   hold_left: 0.8 g"],
    ),
    "a key of a list entry": (("obstacles", 1, "clearance"), "12 mm", ["+     clearance: 12 mm"]),
    "a text of several lines": (
        ("note",), "one line", ["- note: |", "-   two lines", "-   of text", "+ note: one line"],
    ),
    "a value taken out": (
        ("oil", "fill"), "null",
        ["-   fill: 4.6 L       # as measured, twice", "+   fill: null       # as measured, twice"],
    ),
}  # fmt: skip


@pytest.mark.parametrize("name", CASES)
def test_changes(name: str) -> None:
    keys, value, expected = CASES[name]
    assert sorted(changed(TEXT, with_value(TEXT, keys, value))) == sorted(expected)


def test_a_value_taken_out_is_as_if_never_given() -> None:
    tree = read_tree(with_value(TEXT, ("oil", "fill"), "null"), "job.yaml")
    assert tree.data["oil"] == {}


def test_keeps_windows_line_ends_and_the_byte_order_mark() -> None:
    windows = "\ufeff" + TEXT.replace("\n", "\r\n")
    after = with_value(windows, ("oil", "low"), "3 L")
    assert after == "\ufeff" + with_value(TEXT, ("oil", "low"), "3 L").replace("\n", "\r\n")


def test_ends_the_file_with_a_line_end_where_it_had_none() -> None:
    assert with_value("job: x", ("note",), "y") == "job: x\nnote: y\n"


@pytest.mark.parametrize(
    "value", ["a: b", "# no", "- x", "[1", "it's", 'say "x"', "*x", "&x", "%", "@"]
)
def test_puts_text_in_quotes_where_it_needs_them(value: str) -> None:
    tree = read_tree(with_value(TEXT, ("job",), value), "job.yaml")
    assert tree.data["job"] == value


@given(st.text(st.characters(exclude_categories=["Cs", "Cc"]), min_size=1).map(str.strip))
def test_any_text_is_read_back_as_it_was_typed(value: str) -> None:
    if not value or value[0] in "'\"[{":
        return  # then it is YAML of its own
    for keys in (("note",), ("new", "pickup", "place")):
        tree = read_tree(with_value(TEXT, keys, value), "job.yaml")
        held = tree.data.get(keys[0]) if len(keys) == 1 else tree.data["new"]["pickup"].get("place")
        assert held == value or (value.lower() in ("null", "~") and held is None)


@pytest.mark.parametrize(
    ("keys", "code"),
    [
        (("oil",), "SAVE-309"),
        (("obstacles",), "SAVE-309"),
        (("obstacles", 5, "name"), "SAVE-309"),
        (("job", "name"), "SAVE-309"),
    ],
)
def test_refuses_what_is_not_one_value(keys: tuple[str | int, ...], code: str) -> None:
    with pytest.raises(InputError) as caught:
        with_value(TEXT, keys, "4 L")
    assert caught.value.problems[0].code == code


def test_finds_a_list_entry_by_name_or_number() -> None:
    tree = read_tree(TEXT, "job.yaml")
    assert keys_of(tree, "obstacles.beam.clearance") == ("obstacles", 1, "clearance")
    assert keys_of(tree, "obstacles.0.name") == ("obstacles", 0, "name")
    with pytest.raises(InputError, match="no entry bracket"):
        keys_of(tree, "obstacles.bracket.clearance")
