# SPDX-License-Identifier: Apache-2.0
"""The guard, one test an attack: each is refused before anything reaches the application."""

import socket
import time
from collections.abc import Iterator

import pytest
from websockets.exceptions import InvalidStatus
from websockets.sync.client import connect

from sumpwright.web.guard import ELSEWHERE, NO_TOKEN, cookie_name
from tests.web.served import TOKEN, Site, guarded_site, read_all


@pytest.fixture(scope="module")
def running_site() -> Iterator[Site]:
    with guarded_site() as site:
        yield site


@pytest.fixture
def site(running_site: Site) -> Site:
    running_site.reached.clear()
    return running_site


def refused(site: Site, status: int, path: str, method: str = "GET", **headers: str | None) -> str:
    answer = site.ask(path, method, **headers)
    assert answer.status_code == status, answer.text
    assert site.reached == []
    return answer.text


def test_what_the_page_itself_asks_comes_through(site: Site) -> None:
    assert site.ask("/api/state").json() == {"had": 0}
    assert site.ask("/api/set", "POST").json() == {"had": 0}
    assert site.ask("/api/work/1", "DELETE").status_code == 200
    named = f"localhost:{site.port}"
    origin = f"http://{named}"
    assert site.ask("/api/set", "POST", host=named, origin=origin).status_code == 200
    assert len(site.reached) == 4


# --- a name of a stranger that was turned to this machine (DNS rebinding) ---


@pytest.mark.parametrize(
    "host",
    [
        "evil.example:{port}",
        "evil.example",
        "127.0.0.1",
        "127.0.0.1:1",
        "127.0.0.1.evil.example:{port}",
        "localhost:{port}.evil.example",
        "user@127.0.0.1:{port}",
        "0.0.0.0:{port}",
        "127.1:{port}",
        "2130706433:{port}",
        "[::1]:{port}",
        "LOCALHOST:{port}",
        "",
    ],
)
def test_a_page_of_a_rebound_name_is_told_nothing(site: Site, host: str) -> None:
    name = host.format(port=site.port)
    for path in ("/", "/api/state", f"/open/{TOKEN}"):
        answer = site.ask(path, host=name)
        assert answer.status_code == 421
        assert "evil" not in answer.text
        assert TOKEN not in str(answer.headers)
    assert site.reached == []


def test_a_rebound_page_whose_origin_agrees_with_its_host_changes_nothing(site: Site) -> None:
    name = f"evil.example:{site.port}"
    refused(site, 421, "/api/set", "POST", host=name, origin=f"http://{name}")


def test_two_hosts_in_one_request_are_refused(site: Site) -> None:
    lines = f"GET / HTTP/1.1\r\nHost: {site.host}\r\nHost: evil.example\r\n\r\n"
    assert b" 400 " in site.raw(lines.encode()).splitlines()[0] + b" "
    assert site.reached == []


def test_a_request_without_a_host_is_refused(site: Site) -> None:
    lines = f"GET / HTTP/1.0\r\nCookie: {site.cookie}\r\n\r\n"
    assert b" 421 " in site.raw(lines.encode()).splitlines()[0]
    assert site.reached == []


def test_a_request_for_a_whole_address_is_refused(site: Site) -> None:
    line = f"GET http://evil.example/ HTTP/1.1\r\nHost: {site.host}\r\nCookie: {site.cookie}\r\n"
    assert b" 400 " in site.raw(line.encode() + b"Connection: close\r\n\r\n").splitlines()[0]
    assert site.reached == []


# --- another site's page that asks in the person's browser (cross-site request) ---


@pytest.mark.parametrize(
    "origin",
    [
        None,
        "null",
        "http://evil.example",
        "https://127.0.0.1:{port}",
        "http://127.0.0.1:1",
        "http://localhost:{port}",
        "http://127.0.0.1:{port}.evil.example",
        "http://127.0.0.1:{port}/",
    ],
)
@pytest.mark.parametrize("method", ["POST", "DELETE"])
def test_a_change_asked_by_another_page_is_refused(
    site: Site, method: str, origin: str | None
) -> None:
    said = origin and origin.format(port=site.port)
    assert ELSEWHERE in refused(site, 403, "/api/set", method, origin=said)


@pytest.mark.parametrize("where", ["cross-site", "same-site", "none"])
def test_a_change_that_the_browser_calls_another_page_s_is_refused(site: Site, where: str) -> None:
    refused(site, 403, "/api/set", "POST", sec_fetch_site=where)


@pytest.mark.parametrize("where", ["cross-site", "same-site"])
def test_a_picture_or_script_tag_of_another_page_gets_nothing(site: Site, where: str) -> None:
    refused(site, 403, "/api/log?name=tests/day.csv", sec_fetch_site=where)


