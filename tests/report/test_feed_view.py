# SPDX-License-Identifier: Apache-2.0
"""The pictures of a feed: words on the sheet and clear of one another, numbers as in the result."""

import re
import xml.etree.ElementTree as ET

import numpy as np
import pytest

from sumpwright.report.alt import alt_of
from sumpwright.report.feed_choice import few_speeds, few_temperatures, points_of, speed_text
from sumpwright.report.feed_content import feed_pictures
from sumpwright.report.feed_loss_view import feed_loss_view
from sumpwright.report.feed_speed_view import feed_speed_view
from sumpwright.report.feed_view import feed_view
from tests.report.label_box import boxes_of
from tests.report.sample_feed import SAMPLES, sample_feed, sample_feed_result

SVG = "{http://www.w3.org/2000/svg}"


@pytest.mark.parametrize("name", list(SAMPLES))
@pytest.mark.parametrize("view", [feed_view, feed_loss_view, feed_speed_view])
def test_words_stay_on_the_sheet_and_clear_of_one_another(view, name: str) -> None:
    result = sample_feed_result(name)
    svg = view(result.feed, result.units)
    assert b"nan" not in svg
    boxes, (width, height) = boxes_of(svg)
    for box in boxes:
        assert box.left >= 0.0, box
        assert box.right <= width, box
        assert box.top >= 0.0, box
        assert box.bottom <= height, box
    for k, box in enumerate(boxes):
        for other in boxes[k + 1 :]:
            assert not box.over(other), (box, other)


@pytest.mark.parametrize("name", list(SAMPLES))
def test_pictures_are_well_formed_and_say_what_they_show(name: str) -> None:
    result = sample_feed_result(name)
    for svg in feed_pictures(result.feed, result.units).values():
        assert ET.fromstring(svg).tag == f"{SVG}svg"
        assert len(alt_of(svg)) > 40


def test_the_losses_are_drawn_to_scale() -> None:
    feed = sample_feed()
    root = ET.fromstring(feed_loss_view(feed, "metric"))
    wide = [float(r.attrib["width"]) for r in root.iter(f"{SVG}rect")]
    hot = [-feed.hot.head_pa, feed.hot.screen_pa, feed.hot.mouth_pa, feed.hot.friction_pa]
    hot += [feed.hot.bends_pa, feed.hot.steps_pa, feed.hot.motion_pa]
    hot = [p for p in hot if p >= 50.0]
    ratios = np.array(wide[: len(hot)]) / np.array(hot)
    # a hundredth of a unit is written, the narrowest piece is some 3 units wide
    np.testing.assert_allclose(ratios, ratios[0], rtol=5e-3)


def test_a_line_ends_where_the_inlet_has_nothing_left() -> None:
    feed = sample_feed()
    root = ET.fromstring(feed_view(feed, "metric"))
    assert root.find(f".//{SVG}clipPath") is not None
    words = [node.text or "" for node in root.iter(f"{SVG}text")]
    hot = f"hot, {feed.hot.inlet_pa / 1e3:.1f} kPa"
    assert hot in words
    assert "needed for good, 80.0 kPa" in words
    assert "needed for a short time, 70.0 kPa" in words


def test_the_key_names_each_line_hottest_first() -> None:
    feed = sample_feed()
    words = [n.text or "" for n in ET.fromstring(feed_view(feed, "metric")).iter(f"{SVG}text")]
    found = [
        float(w.split(" ")[0].replace("−", "-")) for w in words if re.search(r"°C, .*mm²/s", w)
    ]
    assert found == sorted(found, reverse=True)
    assert len(found) == len(few_temperatures(feed, 6))
    assert 20.0 in found


def test_round_speeds_and_both_ends_are_shown() -> None:
    feed = sample_feed()
    shown = [round(feed.rpm[k]) for k in few_speeds(feed, 8)]
    assert shown == [800, 2000, 3000, 4000, 5000, 6000, 6500]
    assert len(few_speeds(feed, 3)) <= 3


def test_a_pump_without_pressure_is_said_in_words() -> None:
    late = sample_feed_result("late").feed
    assert late.short.coldest_k is None
    assert points_of(late)[-1][0] == "not even hot"
    words = " ".join(
        n.text or "" for n in ET.fromstring(feed_speed_view(late, "metric")).iter(f"{SVG}text")
    )
    assert "kept at no temperature looked at" in words
    assert speed_text(None, held=False) == "none"
