# SPDX-License-Identifier: Apache-2.0
"""Bosses in a plain box of 3 mm walls and 4 mm floor: what is set, drilled and refused."""

import math

import numpy as np
import pytest

from sumpwright.geometry.cad_boss import bores_in, boss_rod, refuse_bosses
from sumpwright.geometry.cad_measure import bounds, volume
from sumpwright.geometry.cad_solid import box
from sumpwright.geometry.pan_form import BossForm, PanError
from tests.geometry.zones import pan, plug, zone

DOWN, LEFT = (0.0, 0.0, -1.0), (0.0, 1.0, 0.0)
CAVITY = ([0, 0, -0.1], [0.3, 0.2, 0])
SHELL = ([-0.003, -0.003, -0.104], [0.303, 0.203, 0])


def test_a_boss_is_a_bar_from_its_face_inward() -> None:
    made = boss_rod(plug(0.1, 0.1, -0.112, DOWN, 0.02))
    assert volume(made) == pytest.approx(math.pi * 0.012**2 * 0.02, rel=1e-9)
    np.testing.assert_allclose(bounds(made)[:, 2], [-0.112, -0.092], atol=1e-9)


def test_its_hole_goes_on_through_the_thicker_of_wall_and_floor() -> None:
    (bore,) = bores_in(pan(zone(), bosses=(plug(0.1, 0.1, -0.112, DOWN, 0.02),)))
    # a millimetre out of its face, then 20 mm of boss and 4 mm of floor
    assert volume(bore) == pytest.approx(math.pi * 0.00625**2 * 0.025, rel=1e-9)
    np.testing.assert_allclose(bounds(bore)[:, 2], [-0.113, -0.088], atol=1e-9)


def refused(boss: BossForm) -> list[tuple[str, str]]:
    form = pan(zone(), bosses=(boss,))
    with pytest.raises(PanError) as caught:
        refuse_bosses(form, box(*CAVITY), box(*SHELL))
    return [(f.code, f.found) for f in caught.value.flaws]


def test_a_plug_in_the_floor_stands() -> None:
    form = pan(zone(), bosses=(plug(0.1, 0.1, -0.112, DOWN, 0.012),))
    refuse_bosses(form, box(*CAVITY), box(*SHELL))


@pytest.mark.parametrize(
    ("boss", "code", "words"),
    [
        (plug(0.1, 0.1, -0.2, DOWN, 0.02), "SHAP-509",
         "plug off the pan: its inner face is at x 100.0 mm, y 100.0 mm, z -180.0 mm"),
        (plug(0.1, 0.1, -0.05, DOWN, 0.02), "SHAP-509", "plug with its outer face in the inside"),
        (plug(0.1, 0.21, -0.05, LEFT, 0.25), "SHAP-510",
         "plug comes out of the pan again at another side"),
        (plug(0.1, 0.1, -0.112, DOWN, 0.2), "SHAP-510",
         "plug comes out of the pan again at another side"),
        (plug(0.1, 0.1, -0.112, DOWN, 0.0081), "ok", ""),
        (plug(0.1, 0.1, -0.112, DOWN, 0.0079), "SHAP-509",
         "plug off the pan: its inner face is at x 100.0 mm, y 100.0 mm, z -104.1 mm"),
    ],
)  # fmt: skip
def test_each_boss_that_cannot_stand_is_said(boss: BossForm, code: str, words: str) -> None:
    if code == "ok":
        refuse_bosses(pan(zone(), bosses=(boss,)), box(*CAVITY), box(*SHELL))
        return
    assert refused(boss) == [(code, words)]


def test_a_hole_that_ends_in_thick_metal_is_said() -> None:
    thick = box([*SHELL[0][:2], -0.12], SHELL[1])  # 20 mm of floor, and the drill goes 4 mm on
    form = pan(zone(), bosses=(plug(0.1, 0.1, -0.125, DOWN, 0.0205),))
    with pytest.raises(PanError, match="plug, whose hole does not end in the inside"):
        refuse_bosses(form, box(*CAVITY), thick)
    longer = pan(zone(), bosses=(plug(0.1, 0.1, -0.125, DOWN, 0.0215),))
    refuse_bosses(longer, box(*CAVITY), thick)