def test_another_page_s_fetch_gets_nothing_and_no_leave_to_read(site: Site) -> None:
    answer = site.ask("/api/state", origin="http://evil.example")
    assert answer.status_code == 403
    assert not [name for name in answer.headers if name.startswith("access-control")]
    asked_first = site.ask("/api/set", "OPTIONS", origin="http://evil.example")
    assert asked_first.status_code == 405
    assert not [name for name in asked_first.headers if name.startswith("access-control")]
    assert site.reached == []


@pytest.mark.parametrize("method", ["PUT", "PATCH", "TRACE", "PROPFIND"])
def test_methods_that_no_route_has_are_refused(site: Site, method: str) -> None:
    refused(site, 405, "/api/set", method)


# --- another site's page that opens the line (cross-site WebSocket) ---


def opened(site: Site, **headers: str) -> str:
    origin = headers.pop("origin", site.origin)
    more = {"Cookie": site.cookie} | {k.replace("_", "-"): v for k, v in headers.items()}
    way = f"ws://{site.host}/api/live"
    with connect(way, origin=origin or None, additional_headers=more, proxy=None) as line:  # type: ignore[arg-type]
        line.send("hello")
        return str(line.recv(timeout=10))


def test_the_page_s_own_line_is_opened(site: Site) -> None:
    assert opened(site) == '{"said": "hello"}'
    assert opened(site, Sec_Fetch_Site="same-origin") == '{"said": "hello"}'


@pytest.mark.parametrize(
    "headers",
    [
        {"origin": "http://evil.example"},
        {"origin": "null"},
        {"origin": ""},
        {"Sec_Fetch_Site": "cross-site"},
        {"Sec_Fetch_Site": "same-site"},
        {"Cookie": "sumpwright=x"},
        {"Cookie": "{name}=" + "u" * 43},
    ],
)
def test_a_line_that_another_page_opens_is_refused(site: Site, headers: dict[str, str]) -> None:
    named = {k: v.format(name=cookie_name(site.port)) for k, v in headers.items()}
    with pytest.raises(InvalidStatus, match="403"):
        opened(site, **named)
    assert site.reached == []


def test_a_line_by_a_rebound_name_is_refused(site: Site) -> None:
    lines = (
        f"GET /api/live HTTP/1.1\r\nHost: evil.example:{site.port}\r\nUpgrade: websocket\r\n"
        f"Connection: Upgrade\r\nSec-WebSocket-Key: dGhlIHNhbXBsZSBub25jZQ==\r\n"
        f"Sec-WebSocket-Version: 13\r\nOrigin: http://evil.example:{site.port}\r\n"
        f"Cookie: {site.cookie}\r\n\r\n"
    )
    assert b" 403 " in site.raw(lines.encode()).splitlines()[0]
    assert site.reached == []


def test_a_huge_message_ends_its_own_line_and_no_other(site: Site) -> None:
    headers = {"Cookie": site.cookie}
    way = f"ws://{site.host}/api/live"
    with connect(way, origin=site.origin, additional_headers=headers, proxy=None) as line:  # type: ignore[arg-type]
        line.send("x" * 200_000)
        with pytest.raises(Exception, match=r"1009|closed"):
            line.recv(timeout=10)
    assert opened(site) == '{"said": "hello"}'


# --- no token, or a wrong one ---


@pytest.mark.parametrize(
    "cookie",
    [
        None,
        "",
        "{name}=",
        "{name}=" + "t" * 42,
        "{name}=" + "t" * 44,
        "{name}=" + "T" * 43,
        "x{name}=" + TOKEN,
        "sumpwright-1=" + TOKEN,
        "{name}=\xfc",
    ],
)
def test_a_person_without_the_token_is_told_how_to_get_in(site: Site, cookie: str | None) -> None:
    held = cookie and cookie.format(name=cookie_name(site.port))
    sent = {} if held is None else {"cookie": held.encode("latin-1")}
    page = refused(site, 403, "/", cookie=sent.get("cookie"))  # type: ignore[arg-type]
    assert NO_TOKEN in page
    assert page.startswith("<!doctype html>")
    api = site.ask("/api/state", cookie=sent.get("cookie"))  # type: ignore[arg-type]
    assert api.json() == {"error": NO_TOKEN}


def test_a_cookie_that_another_program_set_beside_ours_shuts_nobody_out(site: Site) -> None:
    name = cookie_name(site.port)
    assert site.ask("/", cookie=f"{name}=planted; a=b; {site.cookie}").status_code == 200


