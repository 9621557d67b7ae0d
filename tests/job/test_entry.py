# SPDX-License-Identifier: Apache-2.0
"""A section or a list's entry added to the text of a job or taken out, the rest left alone."""

import difflib

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from sumpwright.errors import InputError
from sumpwright.job.entry import bare, removed, scalar_text, with_part, without_part
from sumpwright.job.tree import read_tree

TEXT = """\
job: Bench engine
new:
  cavity: geometry/new.step
  baffles:
    # the rear one
    - name: left wall
      at: [1 mm, 2 mm, 3 mm]  # measured
      openings:
        - {name: window, width: 3 mm}  # cut
        - {name: door, door: {hinge: top, opens: behind}}
    - name: right wall
      at: [1 mm, 2 mm, 3 mm]
#   - name: front wall
      # not cut yet
  pickup: {centre: [0 mm, 1 mm, 2 mm], rim: [[1 mm, 2 mm, 3 mm]]}
# How far it goes down.
ride:   # ask the customer
  bump_travel: 60 mm

obstacles:
- name: rack   # no indentation
  file: geometry/rack.step
-   name: beam
    file: geometry/beam.step
movement: []   # none yet
manoeuvres:
engine:
  returns:
  - {name: front, share: 60 %}
driveline: {gears: [3.2, 1.9]}
"""
OPENING = {"name": "slot", "width": "4 mm", "door": {"hinge": "top"}}


def changed(before: str, after: str) -> list[str]:
    """The lines that came (+) and went (-), in order."""
    rows = difflib.ndiff(before.splitlines(), after.splitlines())
    return [row for row in rows if row[0] in "+-"]


ADDED = {
    "an entry after the others, comments below stay below": (
        ("new", "baffles", 2),
        {"name": "tray", "at": ["1 mm", "0 mm", "0 mm"], "openings": [OPENING]},
        ["+     - name: tray", "+       at: [1 mm, 0 mm, 0 mm]", "+       openings:",
         "+         - name: slot", "+           width: 4 mm", "+           door:",
         "+             hinge: top"],
    ),
    "an entry in the manner of the last one": (
        ("new", "baffles", 0, "openings", 2), OPENING,
        ["+         - {name: slot, width: 4 mm, door: {hinge: top}}"],
    ),
    "an entry of a list without indentation": (
        ("obstacles", 2), {"name": "new: one", "file": "geometry/x.step"},
        ['+ - name: "new: one"', "+   file: geometry/x.step"],
    ),
    "the first entry of empty brackets": (
        ("movement", 0), {"name": "sag", "roll": "-3 deg"},
        ["- movement: []   # none yet", "+ movement:   # none yet",
         "+   - name: sag", "+     roll: -3 deg"],
    ),
    "the first entry of a key with nothing": (
        ("manoeuvres", 0), {"name": "stop"}, ["+   - name: stop"],
    ),
    "the first entry of a list that is not there": (
        ("stock", "displacing", 0), {"name": "tube"},
        ["+ stock:", "+   displacing:", "+     - name: tube"],
    ),
    "a section": (("air",), {"altitude": "300 m"}, ["+ air:", "+   altitude: 300 m"]),
    "a section inside one": (
        ("new", "suction"), {"screen": {"pitch": "1.6 mm"}, "pump_inlet": ["1 m", "2 m", "3 m"]},
        ["+   suction:", "+     screen:", "+       pitch: 1.6 mm",
         "+     pump_inlet: [1 m, 2 m, 3 m]"],
    ),
    "a value of a list in brackets": (
        ("driveline", "gears", 2), "1.3",
        ["- driveline: {gears: [3.2, 1.9]}", "+ driveline: {gears: [3.2, 1.9, 1.3]}"],
    ),
    "a place in brackets": (
        ("new", "pickup", "rim", 1), ["1 mm", "0 mm", "0 mm"],
        ["-   pickup: {centre: [0 mm, 1 mm, 2 mm], rim: [[1 mm, 2 mm, 3 mm]]}",
         "+   pickup: {centre: [0 mm, 1 mm, 2 mm], rim: [[1 mm, 2 mm, 3 mm], [1 mm, 0 mm, 0 mm]]}"],
    ),
}  # fmt: skip


@pytest.mark.parametrize("name", ADDED)
def test_adds(name: str) -> None:
    keys, value, expected = ADDED[name]
    assert sorted(changed(TEXT, with_part(TEXT, keys, value))) == sorted(expected)


