# SPDX-License-Identifier: Apache-2.0
"""Photos: taken for what their bytes say, as large as a photo is, never over another."""

import asyncio
import hashlib
from dataclasses import dataclass
from pathlib import Path

import httpx
import pytest
from starlette.applications import Starlette
from starlette.requests import Request
from starlette.responses import JSONResponse, Response

from sumpwright.errors import SumpwrightError
from sumpwright.web import photo
from sumpwright.web.asked import Asked
from sumpwright.web.body_limit import limit_of
from sumpwright.web.desk import RefusedError

# First bytes: ISO/IEC 10918-1 (JPEG), ISO/IEC 15948 5.2 (PNG), RFC 9649 2.4 (WebP) and
# ISO/IEC 14496-12 4.3 with a brand of ISO/IEC 23008-12 (HEIC); from memory.
JPEG = b"\xff\xd8\xff\xe0\x00\x10JFIF\x00" + b"x" * 100
PNG = b"\x89PNG\r\n\x1a\n\x00\x00\x00\rIHDR" + b"x" * 100
WEBP = b"RIFF\x64\x00\x00\x00WEBPVP8 " + b"x" * 100
HEIC = b"\x00\x00\x00\x18ftypheic\x00\x00\x00\x00" + b"x" * 100


@dataclass
class Desk:
    folder: Path | None


def refused(_request: Request, err: Exception) -> Response:
    status = err.status if isinstance(err, RefusedError) else 422
    return JSONResponse({"error": str(err)}, status)


@pytest.fixture
def job(tmp_path: Path) -> Path:
    (tmp_path / "job").mkdir()
    return tmp_path / "job"


class Page:
    """Asks the photo routes alone, without the guard in front of them."""

    def __init__(self, folder: Path) -> None:
        handlers = {RefusedError: refused, SumpwrightError: refused}
        self.app = Starlette(routes=photo.ROUTES, exception_handlers=handlers)
        self.app.state.desk = Desk(folder)

    def ask(self, method: str, name: str, data: bytes = b"") -> httpx.Response:
        async def asked() -> httpx.Response:
            transport = httpx.ASGITransport(self.app)
            async with httpx.AsyncClient(transport=transport, base_url="http://page") as client:
                params = {"name": name}
                return await client.request(method, "/api/photo", params=params, content=data)

        return asyncio.run(asked())

    def get(self, name: str) -> httpx.Response:
        return self.ask("GET", name)


@pytest.fixture
def page(job: Path) -> Page:
    return Page(job)


def sent(page: Page, name: str, data: bytes) -> tuple[int, dict[str, str]]:
    answer = page.ask("POST", name, data)
    return answer.status_code, answer.json()


@pytest.mark.parametrize(
    ("data", "suffix"), [(JPEG, ".jpg"), (PNG, ".png"), (WEBP, ".webp"), (HEIC, ".heic")]
)
def test_a_photo_is_kept_as_it_came(page: Page, job: Path, data: bytes, suffix: str) -> None:
    status, said = sent(page, "IMG 0042.exe", data)
    assert (status, said["name"]) == (200, f"records/photos/photo-img-0042{suffix}")
    assert (job / said["name"]).read_bytes() == data
    assert said["sha256"] == hashlib.sha256(data).hexdigest()
    assert page.get(said["name"]).content == data


@pytest.mark.parametrize(
    "data", [b"", b"x", b"<svg onload=alert(1)>" * 9, b"GIF89a" + b"x" * 99, b"%PDF-1.7" * 9]
)
def test_what_begins_like_no_photo_is_refused_and_not_kept(
    page: Page, job: Path, data: bytes
) -> None:
    status, said = sent(page, "a.jpg", data)
    assert status == 422
    assert "JPEG, PNG, WebP or HEIC" in said["error"]
    assert list((job / "records/photos").iterdir()) == []


def test_a_photo_that_is_too_large_is_refused_and_not_kept(
    page: Page, job: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(photo, "MOST", 2**20)
    status, said = sent(page, "a.jpg", JPEG + b"x" * 2**20)
    assert (status, said["error"]) == (413, "this photo is larger than 1 MiB; make it smaller")
    assert list((job / "records/photos").iterdir()) == []


def test_the_guard_lets_a_photo_be_as_large_as_one_may_be() -> None:
    scope = {"method": "POST", "path": "/api/photo", "headers": []}
    assert limit_of(Asked(scope)).size == photo.MOST


def test_another_photo_of_the_same_name_gets_a_name_of_its_own(page: Page, job: Path) -> None:
    names = [sent(page, "a.jpg", JPEG + bytes([k]))[1]["name"] for k in range(3)]
    assert names == [f"records/photos/photo-a{k}.jpg" for k in ("", "-2", "-3")]
    assert [(job / n).read_bytes()[-1] for n in names] == [0, 1, 2]


def test_the_same_photo_twice_is_kept_once(page: Page, job: Path) -> None:
    assert sent(page, "a.jpg", JPEG) == sent(page, "a.jpg", JPEG)
    assert len(list((job / "records/photos").iterdir())) == 1


@pytest.mark.parametrize(
    "name", ["../../x.jpg", "/etc/x", "C:\\x.jpg", "nul", "\0", "", ".hidden", "ä" * 300]
)
def test_a_hostile_name_is_only_letters_of_a_name(page: Page, job: Path, name: str) -> None:
    status, said = sent(page, name, JPEG)
    assert status == 200
    assert (job / said["name"]).resolve().parent == (job / "records/photos").resolve()
    assert (job / said["name"]).name.startswith("photo")


def test_refuses_to_keep_photos_through_a_link_that_leads_out(page: Page, job: Path) -> None:
    (job.parent / "elsewhere").mkdir()
    (job / "records").mkdir()
    (job / "records/photos").symlink_to(job.parent / "elsewhere")
    status, said = sent(page, "a.jpg", JPEG)
    assert (status, "leads out" in said["error"]) == (422, True)
    assert list((job.parent / "elsewhere").iterdir()) == []


@pytest.mark.parametrize(
    "name", ["job.yaml", "../x.jpg", "records/photos/no.jpg", "", "records/photos"]
)
def test_shows_no_file_but_a_photo_of_the_job(page: Page, job: Path, name: str) -> None:
    (job / "job.yaml").write_bytes(JPEG)
    (job / "records/photos").mkdir(parents=True)
    assert page.get(name).status_code == 422


def test_shows_nothing_that_turned_into_something_else(page: Page, job: Path) -> None:
    said = sent(page, "a.jpg", JPEG)[1]
    (job / said["name"]).write_bytes(b"<script>alert(1)</script>")
    assert page.get(said["name"]).status_code == 422


def test_a_photo_is_shown_as_what_its_bytes_are(page: Page) -> None:
    name = sent(page, "a.html", PNG)[1]["name"]
    assert page.get(name).headers["content-type"] == "image/png"


def test_without_a_job_there_is_nowhere_to_keep_it(page: Page) -> None:
    page.app.state.desk.folder = None
    assert sent(page, "a.jpg", JPEG)[0] == 409