def test_the_address_with_the_token_sets_the_cookie_and_leads_to_the_page(site: Site) -> None:
    answer = site.ask(f"/open/{TOKEN}", cookie=None)
    assert (answer.status_code, answer.headers["location"]) == (303, "/")
    parts = {p.strip().lower() for p in answer.headers["set-cookie"].split(";")}
    assert parts == {site.cookie.lower(), "path=/", "httponly", "samesite=strict"}
    assert answer.headers["referrer-policy"] == "no-referrer"


def test_followed_from_a_mail_the_address_leads_on_by_a_page_of_its_own(site: Site) -> None:
    # a redirection counts as the other site's, and the strict cookie would stay behind
    answer = site.ask(f"/open/{TOKEN}", cookie=None, sec_fetch_site="cross-site")
    assert answer.status_code == 200
    assert '<meta http-equiv="refresh" content="0;url=/">' in answer.text
    assert site.cookie in answer.headers["set-cookie"]


@pytest.mark.parametrize("token", ["", "u" * 43, TOKEN[:-1], TOKEN + "t", f"{TOKEN}/", "%00", "ü"])
def test_an_address_with_a_wrong_token_opens_nothing(site: Site, token: str) -> None:
    answer = site.ask(f"/open/{token}", cookie=None)
    assert answer.status_code in (400, 403)
    assert "set-cookie" not in answer.headers


def test_the_token_is_compared_in_a_time_that_tells_nothing(
    site: Site, monkeypatch: pytest.MonkeyPatch
) -> None:
    asked: list[tuple[bytes, bytes]] = []
    compare = __import__("hmac").compare_digest
    monkeypatch.setattr(
        "sumpwright.web.guard.secrets.compare_digest",
        lambda a, b: asked.append((a, b)) or compare(a, b),
    )
    site.ask("/api/state")
    assert asked == [(TOKEN.encode(), TOKEN.encode())]


# --- too much, too long, too slow ---


def test_a_body_that_says_it_is_too_large_is_not_read(site: Site) -> None:
    head = f"POST /api/set HTTP/1.1\r\nHost: {site.host}\r\nCookie: {site.cookie}\r\n"
    head += f"Origin: {site.origin}\r\nContent-Length: {2**20 + 1}\r\n\r\n"
    with socket.create_connection(("127.0.0.1", site.port), timeout=5) as line:
        line.sendall(head.encode())
        said = b""
        while b"MiB" not in said and (piece := line.recv(65536)):
            said += piece
    assert b" 413 " in said
    assert b"at most 1 MiB" in said
    assert site.reached == []


def test_a_body_that_does_not_say_how_large_it_is_is_cut_off(site: Site) -> None:
    head = f"POST /api/set HTTP/1.1\r\nHost: {site.host}\r\nCookie: {site.cookie}\r\n"
    head += f"Origin: {site.origin}\r\nTransfer-Encoding: chunked\r\n\r\n"
    chunk = b"10000\r\n" + b"x" * 65536 + b"\r\n"
    with socket.create_connection(("127.0.0.1", site.port), timeout=10) as line:
        line.sendall(head.encode())
        try:
            for _ in range(64):
                line.sendall(chunk)
            line.sendall(b"0\r\n\r\n")
        except ConnectionError:
            pass
        said = read_all(line)
    assert b" 413 " in said or said == b""  # reset while still sending
    time.sleep(0.2)
    assert site.reached == ["left"]


@pytest.mark.parametrize("length", ["-1", "x", "1e3", "9" * 30])
def test_a_length_that_is_none_is_refused(site: Site, length: str) -> None:
    head = f"POST /api/set HTTP/1.1\r\nHost: {site.host}\r\nCookie: {site.cookie}\r\n"
    head += f"Origin: {site.origin}\r\nContent-Length: {length}\r\nConnection: close\r\n\r\n"
    assert site.raw(head.encode()).split(b" ")[1] in (b"400", b"413")
    assert site.reached == []


def test_an_upload_may_be_as_large_as_the_largest_file_that_is_read(site: Site) -> None:
    for size, status in ((2**30, b"100"), (2**30 + 1, b"413")):
        head = f"POST /api/upload?as=log HTTP/1.1\r\nHost: {site.host}\r\nCookie: {site.cookie}\r\n"
        head += f"Origin: {site.origin}\r\nContent-Length: {size}\r\nExpect: 100-continue\r\n\r\n"
        with socket.create_connection(("127.0.0.1", site.port), timeout=5) as line:
            line.sendall(head.encode())
            assert line.recv(65536).split(b" ")[1] == status


