# SPDX-License-Identifier: Apache-2.0
"""The pictures of oil in motion: right numbers, words apart from each other, left on the left."""

import re
import xml.etree.ElementTree as ET
from dataclasses import replace
from itertools import combinations, pairwise

import numpy as np
import pytest

from sumpwright.report import palette
from sumpwright.report.alt import alt_of
from sumpwright.report.film import film_of
from sumpwright.report.film_words import frame_words
from sumpwright.report.hold_words import asymmetry_words
from sumpwright.report.motion_alt import time_alt
from sumpwright.report.polar_map import Rings, band_edges, held_ring, hold_map_view
from sumpwright.report.strip_view import strip_view
from sumpwright.report.time_view import air_spells, time_view
from sumpwright.studies.motion_result import Asymmetry, DoorCourse, DriveResult, PickupCourse
from sumpwright.studies.result import Requirement
from tests.report.hold_map_sample import hold_map_sample
from tests.report.label_box import boxes_of
from tests.report.motion_sample import drive_sample, motion_sample

SVG = "{http://www.w3.org/2000/svg}"


def words_of(svg: bytes) -> list[str]:
    return [node.text or "" for node in ET.fromstring(svg).iter(f"{SVG}text")]


def long_names() -> DriveResult:
    full = drive_sample()
    name = "the long left-hander behind the old water tower, second gear, with the kerb"
    doors = tuple(replace(d, name=f"{name} {k}") for k, d in enumerate(full.doors))
    parts = tuple(replace(p, where="lower front right") for p in full.compartments)
    return replace(
        full, doors=doors, compartments=parts, spans=((name, 0.0, 1.0), (name, 1.0, 9.0))
    )


def us_units() -> DriveResult:
    return replace(drive_sample(), units="us")


def bare() -> DriveResult:
    """No pickup, no doors, no engine speed."""
    full = drive_sample()
    none = tuple(None for _ in full.time_s)
    summary = replace(full.summary, first_air_s=None, least_cover_m=None, least_inlet_pa=None)
    return replace(
        full, doors=(), rpm=none, spans=(), pickup=PickupCourse(None, none, none),
        pump=replace(full.pump, inlet_pa=none), summary=summary,
    )  # fmt: skip


JOBS = {"full": drive_sample, "long": long_names, "us": us_units, "bare": bare}


@pytest.mark.parametrize("job", JOBS)
@pytest.mark.parametrize("view", ["time", "strip", "map"])
def test_no_word_leaves_its_picture_or_is_written_over_another(job: str, view: str) -> None:
    result = JOBS[job]()
    svg = {
        "time": lambda: time_view(result),
        "strip": lambda: strip_view(result, motion_sample()),
        "map": lambda: hold_map_view(replace(hold_map_sample(), units=result.units), 0),
    }[view]()
    boxes, (width, height) = boxes_of(svg)
    for box in boxes:
        assert box.left >= 0.0, box
        assert box.top >= 0.0, box
        assert box.right <= width, box
        assert box.bottom <= height, box
    clash = [(a, b) for a, b in combinations(boxes, 2) if a.over(b)]
    assert clash == []


def test_the_charts_say_the_numbers_of_the_result() -> None:
    result = drive_sample()
    words = words_of(time_view(result))
    cover = 1e3 * np.array([c for c in result.pickup.cover_m if c is not None])
    assert f"least {cover.min():.1f} mm at 4.12 s".replace("-", "−") in words
    assert f"{cover.min():.1f} to {cover.max():.1f}".replace("-", "−") in words
    for part in result.compartments:
        volume = 1e3 * np.array(part.volume_m3)
        assert f"{volume.min():.2f} to {volume.max():.2f}" in words
    assert {"left door", "front door", "right door", "up in the engine"} <= set(words)


