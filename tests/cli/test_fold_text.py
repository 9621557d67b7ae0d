# SPDX-License-Identifier: Apache-2.0
"""Lines of a sentence end between words, never inside a size."""

import pytest

from sumpwright.cli.fold_text import WIDTH, folded


@pytest.mark.parametrize(
    "size", ["12 mm", "460 x 340 x 55 mm", "x −80 mm", "18.11 x 13.386 in", "51.2 lb", "100 %"]
)
def test_a_size_stays_on_one_line(size: str) -> None:
    for words in range(WIDTH - 20, WIDTH):
        lines = folded(f"{'a' * words} {size} and so on", "Mind: ", "  ")
        assert any(size in line for line in lines)
        assert "\N{NO-BREAK SPACE}" not in "".join(lines)
        assert lines[0].startswith("Mind: ")
        assert lines[-1].startswith("  ")


def test_words_after_a_number_may_go_to_the_next_line() -> None:
    lines = folded(f"{'a' * (WIDTH - 4)} 20 are needed", "", "")
    assert lines[-1] == "are needed"
