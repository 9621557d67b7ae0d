# SPDX-License-Identifier: Apache-2.0
"""Files dropped on the page: kept where they were read well, without a trace where not."""

import os
import shutil
import zipfile
from collections.abc import Iterator
from io import BytesIO
from pathlib import Path
from typing import Any
from urllib.parse import urlencode

import httpx
import pytest

from sumpwright.logs.open_log import open_log
from sumpwright.studies.measure import measure
from sumpwright.web import upload
from sumpwright.web.desk import RefusedError
from sumpwright.web.incoming import KINDS, clean_name
from tests.web.served import Site, guarded_site, job_app

pytestmark = pytest.mark.slow  # every file is read by a process of its own

DEMO = Path(__file__).parents[2] / "examples" / "demo-a"
STEP = DEMO / "geometry" / "pickup-tube.step"
STL = DEMO / "geometry" / "steering-rack.stl"
LOG = DEMO / "tests" / "skidpad.csv"


@pytest.fixture(scope="module")
def served(tmp_path_factory: pytest.TempPathFactory) -> Iterator[tuple[Site, Path]]:
    folder = tmp_path_factory.mktemp("upload") / "my-pan"
    shutil.copytree(DEMO, folder, ignore=shutil.ignore_patterns("out"))
    app = job_app(upload.ROUTES, folder)
    with guarded_site(app=app) as site:
        yield site, folder
        app.state.desk.close()


@pytest.fixture
def site(served: tuple[Site, Path]) -> Site:
    return served[0]


@pytest.fixture
def job(served: tuple[Site, Path]) -> Path:
    return served[1]


def sent(site: Site, data: bytes, **query: str) -> httpx.Response:
    headers = {"cookie": site.cookie, "origin": site.origin}
    with httpx.Client(trust_env=False, timeout=120.0) as client:
        return client.post(
            f"{site.origin}/api/upload?{urlencode(query)}", content=data, headers=headers
        )


def nothing_left(job: Path) -> bool:
    """No part of a file that was refused lies about."""
    return list((job / "out" / "incoming").iterdir()) == []


# --- what is read well is kept, with what the commands say of it ---


def test_a_step_file_is_kept_and_measured_as_the_command_measures_it(site: Site, job: Path) -> None:
    answer = sent(site, STEP.read_bytes(), **{"as": "geometry"}, name="tube 2.STEP")
    assert answer.status_code == 200, answer.text
    said = answer.json()
    assert said["name"] == "geometry/tube-2.step"
    assert (job / said["name"]).read_bytes() == STEP.read_bytes()
    told = measure(job / said["name"]).as_json()
    assert said["measure"] == httpx.Response(200, json=told).json()
    assert nothing_left(job)


def test_a_log_is_kept_and_its_channels_are_those_the_command_reads(site: Site, job: Path) -> None:
    answer = sent(site, LOG.read_bytes(), **{"as": "log"}, name="day two.csv")
    assert answer.status_code == 200, answer.text
    said = answer.json()
    assert said["name"] == "tests/day-two.csv"
    log = open_log(job / said["name"])
    channels = {c["role"]: (c["column"], c["unit"], c["count"]) for c in said["read"]["channels"]}
    assert channels == {r: (c.column, c.unit, len(c.time)) for r, c in log.channels.items()}
    assert nothing_left(job)


def test_a_file_is_named_in_the_job_where_it_was_dropped(site: Site, job: Path) -> None:
    before = (job / "job.yaml").read_text("utf-8")
    data = (DEMO / "geometry" / "new-cavity.step").read_bytes()
    said = sent(site, data, **{"as": "geometry"}, name="c3.step", key="new.cavity", window="w")
    assert said.json()["set"]["problems"] == [], said.text
    after = (job / "job.yaml").read_text("utf-8")
    assert after == before.replace("geometry/new-cavity.step", "geometry/c3.step", 1)


def test_an_stl_is_asked_for_its_unit_with_the_size_it_would_have_in_each(
    site: Site, job: Path
) -> None:
    answer = sent(site, STL.read_bytes(), **{"as": "geometry"}, name="rack.stl")
    assert answer.status_code == 422
    said = answer.json()
    assert [p["code"] for p in said["problems"]] == ["GEO-208"]
    low, high = measure(STL, unit=0.0254).bounds_m
    assert said["sizes_m"]["in"] == pytest.approx([b - a for a, b in zip(low, high, strict=True)])
    assert nothing_left(job)
    told = sent(site, STL.read_bytes(), **{"as": "geometry"}, name="rack.stl", unit="mm").json()
    assert told["measure"]["unit"] == "mm, declared"


