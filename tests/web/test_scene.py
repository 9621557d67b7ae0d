# SPDX-License-Identifier: Apache-2.0
"""The 3D scene as the page gets it: boxes with known volumes, distances, edges and doors."""

import asyncio
import json
import os
from pathlib import Path
from typing import Any

import httpx
import numpy as np
import pytest
from numpy.typing import NDArray
from starlette.applications import Starlette

from sumpwright.errors import InputError
from sumpwright.geometry.mesh import Mesh
from sumpwright.web import kept_job, scene
from sumpwright.web.desk import RefusedError
from sumpwright.web.scene_part import NEVER, creases
from tests.studies.baffled_job import DOOR, PICKUP, WALL, T, baffled
from tests.studies.box_job import box_mesh

SINGLE = 1e-7  # m; a metre in 24 bits
GAP = 0.04
OBSTACLES = """
pose: {height: 300 mm}
obstacles:
  - {name: beam, file: geometry/beam.stl, unit: mm, clearance: 12 mm}
"""


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    made = tmp_path_factory.mktemp("scene") / "job"
    outside = box_mesh((-0.003, -0.103, -0.103), (0.303, 0.103, 0.0))
    beam = box_mesh((0.0, 0.103 + GAP, 0.2), (0.3, 0.2, 0.3))  # left of the pan, in the car
    more = "  outside: {file: geometry/outside.stl, unit: mm}\n" + PICKUP
    baffled(made, WALL + DOOR, more, outside=outside, beam=beam)
    job = made / "job.yaml"
    job.write_text(job.read_text("utf-8") + OBSTACLES, "utf-8")
    return made


def read(data: bytes) -> tuple[dict[str, Any], dict[str, dict[str, NDArray[Any]]]]:
    """The header, and every part's arrays by its name."""
    assert data[:4] == b"SPS1"
    size = int.from_bytes(data[4:8], "little")
    assert size % 4 == 0
    head, arrays = json.loads(data[8 : 8 + size]), data[8 + size :]

    def values(where: dict[str, int], kind: str) -> NDArray[Any]:
        return np.frombuffer(arrays, kind, where["count"], where["at"])

    def fine(part: dict[str, Any]) -> dict[str, NDArray[Any]]:
        if "fine" not in part:
            return {}
        said = part["fine"]
        points = values(said["points"], "<f4").reshape(-1, 3).astype(float)
        return {"fine points": points} | {k: values(said[k], "<f4") for k in ("gap", "needed")}

    return head, {
        part["name"]: {
            "points": values(part["points"], "<f4").reshape(-1, 3).astype(float),
            "triangles": values(part["triangles"], "<u4").reshape(-1, 3),
            "edges": values(part["edges"], "<u4").reshape(-1, 2),
            **fine(part),
        }
        for part in head["parts"]
    }


def seen(folder: Path, of: str = "pan") -> tuple[dict[str, Any], dict[str, Any]]:
    data = scene.scene(folder, of, "")[1]
    assert data is not None
    return read(data)


def test_compartments_come_whole_and_with_what_was_understood_of_them(folder: Path) -> None:
    head, arrays = seen(folder)
    parts = {p["name"]: p for p in head["parts"] if p["kind"] == "compartment"}
    volumes = {n: Mesh(arrays[n]["points"], arrays[n]["triangles"]).volume for n in parts}
    hole = 0.04 * 0.02 * T / 2  # half the door's opening is each side's
    by_hand = [(0.1 - T / 2) * 0.02 + hole, (0.2 - T / 2) * 0.02 + hole]
    assert sorted(volumes.values()) == pytest.approx(by_hand, rel=1e-5)  # of float32 points
    assert [n for n, p in parts.items() if p["pickup"]] == [max(volumes, key=volumes.__getitem__)]


def test_the_outside_carries_its_gap_and_what_is_asked_for(folder: Path) -> None:
    head, arrays = seen(folder)
    skin = arrays["new pan"]
    fine = next(p["fine"] for p in head["parts"] if p["name"] == "new pan")
    assert fine["points"]["count"] > skin["points"].size  # finer than what is drawn plain
    x, y, z = skin["fine points"].T
    level = np.isclose(y, 0.103, atol=SINGLE) & (z >= -0.1)  # straight across from the beam
    level &= (x >= 0.0) & (x <= 0.3)
    assert level.sum() > 4
    assert skin["gap"][level] == pytest.approx(GAP, abs=SINGLE)
    assert skin["needed"] == pytest.approx(0.012, abs=SINGLE)
    assert head["gap"]["steps"] == pytest.approx(0.012 * np.array([1.5, 2.0, 3.0, 5.0]))
    assert np.array(head["pose"])[:3, 3] == pytest.approx([0.0, 0.0, 0.3])
    assert head["ground"] is True


