# SPDX-License-Identifier: Apache-2.0
"""`sumpwright open` as a process: its address, its lock, a second one, and how it ends."""

import json
import os
import re
import shutil
import signal
import socket
import subprocess
import sys
import threading
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress
from dataclasses import asdict
from http.server import BaseHTTPRequestHandler, HTTPServer
from pathlib import Path
from typing import Any

import httpx
import pytest

from sumpwright.errors import InputError
from sumpwright.web import lock, serve
from sumpwright.web.front import Front
from tests.web.served import TOKEN

pytestmark = pytest.mark.slow  # whole processes

DEMO = Path(__file__).parents[2] / "examples" / "demo-a"
ADDRESS = re.compile(r"http://127\.0\.0\.1:(\d+)/open/([\w-]+)")
RUN = (sys.executable, "-c", "from sumpwright.cli.main import run; run()", "open")
SEEN = """\
#!{python}
import sys
open({path!r}, "a").write(sys.argv[1] + "\\n")
"""


class Opened:
    """An `open` that runs."""

    def __init__(self, *words: str, browser: Path | None = None) -> None:
        env = {k: v for k, v in os.environ.items() if k not in ("DISPLAY", "WAYLAND_DISPLAY")}
        env["BROWSER"] = f"{browser} %s" if browser else ""
        self.said: list[str] = []
        self.process = subprocess.Popen(
            [*RUN, *words], env=env, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True
        )
        self._listening = threading.Thread(target=self._listen, daemon=True)
        self._listening.start()

    def _listen(self) -> None:
        assert self.process.stdout is not None
        with self.process.stdout as lines:
            for line in lines:
                self.said.append(line)

    @property
    def text(self) -> str:
        return "".join(self.said)

    def address(self) -> str:
        end = time.monotonic() + 60.0
        while not (found := ADDRESS.search(self.text)):
            assert self.process.poll() is None, self.text
            assert time.monotonic() < end, self.text
            time.sleep(0.05)
        return found[0]

    def ended(self, number: int = signal.SIGINT) -> int:
        self.process.send_signal(number)
        status = self.process.wait(30)
        self._listening.join(10)
        return status


@contextmanager
def opened(*words: str, browser: Path | None = None) -> Iterator[Opened]:
    process = Opened(*words, browser=browser)
    try:
        yield process
    finally:
        process.ended(signal.SIGKILL)


def children_of(pid: int) -> list[int]:
    """Processes that it started, from /proc."""
    found = []
    for stat in Path("/proc").glob("[0-9]*/stat"):
        try:
            parent = stat.read_text().rsplit(")", 1)[1].split()[1]
        except (OSError, IndexError):
            continue
        if int(parent) == pid:
            found.append(int(stat.parent.name))
    return found


def gone(pids: list[int]) -> bool:
    end = time.monotonic() + 15.0
    while time.monotonic() < end:
        if not any(Path(f"/proc/{pid}").exists() for pid in pids):
            return True
        time.sleep(0.1)
    return False


@pytest.fixture
def job(warm: Callable[[str], Path], tmp_path: Path) -> Path:
    shutil.copytree(warm("demo-a"), tmp_path / "my-pan")
    return tmp_path / "my-pan"


@pytest.fixture
def browser(tmp_path: Path) -> Path:
    """A browser that writes down what it is asked to show."""
    path = tmp_path / "browser"
    seen = str(tmp_path / "seen")
    path.write_text(SEEN.format(python=sys.executable, path=seen), encoding="utf-8")
    path.chmod(0o755)
    return path


def shown(job: Path, count: int) -> list[str]:
    """What the browser was asked to show, once it was asked `count` times."""
    seen, end = job.parent / "seen", time.monotonic() + 30.0
    while time.monotonic() < end:
        lines = seen.read_text().splitlines() if seen.exists() else []
        if len(lines) >= count:
            return lines
        time.sleep(0.1)
    raise AssertionError("nothing was shown")


def asked(way: str) -> httpx.Response:
    with httpx.Client(trust_env=False, timeout=30.0) as client:
        return client.get(way)


