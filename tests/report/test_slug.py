# SPDX-License-Identifier: Apache-2.0
"""Whatever a manoeuvre is called, its files have a plain name and stay where they belong."""

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sumpwright.report.slug import LONGEST, slug


@pytest.mark.parametrize(
    ("name", "file"),
    [
        ("left circle", "left-circle"),
        ("Circle, 30 m!", "circle-30-m"),
        ("../../etc/passwd", "etc-passwd"),
        (r"C:\temp\x", "c-temp-x"),
    ],
)
def test_a_plain_name_is_kept_in_small_letters(name: str, file: str) -> None:
    assert slug(name) == file


def test_names_in_other_letters_do_not_share_a_file() -> None:
    assert slug("左回り") != slug("右回り")
    assert slug("Kurve ä") != slug("Kurve a")


@given(st.text())
def test_no_name_is_empty_long_or_a_path(name: str) -> None:
    assert re.fullmatch(r"[a-z0-9]+(-[a-z0-9]+)*", slug(name))
    assert len(slug(name)) <= LONGEST + 9
    assert slug(name) == slug(name)
