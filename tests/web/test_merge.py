# SPDX-License-Identifier: Apache-2.0
"""One change of a text taken back from a text that went on."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sumpwright.web.merge import merged

CASES = {
    "a line": ("a\nB\nc", "a\nB\nc\nd", "a\nb\nc", "a\nb\nc\nd"),
    "a line that moved": ("a\nB\nc", "x\ny\na\nB\nc", "a\nb\nc", "x\ny\na\nb\nc"),
    "an added line goes": ("a\nB\nc", "a\nB\nz\nc", "a\nc", "a\nz\nc"),
    "a line that went comes": ("a\nc", "a\nc\nd", "a\nb\nc", "a\nb\nc\nd"),
    "at the start": ("b", "b\nc", "a\nb", "a\nb\nc"),
    "at the end": ("a", "x\na", "a\nb", "x\na\nb"),
    "two places": ("A\nb\nC", "A\nb\nx\nC", "a\nb\nc", "a\nb\nx\nc"),
    "the line itself changed": ("a\nB\nc", "a\nX\nc", "a\nb\nc", None),
    "the lines were parted": ("a\nB\nC\nd", "a\nB\nx\nC\nd", "a\nb\nd", None),
}


@pytest.mark.parametrize("name", CASES)
def test_takes_back(name: str) -> None:
    have, now, want, expected = CASES[name]
    assert merged(have, now, want) == expected


rows = st.lists(st.sampled_from("abcd"), max_size=8).map("\n".join)


@given(rows, rows)
def test_of_a_text_that_did_not_go_on_it_leads_back(have: str, want: str) -> None:
    assert merged(have, have, want) == want


@given(rows, rows)
def test_no_change_changes_nothing(have: str, now: str) -> None:
    assert merged(have, now, have) == now