def test_a_job_is_opened_shown_once_and_closed_with_all_its_workers(
    job: Path, browser: Path
) -> None:
    with opened(str(job), browser=browser) as first:
        address = first.address()
        held = lock.held(job)
        assert held is not None
        assert held.pid == first.process.pid
        assert address.startswith(f"http://127.0.0.1:{held.port}/")
        token = address.rpartition("/")[2]
        for text in (lock.lock_path(job).read_text(), str(shown(job, 1))):
            assert token not in text  # a list of processes, a shared drive
        (ticket,) = shown(job, 1)
        with httpx.Client(trust_env=False, timeout=60.0) as client:
            assert client.get(ticket).headers["location"] == "/"
            state = client.get(f"http://127.0.0.1:{held.port}/api/state").json()
        assert state["folder"] == str(job.resolve())
        assert asked(ticket).status_code == 403  # it was good for once
        assert asked(address).status_code == 303

        second = subprocess.run(
            [*RUN, str(job)], capture_output=True, text=True, timeout=60, check=False
        )
        assert second.returncode == 0
        said = f"my-pan is open already, in process {held.pid}: its page was shown again.\n"
        assert second.stdout == said
        assert len(set(shown(job, 2))) == 2
        quiet = subprocess.run(
            [*RUN, str(job), "--no-browser"],
            capture_output=True,
            text=True,
            timeout=60,
            check=False,
        )
        assert "use the address that was printed then" in quiet.stdout

        workers = children_of(first.process.pid)
        assert workers
        assert first.ended() == 0
        assert first.text.endswith("Closed. What was finished is kept in out/page.\n")
        assert "Traceback" not in first.text
        assert gone(workers)
    assert lock.held(job) is None


@pytest.mark.parametrize("number", [signal.SIGTERM, signal.SIGHUP])
def test_a_terminal_that_is_closed_ends_it_cleanly(job: Path, number: int) -> None:
    with opened(str(job), "--no-browser") as first:
        asked(first.address())
        assert first.ended(number) == 0
        assert lock.held(job) is None


def test_an_impatient_second_ctrl_c_ends_it_as_cleanly(job: Path) -> None:
    with opened(str(job), "--no-browser") as first:
        asked(first.address())
        workers = children_of(first.process.pid)
        for _ in range(3):
            first.process.send_signal(signal.SIGINT)
            time.sleep(0.02)
        assert first.ended() == 0
        assert "Traceback" not in first.text, first.text
        assert gone(workers)
    assert lock.held(job) is None


def test_an_answer_that_is_cut_off_by_the_end_is_no_fault(
    caplog: pytest.LogCaptureFixture,
) -> None:
    import asyncio

    from sumpwright.web.http_server import Server, server_config

    begun = threading.Event()

    async def app(scope: dict[str, str], receive: Any, send: Any) -> None:
        if scope["type"] == "lifespan":
            await receive()
            await send({"type": "lifespan.startup.complete"})
            await receive()
            await send({"type": "lifespan.shutdown.complete"})
            return
        begun.set()
        await asyncio.sleep(1000.0)

    with socket.socket() as line:
        line.bind(("127.0.0.1", 0))
        line.listen()
        port = line.getsockname()[1]
        server = Server(server_config(app, port))  # type: ignore[arg-type]
        serving = threading.Thread(target=lambda: asyncio.run(server.serve([line])))
        serving.start()
        with socket.create_connection(("127.0.0.1", port), timeout=10) as asking:
            asking.sendall(b"GET / HTTP/1.1\r\nHost: x\r\n\r\n")
            assert begun.wait(10)
            server.should_exit = True
            serving.join(20)
    assert not serving.is_alive()
    assert caplog.records == []


def test_one_that_was_killed_leaves_no_workers_and_no_obstacle(job: Path) -> None:
    with opened(str(job), "--no-browser") as first:
        asked(first.address())
        workers = children_of(first.process.pid)
        first.ended(signal.SIGKILL)
        assert gone(workers)
        stale = lock.held(job)
        assert stale is not None
        with opened(str(job), "--no-browser") as next_:
            assert asked(next_.address()).status_code == 303
            assert lock.held(job) != stale
            assert next_.ended() == 0


def test_without_a_screen_the_address_alone_is_said(job: Path) -> None:
    with opened(str(job)) as first:
        first.address()
        asked(first.address())
        assert "No screen was found" in first.text
        assert first.ended() == 0


