# SPDX-License-Identifier: Apache-2.0
"""Numbers and names on flat patterns cover no line; places by hand."""

import math

import numpy as np
import pytest
from shapely import LineString, Point, box

from sumpwright.geometry.profile import polygon_profile
from sumpwright.metal.flat_pattern import FlatBend, FlatPattern
from sumpwright.report.flat_label import bend_spots, mark_places, names_within, place_within

MM = 1e-3


def sheet(*holes: tuple[float, float, float, float], marks=(), bends=()) -> FlatPattern:
    """100 by 60 mm, with windows."""

    def ring(a: float, b: float, c: float, d: float):
        return polygon_profile(MM * np.array([[a, b], [c, b], [c, d], [a, d]]))

    cut = tuple(ring(*hole).reversed() for hole in holes)
    return FlatPattern(ring(0.0, 0.0, 100.0, 60.0), cut, MM, tuple(bends), tuple(marks))


def bend(y: float) -> FlatBend:
    """Across the sheet; what turns lies over it."""
    line = MM * np.array([[0.0, y], [100.0, y]])
    return FlatBend(f"at {y}", line, math.pi / 2.0, MM, True, 0.4, "table", MM)


def test_a_bend_s_number_stands_beside_it_on_the_side_that_stays() -> None:
    pattern = sheet(bends=[bend(30.0)])
    (spot,) = bend_spots(pattern, 5 * MM, 3 * MM)
    middle = 30.0 * MM + 0.5 * pattern.bends[0].allowance
    np.testing.assert_allclose(spot, [50 * MM, middle - 5 * MM], atol=1e-12)


@pytest.mark.parametrize("holes", [
    [(40.0, 20.0, 60.0, 29.0)],  # under the line's middle
    [(40.0, 20.0, 60.0, 29.0), (40.0, 33.0, 60.0, 40.0)],  # and over it
])  # fmt: skip
def test_a_bend_s_number_keeps_off_windows_and_other_numbers(holes) -> None:
    pattern = sheet(*holes, bends=[bend(30.0), bend(42.0)])
    spots = bend_spots(pattern, 5 * MM, 3 * MM)
    lines = [pattern.polygon.boundary, *(LineString(b.middle) for b in pattern.bends)]
    for spot in spots:
        assert min(line.distance(Point(spot)) for line in lines) >= 3 * MM
    assert np.hypot(*(spots[0] - spots[1])) >= 6 * MM


def test_a_scribed_line_is_named_once_at_its_longest_piece_and_along_it() -> None:
    upright = MM * np.array([[30.0, 0.0], [30.0, 60.0]])
    level = [
        MM * np.array([[0.0, 20.0], [10.0, 20.0]]),
        MM * np.array([[30.0, 20.0], [90.0, 20.0]]),
    ]
    slot = (25.0, 25.0, 28.0, 35.0)  # where the name of the upright line would be
    pattern = sheet(slot, marks=[("wall", upright), ("tray", level[0]), ("tray", level[1])])
    places = dict(mark_places(pattern, {"wall": (12 * MM, 3 * MM), "tray": (12 * MM, 3 * MM)}))
    assert len(places) == 2
    assert (places["wall"].upright, places["tray"].upright) == (True, False)
    assert 30 * MM < places["tray"].at[0] < 90 * MM
    wide = {"wall": (1.5 * MM, 6 * MM), "tray": (6 * MM, 1.5 * MM)}
    lines = [pattern.polygon.boundary, *(LineString(line) for _, line in pattern.marks)]
    for name, half in wide.items():
        room = box(*(places[name].at - half), *(places[name].at + half))
        assert not any(room.intersects(line) for line in lines)


def test_a_name_that_does_not_fit_becomes_a_number() -> None:
    large, small = box(0.0, 0.0, 0.1, 0.06), box(0.2, 0.0, 0.21, 0.01)
    tall = box(0.3, 0.0, 0.31, 0.1)
    words, numbered = names_within(
        [("wall", large), ("leaf", small), ("post", tall)], lambda word: 5 * MM * len(word), 4 * MM
    )
    assert [word for word, _ in words] == ["wall", "1", "post"]
    assert [place.upright for _, place in words] == [False, False, True]
    assert numbered == ["1 leaf"]
    np.testing.assert_allclose(words[1][1].at, [0.205, 0.005], atol=1e-4)  # of the search


def test_a_name_covers_no_window() -> None:
    holed = sheet((20.0, 10.0, 80.0, 50.0)).polygon
    place = place_within(holed, 30 * MM, 6 * MM)
    assert place is not None
    half = 0.5 * np.array([6 * MM, 30 * MM] if place.upright else [30 * MM, 6 * MM])
    assert holed.contains(box(*(place.at - half), *(place.at + half)))
    assert place_within(holed, 120 * MM, 6 * MM) is None