def test_a_torn_stl_is_called_torn_and_not_asked_for_its_unit(site: Site, job: Path) -> None:
    torn = sent(site, STL.read_bytes()[:300], **{"as": "geometry"}, name="torn.stl").json()
    assert torn["problems"]
    assert all(p["code"] != "GEO-208" for p in torn["problems"])
    assert "sizes_m" not in torn
    assert nothing_left(job)


def test_an_stl_dropped_on_a_place_that_has_a_unit_takes_that(site: Site, job: Path) -> None:
    key = "obstacles.steering rack.file"
    said = sent(site, STL.read_bytes(), **{"as": "geometry"}, name="rack3.stl", key=key)
    assert said.status_code == 200, said.text
    assert said.json()["measure"]["unit"] == "mm, declared"
    text = (job / "job.yaml").read_text("utf-8")
    assert "file: geometry/rack3.stl\n    unit: mm # an STL does not say" in text


def test_a_unit_given_for_a_new_file_is_written_beside_it(site: Site, job: Path) -> None:
    key = "new.outside"
    said = sent(site, STL.read_bytes(), **{"as": "geometry"}, name="o.stl", key=key, unit="cm")
    assert said.json()["set"]["problems"] == [], said.text
    assert "outside: {file: geometry/o.stl, unit: cm}" in (job / "job.yaml").read_text("utf-8")


def test_a_place_that_takes_no_file_is_said_and_the_file_is_kept(site: Site, job: Path) -> None:
    before = (job / "job.yaml").read_bytes()
    for key in ("oil.fill", "nothing.here", "__class__", "new", "../x"):
        said = sent(site, LOG.read_bytes(), **{"as": "log"}, name="keyed.csv", key=key)
        assert said.status_code == 200
        assert said.json()["set"] is None
        assert said.json()["set_problems"]
        assert (job / "tests" / "keyed.csv").exists()
    assert (job / "job.yaml").read_bytes() == before


def test_a_log_whose_columns_have_no_names_is_kept_and_asked_about(site: Site, job: Path) -> None:
    rows = "Foo,Bar\n" + "".join(f"{k},{k}\n" for k in range(50))
    said = sent(site, rows.encode(), **{"as": "log"}, name="odd.csv").json()
    assert said["read"] is None
    assert [p["code"] for p in said["unnamed"]] == ["LOG-210"]
    named = sent(site, rows.encode(), **{"as": "log"}, name="odd.csv", channel="time=Foo")
    assert named.json()["name"] == "tests/odd.csv"
    assert named.json()["read"]["unused"] == ["Bar"]


# --- nothing is written over ---


def test_another_file_of_that_name_is_left_as_it_is_and_a_free_one_is_offered(
    site: Site, job: Path
) -> None:
    (job / "tests" / "same.csv").write_text("mine\n", encoding="utf-8")
    (job / "tests" / "same-2.csv").write_text("mine too\n", encoding="utf-8")
    answer = sent(site, LOG.read_bytes(), **{"as": "log"}, name="same.csv")
    assert answer.status_code == 409
    assert answer.json()["offer"] == "same-3.csv"
    assert "was left as it is" in answer.json()["error"]
    assert (job / "tests" / "same.csv").read_text("utf-8") == "mine\n"
    kept = sent(site, LOG.read_bytes(), **{"as": "log"}, name="same-3.csv").json()
    assert kept["name"] == "tests/same-3.csv"
    assert nothing_left(job)


def test_the_same_file_again_is_the_file_that_is_there(site: Site, job: Path) -> None:
    for _ in range(2):
        answer = sent(site, LOG.read_bytes(), **{"as": "log"}, name="twice.csv")
        assert answer.json()["name"] == "tests/twice.csv"
    assert not (job / "tests" / "twice-2.csv").exists()


# --- names ---