def test_without_a_job_there_is_a_page_to_start_from() -> None:
    with opened("--no-browser") as first:
        with httpx.Client(trust_env=False, timeout=60.0) as client:
            client.get(first.address())
            port = ADDRESS.search(first.text)[1]  # type: ignore[index]
            state = client.get(f"http://127.0.0.1:{port}/api/state").json()
        assert state["folder"] is None
        assert first.text.startswith("The page to start from, for this machine alone:\n")


def test_a_job_opened_from_the_page_is_found_by_the_next_open(job: Path) -> None:
    with opened("--no-browser") as first:
        address = first.address()
        with httpx.Client(trust_env=False, timeout=60.0) as client:
            client.get(address)
            origin = address.partition("/open/")[0]
            way, sent = f"{origin}/api/start/open", {"folder": str(job)}
            state = client.post(way, json=sent, headers={"origin": origin}).json()
            assert state["folder"] == str(job.resolve())
        second = subprocess.run(
            [*RUN, str(job), "--no-browser"],
            capture_output=True,
            text=True,
            timeout=60,
            check=False,
        )
        assert f"is open already, in process {first.process.pid}" in second.stdout
        assert first.ended() == 0
    assert lock.held(job) is None


def test_a_dropped_file_is_told_as_the_doing_of_the_window_it_was_dropped_on(job: Path) -> None:
    from websockets.sync.client import connect

    told: list[dict[str, object]] = []
    with opened(str(job), "--no-browser") as first:
        address = first.address()
        origin = address.partition("/open/")[0]
        with httpx.Client(trust_env=False, timeout=120.0) as client:
            client.get(address)
            cookie = "; ".join(f"{k}={v}" for k, v in client.cookies.items())
            line = connect(
                origin.replace("http", "ws") + "/api/live",
                origin=origin,  # type: ignore[arg-type]
                additional_headers={"Cookie": cookie},
                proxy=None,
            )
            with line:
                data = (DEMO / "geometry" / "new-cavity.step").read_bytes()
                query = "as=geometry&name=other.step&key=new.cavity&window=mine"
                way = f"{origin}/api/upload?{query}"
                said = client.post(way, content=data, headers={"origin": origin}).json()
                assert said["name"] == "geometry/other.step"
                with suppress(TimeoutError):
                    while True:  # longer than the folder is looked at
                        told.append(json.loads(line.recv(timeout=3.0)))
        assert first.ended() == 0
    assert "cavity: geometry/other.step" in (job / "job.yaml").read_text("utf-8")
    assert [m["window"] for m in told if m["type"] == "job"] == ["mine"]


def test_a_port_that_is_taken_is_one_sentence(job: Path) -> None:
    with socket.socket() as other:
        other.bind(("127.0.0.1", 0))
        other.listen()
        port = str(other.getsockname()[1])
        done = subprocess.run(
            [*RUN, str(job), "--no-browser", "--port", port],
            capture_output=True,
            text=True,
            timeout=60,
            check=False,
        )
    assert done.returncode == 2
    assert f"found   {port}, which another program uses" in done.stderr
    assert "Traceback" not in done.stderr
    assert not lock.lock_path(job).exists()


@pytest.mark.parametrize("port", [-1, 65536, 10**9])
def test_a_port_that_is_none_is_refused(port: int) -> None:
    with pytest.raises(InputError, match="CLI-401"), serve._listening(port, None):
        pass


def test_the_same_job_has_the_same_port_and_another_where_that_is_taken(tmp_path: Path) -> None:
    with serve._listening(None, tmp_path) as one:
        usual = one.getsockname()
        with serve._listening(None, tmp_path) as two:
            assert two.getsockname()[1] != usual[1]
            assert two.getsockname()[0] == usual[0] == "127.0.0.1"  # and no other address
    with serve._listening(None, tmp_path) as again:
        assert again.getsockname() == usual


def test_a_folder_without_a_job_is_said_before_anything_is_opened(tmp_path: Path) -> None:
    with pytest.raises(InputError, match="JOB-111"):
        serve.open_page(tmp_path, port=None, show=False, say=lambda _text: None)
    assert list(tmp_path.iterdir()) == []


