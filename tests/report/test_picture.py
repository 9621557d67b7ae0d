# SPDX-License-Identifier: Apache-2.0
"""Every picture is sound SVG, says what it should, and puts left on the left."""

import re
import xml.etree.ElementTree as ET
from dataclasses import replace

import numpy as np
import pytest

from sumpwright.report import palette
from sumpwright.report.alt import alt_of
from sumpwright.report.cut import cut_of, line_of
from sumpwright.report.cut_label import rest_levels
from sumpwright.report.draw import PICTURES, draw_all
from sumpwright.report.svg import Drawing
from tests.report.sample import DIRECTIONS, OIL, POSE, bare_scene, sample_scene
from tests.report.sample_result import bare_result, sample_result

SVG = "{http://www.w3.org/2000/svg}"


def words_of(svg: bytes) -> list[str]:
    return [node.text or "" for node in ET.fromstring(svg).iter(f"{SVG}text")]


@pytest.fixture(scope="module")
def pictures() -> dict[str, bytes]:
    return draw_all(sample_result(), sample_scene())


def test_a_full_job_has_every_picture(pictures: dict[str, bytes]) -> None:
    assert set(pictures) == set(PICTURES)


@pytest.mark.parametrize("key", list(PICTURES))
def test_a_picture_is_well_formed_and_stays_on_its_sheet(
    pictures: dict[str, bytes], key: str
) -> None:
    root = ET.fromstring(pictures[key])
    assert root.tag == f"{SVG}svg"
    width, height = (float(root.attrib[name]) for name in ("width", "height"))
    for node in root.iter(f"{SVG}text"):
        assert 0.0 <= float(node.attrib["x"]) <= width
        assert 0.0 <= float(node.attrib["y"]) <= height
    assert b"http" not in pictures[key].replace(b"http://www.w3.org/2000/svg", b"", 1)
    assert b"nan" not in re.sub(rb'href="data:[^"]*"', b"", pictures[key])
    assert len(pictures[key]) < 800_000


def test_a_bare_job_has_the_pictures_it_has_data_for() -> None:
    pictures = draw_all(bare_result(), bare_scene())
    assert set(pictures) == {"pan", "below", "rest", "fill"}
    assert all(ET.fromstring(svg) is not None for svg in pictures.values())


def test_the_pan_view_marks_the_tightest_gap_with_its_number(pictures: dict[str, bytes]) -> None:
    words = " ".join(words_of(pictures["pan"]))
    assert "6.2 mm to Crossmember" in words
    assert "closer than asked for" in words
    assert "Steering rack" in words


def test_the_tightest_gap_is_named_even_where_it_is_on_the_far_side(
    pictures: dict[str, bytes],
) -> None:
    seen, hidden = (words_of(pictures[key]) for key in ("pan", "below"))
    assert "Tightest gap" in seen
    assert "Tightest gap, on the far side" in hidden
    assert any("6.2 mm to Crossmember" in word for word in hidden)


def test_the_cut_at_rest_shows_hot_and_cold_level_and_the_gap_to_the_crank(
    pictures: dict[str, bytes],
) -> None:
    fill, words = sample_result().fill, words_of(pictures["rest"])
    assert fill.crank_gap_m is not None
    assert f"full mark, cold: {1e3 * fill.full_m3:.2f} L" in words
    assert f"full, hot: {1e3 * fill.hot_m3:.2f} L" in words
    assert f"running, 6200 rpm, hot: {1e3 * OIL:.2f} L" in words
    assert f"{1e3 * fill.crank_gap_m:.1f} mm from hot oil to crank" in words


def test_the_levels_are_where_the_result_says(pictures: dict[str, bytes]) -> None:
    scene, result = sample_scene(), sample_result()
    cut = cut_of(scene, "new", "across")
    assert cut is not None
    hot, cold, _ = rest_levels(result, scene, "new")
    heights = []
    for level in (hot, cold):
        tilt, height = line_of(scene, cut, level.surface)
        assert tilt == pytest.approx([0.0, 1.0], abs=1e-15)  # rounding: level on level ground
        heights.append(height - POSE.z)
    assert heights[0] == pytest.approx(result.fill.hot_height_m, rel=1e-12)
    assert heights[1] == pytest.approx(result.fill.full_height_m, rel=1e-12)


