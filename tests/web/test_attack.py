# SPDX-License-Identifier: Apache-2.0
"""The whole server, as it is opened, under attack from a page that has the token already.

What a person drops, types or is mailed may be hostile too: nothing outside the job is shown or
written, nothing in it runs, and the server goes on.
"""

import json
import shutil
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import httpx
import pytest

from tests.web.test_serve import ADDRESS, DEMO, Opened, opened

pytestmark = pytest.mark.slow  # a whole server, and a browser

SECRET = "kept from everybody"


class Page:
    """A job that is open, and what the page may ask of it."""

    def __init__(self, process: Opened, job: Path) -> None:
        self.job, self.process = job, process
        address = process.address()
        port = ADDRESS.fullmatch(address)[1]  # type: ignore[index]
        self.way = f"http://127.0.0.1:{port}"
        self.client = httpx.Client(
            base_url=self.way, headers={"origin": self.way}, trust_env=False, timeout=120.0
        )
        self.client.get(address)

    def posted(self, path: str, body: Any) -> httpx.Response:
        return self.client.post(path, json=body)

    def worked(self, question: str, args: dict[str, Any]) -> dict[str, Any]:
        """What came of a question, once it is at an end."""
        import time

        work = self.posted("/api/ask", {"question": question, "args": args}).json()
        end = time.monotonic() + 120.0
        while work.get("state") in ("waiting", "running") and time.monotonic() < end:
            time.sleep(0.2)
            every = self.client.get("/api/state").json()["work"]
            work = next(w for w in every if w["id"] == work["id"])
        return dict(work)


@pytest.fixture(scope="module")
def page(warm: Callable[[str], Path], tmp_path_factory: pytest.TempPathFactory) -> Iterator[Page]:
    folder = tmp_path_factory.mktemp("attack")
    job = folder / "my-pan"
    shutil.copytree(warm("demo-a"), job)
    for name in ("secret.step", "secret.csv", "secret.txt"):
        (folder / name).write_text(f"{SECRET}\n", encoding="utf-8")
    shutil.copy(DEMO / "geometry" / "pickup-tube.step", folder / "outside.step")
    (job / "geometry" / "linked.step").symlink_to(folder / "outside.step")
    (job / "tests" / "linked.csv").symlink_to(folder / "secret.csv")
    (job / "up").symlink_to(folder)
    with opened(str(job), "--no-browser") as process:
        made = Page(process, job)
        yield made
        made.client.close()
        assert process.process.poll() is None, process.text  # it is still there after all this
        assert process.ended() == 0
        assert "Traceback" not in process.text, process.text


OUTSIDE = [
    "../outside.step",
    "geometry/../../outside.step",
    "./../outside.step",
    "up/outside.step",
    "geometry/linked.step",
    "/etc/passwd",
    "/tmp/x.step",
    "//server/share/pan.step",
    "\\\\server\\share\\pan.step",
    "..\\outside.step",
    "C:\\pan.step",
    "C:pan.step",
    "file:///tmp/pan.step",
    "~/pan.step",
    "geometry/pan.step\x00.stl",
    "geometry/new-cavity.step/../../../outside.step",
]


@pytest.mark.parametrize("name", OUTSIDE)
def test_no_value_typed_makes_the_job_name_a_file_outside(page: Page, name: str) -> None:
    before = (page.job / "job.yaml").read_bytes()
    body = {"key": "new.cavity", "value": name, "before": "geometry/new-cavity.step", "window": "w"}
    answer = page.posted("/api/set", body)
    assert answer.status_code == 422, answer.text
    codes = {p["code"] for p in answer.json()["problems"]}
    assert codes & {"JOB-120", "JOB-121", "JOB-116", "SAVE-309"}, answer.text
    assert (page.job / "job.yaml").read_bytes() == before


@pytest.mark.parametrize("name", ["../outside.step", "up/outside.step", "geometry/linked.step"])
def test_a_job_that_came_with_a_path_outside_is_not_followed(page: Page, name: str) -> None:
    path = page.job / "job.yaml"
    before = path.read_text("utf-8")
    path.write_text(before.replace("geometry/new-cavity.step", name, 1), encoding="utf-8")
    try:
        scene = page.client.get("/api/scene?of=pan")
        assert scene.status_code == 422
        assert "JOB-120" in scene.text
    finally:
        path.write_text(before, encoding="utf-8")


READ = [
    "../secret.csv",
    "tests/../../secret.csv",
    "tests/linked.csv",
    "up/secret.csv",
    "/etc/passwd",
    "..%2fsecret.csv",
    "tests/%2e%2e/%2e%2e/secret.csv",
    "..\\secret.csv",
    "job.yaml",
    "tests",
    "tests/skidpad.csv\x00",
    "",
]


@pytest.mark.parametrize("name", READ)
@pytest.mark.parametrize("way", ["/api/log", "/api/photo"])
def test_no_name_of_a_log_or_photo_shows_another_file(page: Page, way: str, name: str) -> None:
    answer = page.client.get(way, params={"name": name})
    assert 400 <= answer.status_code < 500, answer.text
    assert SECRET not in answer.text
    assert "root:" not in answer.text