# --- the lock ---


def put(job: Path, **changed: object) -> None:
    path = lock.lock_path(job)
    path.parent.mkdir(parents=True, exist_ok=True)
    said = asdict(lock.of(job, lock.Lock(1, 1, "ab" * 16)))
    path.write_text(json.dumps(said | changed), encoding="utf-8")


@pytest.mark.parametrize(
    "text",
    [
        "",
        "{",
        "[]",
        "null",
        "{}",
        '{"pid": 1}',
        '{"pid": "1", "port": 80, "check": "abababab", "machine": "x"}',
        '{"pid": 1, "port": 0, "check": "abababab", "machine": "x"}',
        '{"pid": 1, "port": 99999999, "check": "abababab", "machine": "x"}',
        '{"pid": 1, "port": 80, "check": "../../x", "machine": "x"}',
        '{"pid": 1, "port": 80, "check": "ab\\r\\nX: 1", "machine": "x"}',
        '{"pid": 1, "port": 80, "check": "abababab", "machine": "x", "more": 1}',
        "[" * 3000,
    ],
)
def test_a_lock_that_cannot_be_read_is_no_lock_and_in_nobody_s_way(job: Path, text: str) -> None:
    put(job)
    here = json.dumps(os.path.realpath(job))
    whole = text.replace('"machine"', f'"folder": {here}, "machine"')
    lock.lock_path(job).write_text(whole, encoding="utf-8")
    assert lock.held(job) is None
    ours = lock.Lock(2, 2, "cd" * 16)
    assert lock.take(job, ours)
    assert lock.held(job) == lock.of(job, ours)


def test_a_lock_of_a_server_that_is_gone_or_elsewhere_is_stale(job: Path) -> None:
    with socket.socket() as free:
        free.bind(("127.0.0.1", 0))
        port = free.getsockname()[1]
    put(job, port=port)
    there = lock.held(job)
    assert there is not None
    assert not lock.answers(there)  # nobody listens
    put(job, machine="another-machine")
    elsewhere = lock.held(job)
    assert elsewhere is not None
    assert not lock.answers(elsewhere)


def test_another_program_on_that_port_is_not_taken_for_ours(job: Path) -> None:
    paths: list[str] = []

    class Other(BaseHTTPRequestHandler):
        def do_GET(self) -> None:
            paths.append(self.path)
            self.send_response(200)
            self.end_headers()

        def log_message(self, *_args: object) -> None:
            pass

    with HTTPServer(("127.0.0.1", 0), Other) as other:
        threading.Thread(target=other.serve_forever, daemon=True).start()
        put(job, port=other.server_port)
        there = lock.held(job)
        assert there is not None
        assert not lock.answers(there)
        other.shutdown()
    assert paths == [f"/here/{there.check}"]


def test_a_copy_of_an_open_job_is_a_job_of_its_own(job: Path) -> None:
    assert lock.take(job, lock.Lock(2, 2, "cd" * 16))
    copy = job.parent / "copy"
    shutil.copytree(job, copy)
    assert lock.held(copy) is None
    assert lock.take(copy, lock.Lock(3, 3, "ef" * 16))
    linked = job.parent / "linked"
    linked.symlink_to(job)
    assert lock.held(linked) == lock.held(job) is not None


def test_a_lock_is_let_go_by_its_owner_alone(job: Path) -> None:
    ours, theirs = lock.Lock(2, 2, "cd" * 16), lock.Lock(3, 3, "ef" * 16)
    assert lock.take(job, ours)
    assert not lock.take(job, theirs)
    lock.release(job, theirs)
    assert lock.held(job) == lock.of(job, ours)
    lock.release(job, ours)
    assert lock.held(job) is None


def test_a_folder_that_takes_no_file_has_no_lock_and_opens_all_the_same(tmp_path: Path) -> None:
    (tmp_path / "out").write_text("a file where a folder should be", encoding="utf-8")
    assert not lock.take(tmp_path, lock.Lock(2, 2, "cd" * 16))


# --- before the guard ---


