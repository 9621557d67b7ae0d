# SPDX-License-Identifier: Apache-2.0
"""The free space as the page's 3D view gets it: the file's skin, level lines, never another's."""

import asyncio
import json
from pathlib import Path
from typing import Any

import httpx
import numpy as np
import pytest
from starlette.applications import Starlette

from sumpwright.errors import SumpwrightError
from sumpwright.geometry.mesh import Mesh
from sumpwright.report.threemf_write import stl_bytes
from sumpwright.web import scene_space
from sumpwright.web.desk import RefusedError
from sumpwright.web.scene_space import space_part, space_scene
from tests.studies.box_job import box_mesh
from tests.web.test_scene import read

BOX = box_mesh((0.0, -0.1, -0.045), (0.3, 0.1, 0.0))  # 2.7 L, 45 mm deep
VOLUME = 2.7e-3


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    (tmp_path / "out" / "space").mkdir(parents=True)
    written(tmp_path, BOX)
    return tmp_path


def written(folder: Path, mesh: Mesh) -> None:
    (folder / "out" / "space" / "free-space.stl").write_bytes(stl_bytes(mesh, "free space"))


def test_the_skin_is_the_file_s_with_a_line_at_every_ten_millimetres_of_depth(folder: Path) -> None:
    head, arrays = read(space_scene(folder, 12, VOLUME))
    (part,) = head["parts"]
    assert (part["kind"], part["frame"], part["lines"]) == ("space", "engine", 0.010)
    skin = arrays[part["name"]]
    used = Mesh(skin["points"][:8], skin["triangles"])
    assert used.volume == pytest.approx(VOLUME, rel=1e-6)  # single precision
    ends = skin["points"][skin["edges"]]
    assert np.ptp(ends[..., 2], axis=1).max() < 1e-9  # each line is level
    depths, length = -ends[:, 0, 2], np.linalg.norm(ends[:, 1] - ends[:, 0], axis=1)
    assert np.unique(depths.round(6)).tolist() == [0.01, 0.02, 0.03, 0.04]
    assert length.sum() == pytest.approx(4 * 2 * (0.3 + 0.2))  # once round, four times


def test_a_body_of_whole_rows_has_no_line_on_its_floor() -> None:
    part = space_part(box_mesh((0.0, 0.0, -0.02), (0.1, 0.1, 0.0)))
    assert np.unique(part.points[part.edges][..., 2]).tolist() == [-0.01]


@pytest.mark.parametrize("deeper", [0.0451, 0.06])
def test_another_asking_s_file_is_not_shown_beside_these_litres(
    folder: Path, deeper: float
) -> None:
    written(folder, box_mesh((0.0, -0.1, -deeper), (0.3, 0.1, 0.0)))
    with pytest.raises(SumpwrightError, match="written anew since; find the free space once more"):
        space_scene(folder, 12, VOLUME)


def test_a_file_that_is_gone_is_said(folder: Path) -> None:
    (folder / "out" / "space" / "free-space.stl").unlink()
    with pytest.raises(SumpwrightError, match="gone since; find the free space once more"):
        space_scene(folder, 12, VOLUME)


class _Desk:
    """Has one answer, and calls the live function where a worker would."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder

    def answer(self, key: str) -> str | None:
        said = {"space": {"files": {"triangles": 12, "stl_m3": VOLUME}}, "rail": {"verdict": "met"}}
        return json.dumps(said[key]) if key in said else None

    async def live(self, name: str, *args: Any) -> Any:
        return scene_space.LIVE[name](self.folder, *args)


async def _fetched(folder: Path, key: str) -> httpx.Response:
    app = Starlette(routes=scene_space.ROUTES)
    app.state.desk = _Desk(folder)
    transport = httpx.ASGITransport(app)
    async with httpx.AsyncClient(transport=transport, base_url="http://page") as client:
        return await client.get(f"/api/space/{key}")


def test_it_is_fetched_by_the_answer_that_found_it(folder: Path) -> None:
    came = asyncio.run(_fetched(folder, "space"))
    assert came.content == space_scene(folder, 12, VOLUME)
    for other in ("rail", "no such key"):
        with pytest.raises(RefusedError, match="not kept any more; find the free space once more"):
            asyncio.run(_fetched(folder, other))
