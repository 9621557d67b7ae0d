# SPDX-License-Identifier: Apache-2.0
"""Where the housing of a pan stands, what the other studies read from it, and where numbers that
were typed twice contradict it."""

from collections.abc import Iterator
from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from sumpwright.errors import InputError, Problem
from sumpwright.geometry.build import build_mesh
from sumpwright.geometry.line import line_crossings
from sumpwright.geometry.mesh import Mesh
from sumpwright.job.housing import Housing
from sumpwright.job.load import LoadedJob
from sumpwright.job.pan import Pan
from sumpwright.job.suction import Cloth, Screen, Suction
from sumpwright.studies.housing_check import HousingCheck
from sumpwright.studies.housing_shape import HousingShape
from sumpwright.units import shown

Floats = NDArray[np.float64]
Keys = tuple[str | int, ...]

NAME = "pickup housing"
"""What it is called among the displacing bodies."""
AGREE = 1e-4
"""m; numbers typed twice may differ by a tenth of a millimetre."""
AREA_AGREE = 0.01
"""Of a screen's area, typed twice."""
_RIM_POINTS = 24


def placed_housing(loaded: LoadedJob, key: str, cavity: Mesh) -> HousingShape | None:
    """The housing of the pan under `key`; None without one.

    Raises InputError with all that is wrong with its numbers.
    """
    pan: Pan = getattr(loaded.job, key)
    if pan.housing is None:
        return None
    refuse_numbers(loaded, key)
    shape = HousingShape(pan.housing, pan.housing.inlet or 0.0)
    problems: list[Problem] = []
    if pan.housing.inlet is None:
        floor = highest_floor(shape, cavity)
        if floor is None:
            problems = [_no_floor(loaded, key)]
        else:
            assert pan.housing.over_floor is not None
            shape = replace(shape, inlet=floor + pan.housing.over_floor)
    if not problems:
        problems = list(_contradictions(loaded, key, pan, shape))
    if problems:
        raise InputError(problems)
    return shape


def refuse_numbers(loaded: LoadedJob, key: str) -> None:
    """InputError with all that is wrong with a housing's numbers, whatever pan it stands in."""
    pan: Pan = getattr(loaded.job, key)
    if pan.housing is not None:
        shape = HousingShape(pan.housing, pan.housing.inlet or 0.0)
        problems = HousingCheck(loaded, key, shape).problems()
        if problems:
            raise InputError(problems)


def highest_floor(shape: HousingShape, cavity: Mesh) -> float | None:
    """Height of the highest floor under the inlet's rim and middle; None where there is none."""
    flat = [shape.centre, *shape.rim.points(_RIM_POINTS)[:, :2]]
    floors = []
    for x, y in flat:
        along, way = line_crossings(cavity, [x, y, 0.0], [0.0, 0.0, -1.0])
        out = along[way > 0.0]
        if not len(out):
            return None
        floors.append(-float(out[-1]))
    return max(floors)


def housing_body(shape: HousingShape) -> Mesh:
    """The body that takes up room for oil: housing, flange and bolts together."""
    return build_mesh(shape.displaced)


def suction_with(suction: Suction, housing: Housing | None) -> Suction:
    """The suction line with the screen and the edge of the housing, where it has one."""
    if housing is None:
        return suction
    shape = HousingShape(housing, 0.0)
    more: dict[str, object] = {}
    if suction.screen is None and housing.screen is not None:
        cloth = housing.screen.model_dump()
        more["screen"] = Screen.model_construct(**cloth, area=shape.face_area)
    if "edge_radius" not in suction.model_fields_set:
        more["edge_radius"] = housing.socket.edge_radius
    return suction.model_copy(update=more) if more else suction


def _contradictions(
    loaded: LoadedJob, key: str, pan: Pan, shape: HousingShape
) -> Iterator[Problem]:
    yield from _pickup(loaded, key, pan, shape)
    housing = shape.housing
    if pan.suction is None:
        return
    at: Keys = (key, "suction")
    bore, edge = pan.suction.tubes[0].bore, pan.suction.edge_radius
    if abs(bore - housing.socket.bore) > AGREE:
        own = shown(housing.socket.bore, "length", loaded.job.units)
        yield _twice(loaded, (*at, "tubes", 0, "bore"), f"the socket's bore, {own}")
    given = "edge_radius" in pan.suction.model_fields_set
    if given and abs(edge - housing.socket.edge_radius) > AGREE:
        own = shown(housing.socket.edge_radius, "length", loaded.job.units)
        yield _twice(loaded, (*at, "edge_radius"), f"the socket's edge radius, {own}")
    screen = pan.suction.screen
    if screen is None or housing.screen is None:
        return
    if _cloth(screen) != _cloth(housing.screen):
        yield _twice(loaded, (*at, "screen"), f"the screen of `{key}.housing.screen`")
    elif abs(screen.area / shape.face_area - 1.0) > AREA_AGREE:
        own = shown(shape.face_area, "area", loaded.job.units)
        yield _twice(loaded, (*at, "screen", "area"), f"the housing's inlet, {own}")


def _cloth(cloth: Cloth) -> dict[str, object]:
    return {name: getattr(cloth, name) for name in Cloth.model_fields}


def _pickup(loaded: LoadedJob, key: str, pan: Pan, shape: HousingShape) -> Iterator[Problem]:
    """The typed pickup, where there is one, must be the housing's inlet."""
    pickup, at = pan.pickup, (key, "pickup")
    if pickup is None or loaded.typed(*at) == "nothing":
        return
    if pickup.place != shape.housing.place:
        yield _twice(loaded, (*at, "place"), f"the housing's, `{shape.housing.place}`")
    x, y, z = (shown(float(c), "length", loaded.job.units) for c in shape.rim.centre)
    here = f"the housing's inlet, its middle at x {x}, y {y}, z {z}"
    radius = shape.round_opening
    if pickup.rim is not None or pickup.centre is None or pickup.diameter is None:
        off = np.abs(np.mean(pickup.rim or [[np.inf] * 3], axis=0) - shape.rim.centre).max()
        if radius is not None or off > 1e-3:
            yield _twice(loaded, (*at, "rim"), here)
        return
    if radius is None or np.abs(np.asarray(pickup.centre) - shape.rim.centre).max() > AGREE:
        yield _twice(loaded, (*at, "centre"), here)
    elif abs(pickup.diameter - 2.0 * radius) > AGREE:
        own = shown(2.0 * radius, "length", loaded.job.units)
        yield _twice(loaded, (*at, "diameter"), f"the housing's inlet, {own}")
    ahead, left, up = pickup.facing
    if not (up < 0.0 and np.hypot(ahead, left) <= -1e-6 * up):
        yield _twice(loaded, (*at, "facing"), "straight down, as the housing's inlet faces")


def _twice(loaded: LoadedJob, keys: Keys, own: str) -> Problem:
    do = "delete it here, and what the housing says counts; or mend one of the two"
    return Problem("HOUS-501", loaded.where(*keys), loaded.typed(*keys), own, do)


def _no_floor(loaded: LoadedJob, key: str) -> Problem:
    keys = (key, "housing", "over_floor")
    needed = "a floor of the cavity under all of the inlet's rim"
    do = "move the housing's `centre` into the pan, or give the height as `inlet`"
    return Problem("HOUS-508", loaded.where(*keys), loaded.typed(*keys), needed, do)