def front(port: int = 5, show: bool = True) -> tuple[Front, list[str]]:
    reached: list[str] = []

    async def guarded(scope: dict[str, str], _receive: object, send: object) -> None:
        reached.append(scope["path"])
        await send({"type": "http.response.start", "status": 403, "headers": []})  # type: ignore[operator]
        await send({"type": "http.response.body", "body": b""})  # type: ignore[operator]

    made = Front(guarded, token=TOKEN, port=port, check="ab" * 16)  # type: ignore[arg-type]
    made.show = lambda: show
    return made, reached


def knocked(made: Front, way: str, method: str = "GET", **headers: str) -> int:
    import asyncio

    async def run() -> int:
        transport = httpx.ASGITransport(app=made)  # type: ignore[arg-type]
        named = {k.replace("_", "-"): v for k, v in {"host": "127.0.0.1:5", **headers}.items()}
        async with httpx.AsyncClient(transport=transport, base_url="http://127.0.0.1:5") as client:
            return (await client.request(method, way, headers=named)).status_code

    return asyncio.run(run())


def test_a_second_open_is_answered_and_shows_the_page() -> None:
    made, reached = front()
    assert knocked(made, "/here/" + "ab" * 16) == 204
    assert knocked(made, "/here/" + "ab" * 16, "POST") == 200
    assert knocked(front(show=False)[0], "/here/" + "ab" * 16, "POST") == 204
    assert reached == []


@pytest.mark.parametrize(
    "headers",
    [
        {"origin": "http://evil.example"},
        {"origin": "http://127.0.0.1:5"},
        {"sec_fetch_site": "cross-site"},
        {"sec_fetch_mode": "no-cors"},
        {"host": "evil.example:5"},
    ],
)
def test_no_page_in_a_browser_knocks(headers: dict[str, str]) -> None:
    made, reached = front()
    assert knocked(made, "/here/" + "ab" * 16, "POST", **headers) == 403
    assert reached == ["/here/" + "ab" * 16]  # the guard's to refuse


def test_a_wrong_check_or_method_is_the_guard_s_to_refuse() -> None:
    made, _ = front()
    for way, method in (("/here/" + "ac" * 16, "GET"), ("/here/", "GET"), ("/here/x", "POST")):
        assert knocked(made, way, method) == 403
    assert knocked(made, "/here/" + "ab" * 16, "DELETE") == 403


def test_a_ticket_is_good_for_once_and_a_while(monkeypatch: pytest.MonkeyPatch) -> None:
    made, reached = front()
    one, two, late = made.ticket(), made.ticket(), made.ticket()
    assert len({one, two, late, TOKEN}) == 4
    knocked(made, f"/open/{one}")
    knocked(made, f"/open/{one}")
    knocked(made, f"/open/{two}", "POST")
    assert reached == [f"/open/{TOKEN}", f"/open/{one}", f"/open/{two}"]
    now = time.monotonic()
    monkeypatch.setattr("sumpwright.web.front.monotonic", lambda: now + 1000.0)
    knocked(made, f"/open/{late}")
    assert reached[-1] == f"/open/{late}"


def test_showing_again_and_again_shows_once() -> None:
    made, _ = front()
    count: list[int] = []
    made.show = lambda: bool(count.append(1)) or True
    for _ in range(5):
        assert knocked(made, "/here/" + "ab" * 16, "POST") == 200
    assert len(count) == 1


def test_the_page_comes_while_the_job_is_read_and_its_answers_wait() -> None:
    import asyncio

    order: list[str] = []

    async def app(scope: dict[str, str], _receive: object, _send: object) -> None:
        order.append(scope.get("path", scope["type"]))

    async def run() -> None:
        opened_job = asyncio.Event()
        held = serve._held(app, opened_job)  # type: ignore[arg-type]
        scopes = ({"type": "lifespan"}, {"type": "http", "path": "/"})
        late = ({"type": "http", "path": "/api/state"}, {"type": "websocket", "path": "/api/live"})
        asking = [asyncio.create_task(held(s, None, None)) for s in (*late, *scopes)]  # type: ignore[arg-type]
        await asyncio.sleep(0.05)
        assert order == ["lifespan", "/"]
        opened_job.set()
        await asyncio.gather(*asking)

    asyncio.run(run())
    assert order[2:] == ["/api/state", "/api/live"]
