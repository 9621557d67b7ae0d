# SPDX-License-Identifier: Apache-2.0
"""The table of metals against handbook figures and against the rest of the house."""

from typing import get_args

import pytest

from sumpwright.errors import RangeError
from sumpwright.job.shop import Metal
from sumpwright.metal.material import growth, material, materials
from sumpwright.studies.baffle import DENSITY


def test_knows_every_metal_that_a_job_can_name() -> None:
    assert {m.name for m in materials()} >= set(get_args(Metal))


@pytest.mark.parametrize("name", sorted(DENSITY))
def test_weighs_as_the_doors_of_the_baffles_do(name: str) -> None:
    assert material(name).density == DENSITY[name]


def test_every_alloy_weighs_as_its_family() -> None:
    for metal in materials():
        assert metal.density == material(metal.family).density


@pytest.mark.parametrize(
    ("names", "length", "gap"),
    [
        # differences of growth over 100 K by the expansions of aluminium 23.6e-6, steel 12e-6,
        # grey iron 10.8e-6 per kelvin, from memory; digits as worked by hand
        (("aluminium 6061-T6", "steel"), 0.400, 0.464e-3),
        (("aluminium 6061-T6", "grey iron"), 0.450, 0.576e-3),
    ],
)
def test_two_metals_grow_apart(names: tuple[str, str], length: float, gap: float) -> None:
    apart = growth(names[0], length, 100.0) - growth(names[1], length, 100.0)
    assert apart == pytest.approx(gap, rel=1e-9)


def test_refuses_a_metal_that_is_not_in_the_table() -> None:
    with pytest.raises(RangeError, match="no metal is called 'brass'; there are steel"):
        material("brass")