@pytest.mark.parametrize(
    ("given", "kept"),
    [
        ("pan.step", "pan.step"),
        ("Pan V2 (final).STP", "Pan-V2-(final).stp"),
        ("../../etc/cron.d/x.step", "x.step"),
        ("C:\\Users\\me\\pan.step", "pan.step"),
        ("\\\\server\\share\\pan.step", "pan.step"),
        ("/etc/passwd.step", "passwd.step"),
        ("Ölwanne.step", "Ölwanne.step"),
        ("O\u0308l.step", "Öl.step"),
        ("<img src=x onerror=alert(1)>.step", "img-src-x-onerror-alert(1).step"),
        ("<script>.step", "script.step"),
        ("a\nb\x1b[2Jc.step", "a-b-2Jc.step"),
        ("a\u202egpj.step", "a-gpj.step"),
        ("-rf.step", "rf.step"),
        (".hidden.step", "hidden.step"),
        ("CON.step", "file-CON.step"),
        ("com1.anything.step", "file-com1.anything.step"),
        ("\0.step", "geometry.step"),
        ("***.step", "geometry.step"),
        ("x" * 300 + ".step", "x" * 80 + ".step"),
        ("日本語.step", "日本語.step"),
        ("\ud800a.step", "a.step"),
        ("pan.step.", "pan.step"),
        ("a; rm -rf ~.step", "a-rm--rf.step"),
        ("$(id).step", "(id).step"),
    ],
)
def test_a_name_is_made_one_that_every_system_has(given: str, kept: str) -> None:
    assert clean_name(given, KINDS["geometry"]) == kept


@pytest.mark.parametrize(
    "name",
    ["", "step", ".step", "pan", "pan.exe", "pan.step.html", "a.csv", "pan.step/", "..", "/"],
)
def test_a_name_of_another_kind_is_refused(name: str) -> None:
    with pytest.raises(RefusedError, match="geometry is a STEP, STL, 3MF or PLY file"):
        clean_name(name, KINDS["geometry"])


def test_a_name_that_is_a_path_lands_in_its_folder_and_nowhere_else(site: Site, job: Path) -> None:
    said = sent(site, LOG.read_bytes(), **{"as": "log"}, name="../../../up.csv")
    assert said.json()["name"] == "tests/up.csv"
    assert not (job.parent / "up.csv").exists()


def test_a_folder_that_is_a_link_out_of_the_job_takes_nothing(tmp_path: Path) -> None:
    job = tmp_path / "job"
    shutil.copytree(DEMO, job, ignore=shutil.ignore_patterns("out"))
    (tmp_path / "elsewhere").mkdir()
    shutil.rmtree(job / "tests")
    (job / "tests").symlink_to(tmp_path / "elsewhere")
    app = job_app(upload.ROUTES, job)
    with guarded_site(app=app) as site:
        answer = sent(site, LOG.read_bytes(), **{"as": "log"}, name="day.csv")
        assert answer.status_code == 422
        assert "leads out of the folder" in answer.json()["error"]
        shutil.rmtree(job / "out")
        (job / "out").symlink_to(tmp_path / "elsewhere")
        answer = sent(site, LOG.read_bytes(), **{"as": "log"}, name="day.csv")
        assert answer.status_code == 422
        app.state.desk.close()
    assert list((tmp_path / "elsewhere").iterdir()) == []


@pytest.mark.parametrize("there", [True, False])
def test_a_link_in_the_place_of_the_file_is_not_written_through(
    site: Site, job: Path, there: bool
) -> None:
    outside = job.parent / f"outside-{there}.csv"
    if there:
        outside.write_bytes(LOG.read_bytes())
    name = f"linked-{there}.csv"
    (job / "tests" / name).symlink_to(outside)
    answer = sent(site, LOG.read_bytes(), **{"as": "log"}, name=name)
    assert answer.status_code == 409
    assert outside.exists() is there
    assert (job / "tests" / name).is_symlink()


# --- what is not whole, too large, or of no kind ---