def test_a_pan_that_is_in_the_way_is_striped_and_said(pictures: dict[str, bytes]) -> None:
    # the sample's stock pan reaches to x 1.81 m, its crossmember from 1.765 m, at the same height
    assert "Overlap" in words_of(pictures["rest"])
    stripes = palette.TOO_CLOSE[0].encode()
    assert stripes in pictures["rest"]
    assert stripes in pictures["brake"]
    scene = sample_scene()
    alone = replace(scene, stock=None, surfaces=tuple(s for s in scene.surfaces if s.pan == "new"))
    assert stripes not in (PICTURES["rest"](sample_result(), alone) or stripes)


def test_a_picture_says_its_numbers_to_who_cannot_see_it(pictures: dict[str, bytes]) -> None:
    said = {key: alt_of(svg) for key, svg in pictures.items()}
    hold = sample_result().hold
    assert hold is not None
    assert "clears Crossmember by 6.2 mm, roll left 2°, 10.0 mm asked for" in said["pan"]
    assert f"right turn new {hold.right_g:.2f} g" in said["hold"]
    assert f"Braking: new {hold.brake_g:.2f} g" in said["brake"]
    assert "full mark 375.0 mm from the stop" in said["dipstick"]
    assert all(len(words) > 40 for words in said.values())


def test_us_units_reach_the_pictures() -> None:
    result = replace(sample_result(), units="us")
    pan = " ".join(words_of(PICTURES["pan"](result, sample_scene()) or b""))
    assert "0.244 in to Crossmember" in pan  # 6.2 mm / 25.4
    fill = words_of(PICTURES["fill"](result, sample_scene()) or b"")
    assert "Oil in the pan [qt]" in fill
    assert "Surface over the pan rail [in]" in fill


def test_the_limit_pictures_say_at_what_g_the_pickup_uncovers(pictures: dict[str, bytes]) -> None:
    hold = sample_result().hold
    assert hold is not None
    turn = words_of(pictures["turn"])
    assert f"uncovers at {hold.left_g:.2f} g" in turn
    assert f"uncovers at {hold.right_g:.2f} g" in turn
    assert "still covered at 1.60 g" in turn
    assert f"uncovers at {hold.brake_g:.2f} g" in words_of(pictures["brake"])


def test_the_hold_plot_names_the_four_ways_where_they_are(pictures: dict[str, bytes]) -> None:
    place = {}
    for node in ET.fromstring(pictures["hold"]).iter(f"{SVG}text"):
        place.setdefault(node.text, (float(node.attrib["x"]), float(node.attrib["y"])))
    assert place["Left turn"][0] < place["Braking"][0] < place["Right turn"][0]
    assert place["Accelerating"][1] < place["Left turn"][1] < place["Braking"][1]


@pytest.mark.parametrize(
    ("way", "look", "side"),
    # ISO 8855: in a left turn the car accelerates to its left and the oil goes to its right;
    # seen from behind right is right; seen from the right with the nose right, forward is right
    [
        ("left", "across", 1),
        ("right", "across", -1),
        ("brake", "along", 1),
        ("accelerate", "along", -1),
    ],
)
def test_oil_runs_to_the_side_it_runs_to_in_the_car(way: str, look: str, side: int) -> None:
    scene = sample_scene()
    cut, surface = cut_of(scene, "new", look), scene.surface("new", way)  # type: ignore[arg-type]
    assert cut is not None
    assert surface is not None
    tilt, _ = line_of(scene, cut, surface)
    uphill = -tilt[0] / tilt[1]  # slope of the surface along the picture's right
    assert np.sign(uphill) == side
    assert abs(uphill) == pytest.approx(surface.magnitude, rel=1e-9)  # tan of the tilt is a / g


def test_the_limit_surface_touches_the_rim_that_it_uncovers() -> None:
    scene = sample_scene()
    rim = scene.new.rim
    assert rim is not None
    for way in DIRECTIONS:
        surface = scene.surface("new", way)  # type: ignore[arg-type]
        assert surface is not None
        over = surface.height - (rim @ np.array(surface.up)).max()
        assert abs(over) < 1e-5  # m; the bisection stops at 1.6 g / 2^20


def test_hostile_words_stay_words() -> None:
    drawing = Drawing(10, 10, key="k", says="</title><script>")
    drawing.text((1, 1), "<script>alert('x')</script>\x00\x1b & \ud800")
    root = ET.fromstring(drawing.svg())
    assert [n.tag for n in root.iter()] == [f"{SVG}svg", f"{SVG}title", f"{SVG}text"]
    assert root[1].text == "<script>alert('x')</script> & ?"


def test_the_sample_is_a_plausible_pan() -> None:
    assert 0.006 < sample_scene().new.cavity.volume < 0.012
    assert sample_scene().new.cavity.volume > OIL