def test_headers_that_are_too_many_or_too_large_are_refused(site: Site) -> None:
    refused(site, 431, "/", x_filler="x" * 40_000)
    many = {f"x_{k}": "1" for k in range(120)}
    refused(site, 431, "/", **many)
    assert b" 400 " in site.raw(b"GET / HTTP/1.1\r\nX: " + b"x" * 300_000).splitlines()[0]


def test_an_address_that_is_too_long_or_odd_is_refused(site: Site) -> None:
    refused(site, 414, "/?" + "x" * 9000)
    for path in ("/..%2f..%2fetc/passwd", "/a/%2e%2e/b", "/a%5Cb", "/a%00b", "/%0d%0aX: 1"):
        refused(site, 400, path)


def test_a_person_who_leaves_in_the_middle_is_no_fault_of_the_server(
    site: Site, caplog: pytest.LogCaptureFixture
) -> None:
    head = f"POST /api/set HTTP/1.1\r\nHost: {site.host}\r\nCookie: {site.cookie}\r\n"
    head += f"Origin: {site.origin}\r\nContent-Length: 100\r\n\r\n"
    with socket.create_connection(("127.0.0.1", site.port), timeout=5) as line:
        line.sendall(head.encode() + b"only this")
        time.sleep(0.2)
    time.sleep(0.3)
    assert site.reached == ["left"]
    assert caplog.records == []


def test_a_body_that_never_comes_is_given_up() -> None:
    with guarded_site(patience=0.3) as site:
        head = f"POST /api/set HTTP/1.1\r\nHost: {site.host}\r\nCookie: {site.cookie}\r\n"
        head += f"Origin: {site.origin}\r\nContent-Length: 100\r\n\r\nonly this"
        begun = time.monotonic()
        said = site.raw(head.encode())
        assert b" 408 " in said.splitlines()[0]
        assert time.monotonic() - begun < 5.0
        assert site.reached == ["left"]


def test_a_head_that_never_ends_is_given_up() -> None:
    with guarded_site(head_time=0.3) as site:
        begun = time.monotonic()
        with socket.create_connection(("127.0.0.1", site.port), timeout=10) as line:
            try:
                for letter in b"GET / HTTP/1.1\r\nHost: x":
                    line.sendall(bytes([letter]))
                    time.sleep(0.1)
            except ConnectionError:
                pass
            read_all(line)
        assert time.monotonic() - begun < 5.0
        assert site.ask("/api/state").status_code == 200


def test_a_line_that_dribbles_between_two_requests_is_given_up() -> None:
    with guarded_site(head_time=0.3) as site:
        whole = f"GET /api/state HTTP/1.1\r\nHost: {site.host}\r\nCookie: {site.cookie}\r\n\r\n"
        with socket.create_connection(("127.0.0.1", site.port), timeout=10) as line:
            line.sendall(whole.encode())
            assert b" 200 " in line.recv(65536)
            begun = time.monotonic()
            line.sendall(b"GET / HT")
            read_all(line)
            assert time.monotonic() - begun < 3.0


# --- what a browser is told ---


def test_every_answer_carries_the_headers_that_bind_the_browser(site: Site) -> None:
    for path, cookie in (("/", site.cookie), ("/", ""), ("/api/state", site.cookie)):
        headers = site.ask(path, cookie=cookie).headers
        policy = dict(
            p.strip().split(" ", 1) for p in headers["content-security-policy"].split(";")
        )
        assert policy["default-src"] == "'none'"
        assert policy["script-src"] == policy["style-src"] == policy["frame-src"] == "'self'"
        assert policy["connect-src"] == f"'self' ws://{site.host}"
        assert policy["frame-ancestors"] == "'self'"  # nobody else may frame it
        assert policy["base-uri"] == policy["form-action"] == "'none'"
        assert headers["x-frame-options"] == "SAMEORIGIN"
        assert headers["x-content-type-options"] == "nosniff"
        assert headers["referrer-policy"] == "no-referrer"
        assert headers["cross-origin-opener-policy"] == "same-origin"
        assert headers["cross-origin-resource-policy"] == "same-origin"
        assert headers["cache-control"] == "no-store"
        assert "server" not in headers


def test_a_route_may_narrow_its_policy_and_loosen_nothing_that_is_forced(site: Site) -> None:
    headers = site.ask("/narrow").headers
    assert headers["content-security-policy"] == "sandbox"
    assert headers.get_list("x-frame-options") == ["SAMEORIGIN"]


def test_only_parts_of_the_page_that_never_change_are_kept_by_the_browser(site: Site) -> None:
    assert "immutable" in site.ask("/assets/index-3f.js").headers["cache-control"]
    for path, cookie in (("/api/answer/1", site.cookie), ("/assets/index-3f.js", "")):
        assert site.ask(path, cookie=cookie).headers["cache-control"] == "no-store"
