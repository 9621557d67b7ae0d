# SPDX-License-Identifier: Apache-2.0
"""The bolt pattern's picture: every hole named, arrows as long as they say, words inside."""

import re
from pathlib import Path
from xml.etree import ElementTree

import numpy as np

from sumpwright.report.rail_view import ROOM, rail_view
from sumpwright.studies.rail import rail_of
from tests.studies.rail_job import NAMES, SPOTS, rail_job

SVG = "{http://www.w3.org/2000/svg}"


def test_names_every_hole_once_for_each_set(tmp_path: Path) -> None:
    sets = (("March", "calipers", SPOTS), ("print 1", "printer", 0.996 * SPOTS))
    picture = ElementTree.fromstring(rail_view(rail_of(rail_job(tmp_path, *sets))))
    said = [t.text for t in picture.iter(f"{SVG}text") if "aria-hidden" not in t.attrib]
    for name in NAMES:
        assert said.count(name) == 2
    assert "March" in said
    assert "print 1" in said
    assert any("the print, not the pan" in (t or "") for t in said)


def test_an_arrow_is_as_long_against_its_ring_as_the_hole_is_off(tmp_path: Path) -> None:
    spots = SPOTS.copy()
    spots[3] += [0.0, 0.26]
    result = rail_of(rail_job(tmp_path, ("March", "calipers", spots)))
    hole = result.sets[0].holes[3]
    text = rail_view(result).decode("utf-8")
    heads = re.findall(r'd="M([\d.]+) ([\d.]+)L[\d.]+ [\d.]+L[\d.]+ [\d.]+Z" fill="#8a5a06"', text)
    assert len(heads) == 1  # that hole alone is tight
    tip = np.array(heads[0], dtype=float)
    rings = re.findall(r'cx="([\d.]+)" cy="([\d.]+)" r="25"', text)
    assert len(rings) == 10
    middles = np.array(rings, dtype=float)
    near = middles[np.linalg.norm(middles - tip, axis=1).argmin()]
    long = np.linalg.norm(tip - near)
    assert abs(long - ROOM * hole.distance_m / hole.most_m) < 0.05  # a hundredth each way
    assert tip[1] < near[1]  # left is up


def test_a_pattern_without_measurements_is_drawn_plain(tmp_path: Path) -> None:
    picture = ElementTree.fromstring(rail_view(rail_of(rail_job(tmp_path))))
    said = [t.text for t in picture.iter(f"{SVG}text") if "aria-hidden" not in t.attrib]
    assert [n for n in NAMES if n in said] == NAMES
    assert not any("Arrows" in (t or "") for t in said)