def test_a_door_says_how_it_swings_and_its_window_is_cut_out_of_the_wall(folder: Path) -> None:
    head, arrays = seen(folder, "motion")
    (door,) = (p["door"] for p in head["parts"] if p["kind"] == "door")
    assert np.ptp(door["hinge"], axis=0) == pytest.approx([0.0, 0.04, 0.0])
    assert door["reach"] == pytest.approx([0.0, 0.0, -1.0])
    assert door["swing"] == pytest.approx([1.0, 0.0, 0.0])
    assert len(door["ends"]) == 2
    wall = Mesh(arrays["wall"]["points"], arrays["wall"]["triangles"])
    assert wall.area == pytest.approx(0.2 * 0.1 - 0.04 * 0.02, rel=1e-6)  # of float32 points


def test_motion_leaves_out_what_the_oil_does_not_move_among(folder: Path) -> None:
    kinds = {p["kind"] for p in seen(folder, "motion")[0]["parts"]}
    assert kinds == {"cavity", "compartment", "panel", "door", "pickup"}
    assert seen(folder)[0]["parts"][0]["kind"] == "outside"


def test_a_box_has_twelve_creases_and_an_open_one_keeps_its_rim() -> None:
    box = box_mesh((0.0, 0.0, 0.0), (1.0, 2.0, 3.0))
    assert len(creases(box)) == 12
    sheet = Mesh(box.vertices, box.faces[:2])  # one side: two triangles, flat between them
    assert len(creases(sheet)) == 4


def test_without_obstacles_there_is_no_gap_and_nothing_is_asked_for(tmp_path: Path) -> None:
    outside = box_mesh((-0.003, -0.103, -0.103), (0.303, 0.103, 0.0))
    made = baffled(
        tmp_path, WALL, "  outside: {file: geometry/outside.stl, unit: mm}\n", outside=outside
    )
    head, arrays = seen(made)
    assert head["gap"] is None
    assert "gap" not in arrays["new pan"]
    assert NEVER < -100.0  # never closer than asked for


def test_the_job_is_read_again_only_when_a_file_of_it_changed(folder: Path) -> None:
    first = kept_job.kept_job(folder)
    assert kept_job.kept_job(folder) is first
    job = folder / "job.yaml"
    os.utime(job, ns=(1, job.stat().st_mtime_ns + 1_000_000))
    again = kept_job.kept_job(folder)
    assert again is not first
    assert again.input_hash == first.input_hash
    cavity = folder / "geometry" / "cavity.stl"
    os.utime(cavity, ns=(1, cavity.stat().st_mtime_ns + 1_000_000))
    assert kept_job.kept_job(folder) is not again


def test_a_tilt_of_the_kept_job_is_that_of_the_study(folder: Path) -> None:
    found = kept_job.tilted(folder, 0.0, 0.2, "settled")
    assert sum(s["volume_m3"] for s in found["surfaces"]) == pytest.approx(3e-3, rel=1e-12)
    assert found["up"] == pytest.approx(np.array([0.0, 0.2, 1.0]) / np.hypot(1.0, 0.2))


class _Desk:
    """Calls the live function where a worker would."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder

    async def live(self, name: str, *args: Any) -> Any:
        assert name == "scene"
        try:
            return await asyncio.to_thread(scene.scene, self.folder, *args)
        except InputError as err:
            raise RefusedError(422, str(err)) from err


def fetched(folder: Path, of: str, etag: str = "") -> httpx.Response:
    app = Starlette(routes=scene.ROUTES)
    app.state.desk = _Desk(folder)

    async def go() -> httpx.Response:
        transport = httpx.ASGITransport(app)
        async with httpx.AsyncClient(transport=transport, base_url="http://page") as client:
            headers = {"If-None-Match": etag}
            return await client.get("/api/scene", params={"of": of}, headers=headers)

    return asyncio.run(go())


def test_the_page_is_told_when_it_has_the_scene_already(folder: Path) -> None:
    whole = fetched(folder, "motion")
    assert whole.status_code == 200
    assert read(whole.content)[0]["of"] == "motion"
    same = fetched(folder, "motion", whole.headers["etag"])
    assert (same.status_code, same.content) == (304, b"")
    assert fetched(folder, "pan", whole.headers["etag"]).status_code == 200


def test_a_scene_that_is_not_there_is_refused_in_a_sentence(folder: Path) -> None:
    with pytest.raises(RefusedError, match=r"no scene '\.\./pan'; there are pan and motion"):
        fetched(folder, "../pan")
