# SPDX-License-Identifier: Apache-2.0
"""The pack: whole or not at all, the same twice, and honest about what it lacks."""

import hashlib
import json
from datetime import UTC, datetime
from pathlib import Path

import pytest

from sumpwright.errors import InputError
from sumpwright.report.make_write import write_make
from sumpwright.studies.make import make_of
from sumpwright.studies.make_result import Made
from tests.studies.box_job import box_job

MADE = datetime(2026, 1, 2, tzinfo=UTC)


@pytest.fixture
def made(tmp_path: Path) -> Made:
    return make_of(box_job(tmp_path / "job"), anyway=True)


def files_of(place: Path) -> dict[str, bytes]:
    return {str(p.relative_to(place)): p.read_bytes() for p in place.rglob("*") if p.is_file()}


def test_an_imported_pan_alone_gets_what_can_be_made_and_the_list_of_the_rest(made: Made) -> None:
    place, pack = write_make(made, made_at=MADE)
    assert place == made.loaded.folder / "out" / "make" / made.check.revision
    found = files_of(place)
    assert {"index.pdf", "index.html", "lists/parts.csv", "drawings/depth.dxf"} <= set(found)
    keys = {n.key for n in pack.not_made}
    assert {"rail.holes", "new.outside", "new.housing", "new.baffles"} <= keys
    said = json.loads(found.pop("manifest.json"))
    assert said["schema"] == 1
    assert {f["path"] for f in said["files"]} == set(found)
    for line in said["files"]:
        assert line["sha256"] == hashlib.sha256(found[line["path"]]).hexdigest()
        assert line["size"] == len(found[line["path"]])


def test_the_same_input_gives_the_same_bytes(made: Made, tmp_path: Path) -> None:
    first, _ = write_make(made, to=tmp_path / "a", made_at=MADE)
    second, _ = write_make(made, to=tmp_path / "b", made_at=MADE)
    assert files_of(first) == files_of(second)


def test_replaces_an_older_pack_and_nothing_else(made: Made, tmp_path: Path) -> None:
    place, _ = write_make(made, to=tmp_path / "a", made_at=MADE)
    (place / "stray.txt").write_text("old", encoding="utf-8")
    write_make(made, to=place, made_at=MADE)
    assert not (place / "stray.txt").exists()
    assert [p.name for p in tmp_path.iterdir() if p.name.startswith(".")] == []
    other = tmp_path / "mine"
    other.mkdir()
    (other / "letter.txt").write_text("keep", encoding="utf-8")
    with pytest.raises(InputError, match="MAKE-505"):
        write_make(made, to=other, made_at=MADE)
    assert files_of(other) == {"letter.txt": b"keep"}


def test_refuses_a_job_that_changed_meanwhile(made: Made, tmp_path: Path) -> None:
    path = made.loaded.path
    text = path.read_text("utf-8")
    path.write_text(text + "\nride: { bump_travel: 55 mm }\n", encoding="utf-8")
    with pytest.raises(InputError, match="MAKE-504"):
        write_make(made, to=tmp_path / "a", made_at=MADE)
    assert not (tmp_path / "a").exists()


def test_refuses_to_follow_a_link_out_of_the_job(made: Made, tmp_path: Path) -> None:
    away = tmp_path / "away"
    away.mkdir()
    out = made.loaded.folder / "out"
    out.mkdir(exist_ok=True)
    (out / "make").symlink_to(away)
    with pytest.raises(InputError, match="MAKE-506"):
        write_make(made, made_at=MADE)
    assert list(away.iterdir()) == []


def test_the_leak_test_s_gauge_sees_a_tenth_of_what_may_leak(made: Made) -> None:
    leak = made.leak
    assert leak.resolution_pa == pytest.approx(0.1 * leak.drop_pa)
    assert leak.pressure_pa <= 20_000.0
    assert 120.0 <= leak.time_s <= 900.0


def test_a_requirement_that_is_not_met_is_named(tmp_path: Path) -> None:
    folder = box_job(tmp_path / "job")
    path = folder / "job.yaml"
    path.write_text(path.read_text("utf-8") + "\nrequirements: { capacity: 90 L }\n", "utf-8")
    with pytest.raises(InputError, match=r"requirements.capacity  \[MAKE-501\]"):
        make_of(folder)
    assert not (folder / "out" / "make").exists()