def test_the_limit_of_the_inlet_is_a_line_with_its_number() -> None:
    need = Requirement(
        "inlet_hot", "Inlet pressure", 80e3, 74.9e3, -5.1e3, "Pa", "inlet_pressure", "", "not met",
        "", "",
    )  # fmt: skip
    result = replace(drive_sample(), requirements=(need,))
    assert "needs 80.0 kPa" in words_of(time_view(result))
    assert "needs 11.60 psi" in words_of(time_view(replace(result, units="us")))  # 80 / 6.894757
    assert not any("needs" in w for w in words_of(time_view(drive_sample())))


def test_a_pressure_that_no_oil_can_have_is_none() -> None:
    full = drive_sample()
    inlet = (-1e5, *full.pump.inlet_pa[1:])
    empty = replace(
        full,
        pump=replace(full.pump, inlet_pa=inlet),
        summary=replace(full.summary, least_inlet_pa=-1e5),
    )
    assert f"0.0 to {max(full.pump.inlet_pa) / 1e3:.1f}" in words_of(time_view(empty))
    assert "least pump inlet pressure none" in time_alt(empty)
    assert frame_words(empty, film_of(empty, motion_sample()))[0].inlet == "none"


def test_the_shaded_spell_is_where_the_air_is() -> None:
    result = drive_sample()
    (start, end), = air_spells(result)  # fmt: skip
    air = np.array([a or 0.0 for a in result.pickup.air_fraction])
    time = np.array(result.time_s)
    assert start == time[air > 0.0][0]
    assert end == pytest.approx(time[air > 0.0][-1] + 0.02)  # s, one step of the sample
    # 696 units for 12 s from 64 on
    left, wide = 64.0 + 58.0 * start, 58.0 * (end - start)
    boxes = re.findall(rf'<rect x="([\d.]+)" y="[\d.]+" width="([\d.]+)"[^>]*{palette.AIR_PALE}',
                       time_view(result).decode())  # fmt: skip
    assert len(boxes) == 7  # lanes
    for x, width in boxes:
        assert float(x) == pytest.approx(left, abs=0.006)  # units; written to a hundredth
        assert float(width) == pytest.approx(wide, abs=0.006)


def test_air_between_two_times_of_the_series_is_still_marked() -> None:
    full = drive_sample()
    none = tuple(0.0 for _ in full.time_s)
    quiet = replace(full, pickup=replace(full.pickup, air_fraction=none))
    assert air_spells(quiet) == [(3.38, 3.38)]
    assert "air at the pickup" in words_of(time_view(quiet))
    dry = replace(quiet, summary=replace(full.summary, first_air_s=None))
    assert "no air at the pickup" in words_of(time_view(dry))


def test_a_strip_is_as_full_as_its_compartment() -> None:
    result = drive_sample()
    svg = strip_view(result, motion_sample()).decode()
    fills = re.findall(rf'<path d="M([^"]*)Z" fill="{palette.OIL}"', svg)
    assert len(fills) == len(result.compartments)
    most = max(max(p.volume_m3) / p.capacity_m3 for p in result.compartments)
    whole = np.ceil(10.0 * most) / 10.0
    for path, part in zip(fills, result.compartments, strict=True):
        points = np.array([p.split() for p in path.split("L")], dtype=float)
        low = points[-1, 1]  # the last two close it along the strip's lower edge
        high = (low - points[:-2, 1]) / 44.0
        share = np.array(part.volume_m3) / part.capacity_m3 / whole
        assert np.abs(high - share).max() < 0.006 / 44.0 + 1e-9  # written to a hundredth
    assert f"a filled strip is a compartment {100 * whole:.0f} % full" in svg


def test_a_door_hangs_under_the_compartment_whose_oil_it_lets_out() -> None:
    place = {}
    svg = strip_view(drive_sample(), motion_sample())
    for node in ET.fromstring(svg).iter(f"{SVG}text"):
        place.setdefault(node.text, float(node.attrib["y"]))
    names = sorted("ABCDE", key=place.__getitem__)
    assert names == list("ABCDE")
    # the front door lets oil of the front (E) into the pickup's compartment (C), and so on
    assert place["B"] < place["right door, to C"] < place["C"]
    assert place["D"] < place["left door, to C"] < place["E"] < place["front door, to C"]