def test_a_file_over_the_limit_of_its_kind_is_cut_off(
    site: Site, job: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setitem(KINDS["log"].most, ".csv", 10_000)
    answer = sent(site, b"x" * 20_000, **{"as": "log"}, name="large.csv")
    assert answer.status_code == 413
    assert "too large to read" in answer.json()["error"]
    assert not (job / "tests" / "large.csv").exists()
    assert nothing_left(job)


def test_an_upload_that_is_broken_off_leaves_nothing(site: Site, job: Path) -> None:
    import socket
    import time

    head = f"POST /api/upload?as=log&name=half.csv HTTP/1.1\r\nHost: {site.host}\r\n"
    head += f"Cookie: {site.cookie}\r\nOrigin: {site.origin}\r\nContent-Length: 100000\r\n\r\n"
    with socket.create_connection(("127.0.0.1", site.port), timeout=5) as line:
        line.sendall(head.encode() + b"Time,RPM\n")
        time.sleep(0.3)
        assert not nothing_left(job)  # it is on its way
    end = time.monotonic() + 5.0
    while not nothing_left(job) and time.monotonic() < end:
        time.sleep(0.05)
    assert nothing_left(job)
    assert not (job / "tests" / "half.csv").exists()


def test_a_full_disk_is_said_and_leaves_nothing(
    site: Site, job: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def full(_self: Any) -> None:
        raise OSError(28, os.strerror(28))

    monkeypatch.setattr("sumpwright.web.incoming.os.fsync", full)
    answer = sent(site, LOG.read_bytes(), **{"as": "log"}, name="full.csv")
    assert answer.status_code == 422
    assert answer.json()["problems"][0]["code"] == "SAVE-303"
    assert nothing_left(job)


@pytest.mark.parametrize(
    "query",
    [
        {"as": "log", "name": "x.exe"},
        {"as": "geometry", "name": "x.csv"},
        {"as": "job", "name": "job.yaml"},
        {"as": "", "name": "x.csv"},
        {"as": "log", "name": "x.csv", "channel": "pressure"},
    ],
)
def test_what_is_no_upload_is_refused(site: Site, job: Path, query: dict[str, str]) -> None:
    before = sorted(p.name for p in job.rglob("*"))
    answer = sent(site, b"x", **query)
    assert answer.status_code in (400, 415)
    assert answer.json()["error"]
    assert sorted(p.name for p in job.rglob("*") if p.name != "incoming") == [
        name for name in before if name != "incoming"
    ]


def test_a_file_that_the_command_refuses_is_refused_in_the_same_words(
    site: Site, job: Path
) -> None:
    answer = sent(site, b"ISO-10303-21;\nnot really\n", **{"as": "geometry"}, name="bad.step")
    assert answer.status_code == 422
    (problem,) = answer.json()["problems"]
    assert (problem["code"], problem["where"]) == ("GEO-230", "bad.step")
    assert not (job / "geometry" / "bad.step").exists()
    empty = sent(site, b"", **{"as": "log"}, name="empty.csv")
    assert empty.json()["problems"][0]["code"] == "LOG-202"
    assert nothing_left(job)


# --- files made to harm their reader ---


def bomb(size: int) -> bytes:
    with BytesIO() as held:
        with zipfile.ZipFile(held, "w", zipfile.ZIP_DEFLATED, compresslevel=9) as archive:
            archive.writestr("3D/3dmodel.model", b" " * size)
        return held.getvalue()


def test_a_3mf_that_unpacks_to_a_hundredfold_is_refused(site: Site, job: Path) -> None:
    answer = sent(site, bomb(200 * 2**20), **{"as": "geometry"}, name="bomb.3mf")
    assert answer.status_code == 422
    assert answer.json()["problems"][0]["code"] == "GEO-221"
    assert nothing_left(job)


def test_a_table_of_a_million_columns_is_refused(site: Site, job: Path) -> None:
    names = ",".join(f"c{k}" for k in range(1_000_000))
    row = ",".join(["1"] * 1_000_000)
    answer = sent(site, f"{names}\n{row}\n{row}\n".encode(), **{"as": "log"}, name="wide.csv")
    assert answer.status_code == 422
    assert answer.json()["problems"][0]["code"] == "LOG-206"
    assert nothing_left(job)


def test_markup_in_names_and_text_comes_back_as_text(site: Site) -> None:
    rows = "Time,<script>alert(1)</script>\n" + "".join(f"{k},{k}\n" for k in range(50))
    answer = sent(site, rows.encode(), **{"as": "log"}, name="<b>x</b>.csv")
    assert answer.headers["content-type"] == "application/json"
    assert answer.headers["x-content-type-options"] == "nosniff"
    assert answer.json()["name"] == "tests/b.csv" or "<" not in answer.json()["name"]
    assert answer.json()["read"]["unused"] == ["<script>alert(1)</script>"]


def test_after_all_that_the_server_answers_as_before(site: Site) -> None:
    assert sent(site, LOG.read_bytes(), **{"as": "log"}, name="last.csv").status_code == 200
