# SPDX-License-Identifier: Apache-2.0
"""The opening at the rail that a free space begins at: as the job draws it, else the new pan's."""

from dataclasses import dataclass

from sumpwright.errors import InputError, Problem, RangeError
from sumpwright.geometry.free_space_plan import flat_top
from sumpwright.geometry.region import Region, region_area, region_of
from sumpwright.job.load import LoadedJob
from sumpwright.studies.bodies import RAIL_FLATNESS, Bodies
from sumpwright.studies.drawn_outline import rounded_outline

LEAST = 1e-4
"""m^2; an opening under a square centimetre is a slip of the unit"""


@dataclass(frozen=True, eq=False)
class Opening:
    """What the pan may be open to at the rail."""

    region: Region
    """[mm]"""
    source: str


def opening_of(loaded: LoadedJob, bodies: Bodies) -> Opening:
    """The opening of the job; InputError SPAC-502 where there is none that can be used."""
    rail = loaded.job.rail
    if rail is not None and rail.opening is not None:
        keys = ("rail", "opening")
        try:
            profile = rounded_outline(rail.opening, rail.opening_radius)
        except RangeError as err:
            raise InputError([_unusable(loaded.where(*keys), str(err))]) from err
        corners = profile.polygon()
        region = region_of([corners if profile.area > 0.0 else corners[::-1]])
        once = abs(region_area(region) - abs(profile.area)) < 1e-3 * abs(profile.area)
        if len(region.decompose()) != 1 or not once:
            raise InputError([_unusable(loaded.where(*keys), "an outline that crosses itself")])
        return Opening(region, "rail.opening")
    region = flat_top(bodies.new.cavity, RAIL_FLATNESS)
    if region_area(region) < LEAST:
        where, found = loaded.where("new", "cavity"), "a cavity without a level top at the rail"
        raise InputError([_unusable(where, found)])
    return Opening(region, "the new pan's opening at the rail")


def _unusable(where: str, found: str) -> Problem:
    return Problem(
        code="SPAC-502",
        where=where,
        found=found,
        needed="one closed outline of what the pan may be open to at the rail",
        do="draw `rail.opening`, or mend the one there is",
    )