def test_stuck_doors_have_no_strip_of_their_own() -> None:
    result = replace(drive_sample(), doors=(), doors_are="stuck open")
    assert not any("door" in w for w in words_of(strip_view(result, motion_sample())))


def test_a_long_drive_stays_a_small_picture() -> None:
    full, count = drive_sample(), 40_000
    draw = np.random.default_rng(7)
    noise = draw.normal(size=count).tolist()
    volume = tuple((1e-3 + 1e-4 * draw.normal(size=count)).tolist())
    result = replace(
        full, time_s=tuple(np.linspace(0.0, 2000.0, count).tolist()),
        accel_g=tuple((a, b, 0.0) for a, b in zip(noise, noise[::-1], strict=True)),
        rpm=tuple(noise), retained_m3=volume, spans=(),
        compartments=tuple(replace(p, volume_m3=volume) for p in full.compartments),
        doors=tuple(DoorCourse(d.name, 70.0, tuple(np.abs(noise))) for d in full.doors),
        pickup=replace(full.pickup, cover_m=tuple(noise), air_fraction=tuple(np.abs(noise))),
        pump=replace(full.pump, inlet_pa=tuple(noise)),
    )  # fmt: skip
    assert len(time_view(result)) < 1_200_000
    assert len(strip_view(result, motion_sample())) < 1_200_000


def test_the_pictures_say_their_numbers_to_who_cannot_see_them() -> None:
    result = drive_sample()
    said = alt_of(time_view(result))
    assert "air at the pickup first at 3.38 s" in said
    assert "least oil over the rim −5.3 mm" in said
    assert "C 0.69 L to 1.05 L" in alt_of(strip_view(result, motion_sample()))
    assert "right turns are the weaker by 0.40 g" in alt_of(hold_map_view(hold_map_sample(), 0))


def test_a_left_turn_is_on_the_left_of_a_map_and_accelerating_on_top() -> None:
    # as hold_view.py: seen from above, nose up; directions from +x toward +y
    rings = Rings(np.arange(0.0, 360.0, 30.0), np.array([0.5, 1.0]), np.zeros(2))
    assert rings.at(90.0, 1.0)[0] < -50.0
    assert rings.at(270.0, 1.0)[0] > 50.0
    assert rings.at(0.0, 1.0)[1] < -50.0
    assert rings.at(180.0, 1.0)[1] > 50.0


def test_the_cells_cover_the_disc_once() -> None:
    rings = Rings(np.arange(0.0, 360.0, 15.0), np.arange(0.1, 1.55, 0.1), np.zeros(2))
    total = 0.0
    for number in range(24):
        for ring in range(15):
            x, y = rings.cell(number, ring).T
            total += abs(0.5 * float(x @ np.roll(y, -1) - y @ np.roll(x, -1)))
    inner, outer = 170.0 * rings.edges[0] / rings.edges[-1], 170.0
    assert total == pytest.approx(np.pi * (outer**2 - inner**2), rel=1.3e-3)
    # chords of 5 degrees: 1 - sin(x) / x = 1.27e-3