@pytest.mark.parametrize("name", ADDED)
def test_what_was_added_is_taken_out_again(name: str) -> None:
    keys, value, _ = ADDED[name]
    after = without_part(with_part(TEXT, keys, value), keys)
    assert bare(read_tree(after, "x").data) == bare(read_tree(TEXT, "x").data)
    if keys[-1] != 0:
        assert after == TEXT


TAKEN = {
    "an entry with what is in it; the comment above stays": (
        ("new", "baffles", 0),
        ["-     - name: left wall", "-       at: [1 mm, 2 mm, 3 mm]  # measured",
         "-       openings:", "-         - {name: window, width: 3 mm}  # cut",
         "-         - {name: door, door: {hinge: top, opens: behind}}"],
    ),
    "the last entry, not the comments below it": (
        ("new", "baffles", 1),
        ["-     - name: right wall", "-       at: [1 mm, 2 mm, 3 mm]"],
    ),
    "an entry in brackets on a line of its own": (
        ("new", "baffles", 0, "openings", 0),
        ["-         - {name: window, width: 3 mm}  # cut"],
    ),
    "a section in brackets": (
        ("new", "baffles", 0, "openings", 1, "door"),
        ["-         - {name: door, door: {hinge: top, opens: behind}}",
         "+         - {name: door}"],
    ),
    "the first key in brackets": (
        ("new", "pickup", "centre"),
        ["-   pickup: {centre: [0 mm, 1 mm, 2 mm], rim: [[1 mm, 2 mm, 3 mm]]}",
         "+   pickup: {rim: [[1 mm, 2 mm, 3 mm]]}"],
    ),
    "the only value of a list": (
        ("new", "pickup", "rim", 0),
        ["-   pickup: {centre: [0 mm, 1 mm, 2 mm], rim: [[1 mm, 2 mm, 3 mm]]}",
         "+   pickup: {centre: [0 mm, 1 mm, 2 mm], rim: []}"],
    ),
    "a section": (("ride",), ["- ride:   # ask the customer", "-   bump_travel: 60 mm"]),
    "an entry without indentation": (
        ("obstacles", 0), ["- - name: rack   # no indentation", "-   file: geometry/rack.step"],
    ),
    "an entry with room behind its dash": (
        ("obstacles", 1), ["- -   name: beam", "-     file: geometry/beam.step"],
    ),
}  # fmt: skip


@pytest.mark.parametrize("name", TAKEN)
def test_takes_out(name: str) -> None:
    keys, expected = TAKEN[name]
    assert sorted(changed(TEXT, without_part(TEXT, keys))) == sorted(expected)


@pytest.mark.parametrize("keys", [("job",), ("new", "baffles", 0, "name")])
def test_refuses_to_take_out_what_other_things_hang_on(keys) -> None:
    if keys == ("job",):
        assert without_part(TEXT, keys) == TEXT.partition("\n")[2]
        return
    with pytest.raises(InputError, match="SAVE-309"):
        without_part(TEXT, keys)


def test_refuses_to_add_what_is_there() -> None:
    with pytest.raises(InputError, match="SAVE-309"):
        with_part(TEXT, ("ride",), {"bump_travel": "60 mm"})


def test_windows_line_ends_and_the_mark_stay() -> None:
    windows = "\ufeff" + TEXT.replace("\n", "\r\n")
    after = with_part(windows, ("obstacles", 2), {"name": "x"})
    plain = with_part(TEXT, ("obstacles", 2), {"name": "x"})
    assert after == "\ufeff" + plain.replace("\n", "\r\n")
    assert without_part(after, ("obstacles", 2)) == windows


def test_a_file_of_mixed_line_ends_stays_as_mixed() -> None:
    mixed = TEXT.replace("\n", "\r\n", 5)
    after = with_part(mixed, ("obstacles", 2), {"name": "x"})
    assert without_part(after, ("obstacles", 2)) == mixed


@given(st.text(st.characters(exclude_categories=["Cs", "Cc"])))
@example("%")
def test_any_text_is_read_back_as_itself_in_brackets_and_on_a_line(text: str) -> None:
    written = scalar_text(text)
    held = read_tree(f"k: {written}\nl: [{written}]\nm: {{a: {written}}}", "x").data
    assert (held["k"], held["l"], held["m"]) == (text, [text], {"a": text})


def test_removed_and_bare_leave_the_values_that_they_were_given() -> None:
    data = {"a": [{"b": "1"}, {"b": "2"}], "c": {"d": {}}}
    assert removed(data, ("a", 0)) == {"a": [{"b": "2"}], "c": {"d": {}}}
    assert removed(data, ("a", 1, "b")) == {"a": [{"b": "1"}, {}], "c": {"d": {}}}
    assert bare(data) == {"a": [{"b": "1"}, {"b": "2"}]}