@pytest.mark.parametrize(
    "name", ["../secret.csv", "tests/linked.csv", "up/secret.csv", "/etc/passwd"]
)
def test_no_log_outside_is_read_for_an_answer(page: Page, name: str) -> None:
    work = page.worked("read", {"logs": [name], "prediction": False, "file": False})
    assert work["state"] == "failed"
    assert "is not a file of this job" in str(work["error"])
    assert SECRET not in json.dumps(work)


@pytest.mark.parametrize("name", ["../secret.csv", "/etc/passwd", "up/secret.csv"])
def test_no_trace_outside_is_driven(page: Page, name: str) -> None:
    work = page.worked("drive", {"manoeuvre": name})
    assert work["state"] == "failed"
    assert SECRET not in json.dumps(work)


@pytest.mark.parametrize(
    "path",
    [
        "/assets/..%2f..%2fapp.py",
        "/assets/%2e%2e/%2e%2e/app.py",
        "/assets//etc/passwd",
        "/assets/..%5c..%5capp.py",
        "/api/answer/..%2f..%2fjob.yaml",
        "/api/answer/" + "a" * 64,
        "/api/out/..%2fjob.yaml",
        "/app.py",
        "/static/index.html",
        "/job.yaml",
    ],
)
def test_no_address_shows_a_file_that_is_none_of_the_page(page: Page, path: str) -> None:
    raw = httpx.Request("GET", page.way + path)
    raw.headers["cookie"] = "; ".join(f"{k}={v}" for k, v in page.client.cookies.items())
    answer = page.client.send(raw)
    assert 400 <= answer.status_code < 500
    assert "import" not in answer.text
    assert "cavity" not in answer.text


BODIES = [
    b"",
    b"{",
    b"null",
    b"[]",
    b'"text"',
    b"1e999",
    b"NaN",
    b"[" * 100_000,
    b'{"a":' * 20_000,
    b"\xff\xfe",
    b'{"key": 5, "value": [], "before": {}, "window": 7}',
    b'{"key": "__class__.__init__", "value": "x", "before": null, "window": "w"}',
    b'{"key": "new.cavity.__dict__", "value": "x", "before": null, "window": "w"}',
    b'{"key": "..", "value": "x", "before": null, "window": "w"}',
    b'{"question": "__import__", "args": {}}',
    b'{"question": ["still"], "args": {}}',
    b'{"question": "read", "args": {"logs": {"x": 1}}}',
    b'{"question": "drive", "args": {"manoeuvre": ["x"], "oil": {}}}',
    b'{"question": "still", "args": "x"}',
    b'{"question": "print", "args": {"question": "../../x", "args": {}}}',
    b'{"folder": 5}',
    b'{"folder": "../../../x", "name": "x"}',
    b'{"kind": "teardown", "values": []}',
    b'{"key": "' + b"k." * 5000 + b'", "value": "1", "before": null, "window": "w"}',
]


@pytest.mark.parametrize("path", ["/api/set", "/api/ask", "/api/undo", "/api/start/new"])
@pytest.mark.parametrize("body", BODIES, ids=range(len(BODIES)))
def test_no_body_makes_the_server_stumble(page: Page, path: str, body: bytes) -> None:
    answer = page.client.post(path, content=body, headers={"content-type": "application/json"})
    assert answer.status_code < 500, answer.text
    assert "Traceback" not in answer.text
    assert page.client.get("/api/state").json()["folder"] == str(page.job.resolve())


def test_a_new_job_lands_nowhere_else(page: Page) -> None:
    for name in ("../x", "/tmp/x", "a/b", "..", "C:x", "\\\\a\\b", "NUL", ".."):
        answer = page.posted("/api/start/new", {"folder": name, "template": "minimal"})
        assert answer.status_code == 422, (name, answer.text)


def test_a_hostile_name_of_a_job_stays_text_in_the_page(page: Page) -> None:
    from playwright.sync_api import sync_playwright

    path = page.job / "job.yaml"
    before = path.read_text("utf-8")
    nasty = "\"'><img src=x onerror=window.hit=1><script>window.hit=1</script>"
    (page.job / "tests" / "<img src=x onerror=window.hit=1>.csv").write_bytes(
        (DEMO / "tests" / "skidpad.csv").read_bytes().replace(b"rpm", b"<b onclick=x>rpm", 1)
    )
    rows = [f"job: {json.dumps(nasty)}" if r.startswith("job:") else r for r in before.splitlines()]
    path.write_text("\n".join(rows) + "\n", encoding="utf-8")
    said: list[str] = []
    try:
        with sync_playwright() as play:
            chromium = play.chromium.launch(
                executable_path="/usr/bin/chromium", args=["--no-sandbox"]
            )
            tab = chromium.new_context().new_page()
            tab.on("console", lambda message: said.append(message.text))
            tab.goto(page.process.address())
            for sheet in ("numbers", "measure", "prove", "release"):
                tab.goto(f"{page.way}/#/{sheet}")
                tab.wait_for_timeout(1500)
                assert tab.evaluate("window.hit") is None
                assert tab.locator("img[src=x]").count() == 0
            assert "onerror=window.hit" in tab.locator("body").inner_text()
            chromium.close()
    finally:
        path.write_text(before, encoding="utf-8")
    assert not [text for text in said if "Content Security Policy" in text], said