def test_a_cell_has_the_colour_of_its_time_and_never_is_striped() -> None:
    result = hold_map_sample()
    assert band_edges(result) == [0.5, 1.0, 2.0, 4.0, 8.0]
    soon = tuple(tuple(1.5 for _ in result.magnitudes_g) for _ in result.directions_deg)
    one = replace(result.maps[0], time_s=(soon, soon))
    svg = hold_map_view(replace(result, maps=(one,)), 0).decode()
    cells = re.findall(r'<path d="([^"]*)" fill="(#\w+)" stroke="#\w+" stroke-width="0.4"', svg)
    assert [colour for _, colour in cells] == [palette.HOLD_BANDS[2]]
    assert cells[0][0].count("M") == len(result.directions_deg) * len(result.magnitudes_g)
    never = replace(one, time_s=(tuple((None,) * len(soon[0]) for _ in soon),) * 2)
    svg = hold_map_view(replace(result, maps=(never,)), 0).decode()
    assert svg.count(f'fill="{palette.HOLD_NEVER}"') == 2  # the map and its legend
    assert "not within 15 s" in svg


def test_the_heavy_line_stops_at_the_first_ring_that_fails() -> None:
    result = hold_map_sample()
    assert held_ring(result, (None, 8.0, 7.9, None)) == 2
    assert held_ring(result, (None, None)) == 2
    assert held_ring(result, (0.1, None)) == 0


@pytest.mark.parametrize(
    ("left", "right", "said"),
    [
        (0.9, 0.6, "holds 8 s up to 0.90 g in left turns and up to 0.60 g in right turns: right "
                   "turns are the weaker by 0.30 g."),
        (0.0, 0.6, "holds 8 s up to 0.60 g in right turns and at no g looked at in left turns: "
                   "left turns are the weaker by 0.50 g or more."),
        (0.1, 0.0, "holds 8 s up to 0.10 g in left turns and at no g looked at in right turns: "
                   "right turns are the weaker by at most 0.10 g."),
        (0.7, 0.7, "holds 8 s up to 0.70 g, the same to both sides."),
        (1.5, 1.5, "holds 8 s up to 1.50 g, the most looked at, the same to both sides."),
    ],
)  # fmt: skip
def test_left_against_right_is_said_in_words(left: float, right: float, said: str) -> None:
    one = Asymmetry(3000.0, "working", left, right)
    assert asymmetry_words(one, hold_map_sample()) == f"Doors working: {said}"


def luminance(colour: str) -> float:
    """Relative luminance of sRGB. Source: IEC 61966-2-1, as WCAG 2.1 gives it, from memory."""
    share = np.array(palette.rgb(colour)) / 255.0
    linear = np.where(share <= 0.04045, share / 12.92, ((share + 0.055) / 1.055) ** 2.4)
    return float(linear @ [0.2126, 0.7152, 0.0722])


def test_the_scale_of_the_maps_reads_in_grey() -> None:
    grey = [luminance(c) for c in palette.HOLD_BANDS]
    steps = [(b + 0.05) / (a + 0.05) for a, b in pairwise(grey)]
    assert min(steps) > 1.25  # common practice, no source: plainly lighter, band after band


DEUTAN = np.array(
    [
        [0.367322, 0.860646, -0.227968],
        [0.280085, 0.672501, 0.047413],
        [-0.011820, 0.042940, 0.968881],
    ]
)
"""Linear sRGB as seen without green cones. Source: Machado, Oliveira, Fernandes 2009, table 1,
severity 1.0, from memory."""


@pytest.mark.parametrize("eye", [np.eye(3), DEUTAN], ids=["every cone", "no green cone"])
def test_neighbouring_lines_differ_by_colour_or_by_dash(eye: np.ndarray) -> None:
    def seen(colour: str) -> np.ndarray:
        share = np.array(palette.rgb(colour)) / 255.0
        linear = np.where(share <= 0.04045, share / 12.92, ((share + 0.055) / 1.055) ** 2.4)
        return np.clip(eye @ linear, 0.0, 1.0) ** (1 / 2.2)

    for (j, a), (k, b) in combinations(enumerate(palette.LINES), 2):
        same_dash = j % len(palette.DASHES) == k % len(palette.DASHES)
        if same_dash:  # then colour alone must do; common practice, no source
            assert np.linalg.norm(seen(a) - seen(b)) > 0.2, (a, b)
