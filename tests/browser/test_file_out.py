# SPDX-License-Identifier: Apache-2.0
"""A hostile page in out/, in a real browser: it is shown, and reaches nothing."""

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from starlette.responses import HTMLResponse, JSONResponse
from starlette.routing import Route

from sumpwright.report.film_player import script_of
from sumpwright.web import file_out
from tests.web.served import TOKEN, Site, guarded_site, job_app

HOSTILE = """<!doctype html><body><p id="said">a report</p>
<img src="/api/state"><img src="http://127.0.0.1:9/x.png"><iframe src="/api/state"></iframe>
<form id="f" action="/api/set" method="post" target="_top"><input name="k"></form>
<p id="style" style="color: rgb(1, 2, 3)">kept</p>
<script>
const tried = {};
async function run() {
  tried.origin = self.origin;
  const attempt = async (name, what) => {
    try { tried[name] = String(await what()); } catch (err) { tried[name] = "no: " + err.name; }
  };
  await attempt("fetch", () => fetch("/api/state", {credentials: "include"}));
  await attempt("post", () => fetch("/api/set", {method: "POST", mode: "no-cors", body: "{}"}));
  await attempt("beacon", () => navigator.sendBeacon("/api/set", "{}"));
  await attempt("socket", () => new Promise((yes, no) => {
    const s = new WebSocket("ws://" + location.host + "/api/live");
    s.onopen = () => yes("open"); s.onerror = () => no(new Error("shut"));
  }));
  await attempt("cookie", () => document.cookie);
  await attempt("store", () => localStorage.length);
  if (top !== self) {  // a tab of its own may always go elsewhere itself
    await attempt("parent", () => parent.document.body.innerHTML);
    await attempt("top", () => { top.location = "http://127.0.0.1:9/"; return "moved"; });
  }
  await attempt("form", () => { document.getElementById("f").submit(); return "sent"; });
  await attempt("popup", () => { if (!window.open("/")) throw new Error("none"); return "open"; });
  document.getElementById("said").textContent = JSON.stringify(tried);
}
run();
</script></body>"""


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    (tmp_path / "out").mkdir()
    (tmp_path / "out" / "report.html").write_text(HOSTILE, encoding="utf-8")
    return tmp_path


@pytest.fixture
def site(folder: Path) -> Iterator[Site]:
    reached: list[str] = []

    async def page(_request: Any) -> HTMLResponse:
        return HTMLResponse('<iframe id="i" src="/api/out/report.html"></iframe>')

    async def told(request: Any) -> JSONResponse:
        if request.url.path != "/favicon.ico":  # which the browser itself asks for
            reached.append(f"{request.method} {request.url.path}")
        return JSONResponse({})

    routes: list[Any] = [*file_out.ROUTES, Route("/", page)]
    routes.append(Route("/{rest:path}", told, methods=["GET", "POST"]))
    with guarded_site(app=job_app(routes, folder)) as site:
        site.reached = reached
        yield site


def opened(chromium: Any, site: Site, path: str = "/") -> Any:
    page = chromium.new_context().new_page()
    page.goto(f"{site.origin}/open/{TOKEN}")
    if path != "/":
        page.goto(f"{site.origin}{path}")
    return page


def test_a_report_is_shown_in_a_frame_with_its_styles_and_without_its_script(
    chromium: Any, site: Site
) -> None:
    page = opened(chromium, site)
    frame = page.frame_locator("#i")
    assert frame.locator("#said").inner_text() == "a report"
    assert frame.locator("#style").evaluate("e => getComputedStyle(e).color") == "rgb(1, 2, 3)"
    page.wait_for_timeout(300)
    assert site.reached == []


def test_a_report_in_a_tab_of_its_own_is_shown_too(chromium: Any, site: Site) -> None:
    page = opened(chromium, site, "/api/out/report.html")
    assert page.locator("#said").inner_text() == "a report"
    assert site.reached == []


@pytest.mark.parametrize("where", ["/", "/api/out/report.html"])
def test_even_a_script_that_runs_in_a_report_reaches_nothing(
    chromium: Any, site: Site, monkeypatch: pytest.MonkeyPatch, where: str
) -> None:
    policy = file_out.policy_of(".html")
    own = next(p for p in policy.split("; ") if p.startswith("script-src"))
    loose = policy.replace(own, "script-src 'unsafe-inline'")  # as if its hash were found
    monkeypatch.setattr(file_out, "policy_of", lambda _suffix: loose)
    page = opened(chromium, site, where)
    inner = next(f for f in page.frames if f.url.endswith("report.html"))
    inner.wait_for_function("document.getElementById('said').textContent.startsWith('{')")
    said = inner.evaluate("tried")
    assert said["origin"] == "null"
    for way in ("fetch", "post", "socket", "cookie", "store", "popup"):
        assert said[way].startswith("no: "), (way, said)
    if where == "/":
        assert said["parent"].startswith("no: ")
        assert said["top"].startswith("no: ")
    page.wait_for_timeout(500)
    assert site.reached == []
    if where == "/":
        assert page.url == f"{site.origin}/"


def test_the_film_player_s_script_runs_in_a_report(chromium: Any, site: Site, folder: Path) -> None:
    text = f"<!doctype html><body><script>{script_of()}</script></body>"
    (folder / "out" / "report.html").write_text(text, encoding="utf-8")
    said: list[str] = []
    page = chromium.new_context().new_page()
    page.on("pageerror", lambda err: said.append(str(err)))
    page.goto(f"{site.origin}/open/{TOKEN}")
    page.wait_for_timeout(300)
    # there is no film in this page: the script stumbles over that, so it ran
    assert [err for err in said if "film" in err or "null" in err]


def test_a_page_of_another_port_of_this_machine_can_neither_frame_nor_read(
    chromium: Any, site: Site
) -> None:
    async def evil(_request: Any) -> HTMLResponse:
        page = (
            f'<iframe id="i" src="{site.origin}/"></iframe><img src="{site.origin}/api/state">'
            f"<script>fetch('{site.origin}/api/state', {{credentials: 'include'}})"
            ".then(a => a.text(), e => 'no').then(t => { window.got = t; });"
            f"fetch('{site.origin}/api/set', {{method: 'POST', mode: 'no-cors', "
            "credentials: 'include', body: '{}'});"
            f"const s = new WebSocket('ws://{site.host}/api/live');"
            "s.onopen = () => { window.line = 'open'; }; s.onerror = () => { window.line = 'no'; };"
            "</script>"
        )
        return HTMLResponse(page)

    import socket

    from starlette.applications import Starlette

    from tests.web.served import running

    with socket.socket() as line:
        line.bind(("127.0.0.1", 0))
        where = f"http://127.0.0.1:{line.getsockname()[1]}/"
        with running(Starlette(routes=[Route("/", evil)]), line):
            page = opened(chromium, site)  # the cookie is there, and strict says the same site
            site.reached.clear()
            page.goto(where)
            page.wait_for_function("window.got !== undefined && window.line !== undefined")
            page.wait_for_timeout(300)
            assert page.evaluate("[window.got, window.line]") == ["no", "no"]
            assert not [f for f in page.frames if f.url.startswith(site.origin)]
    assert site.reached == []
