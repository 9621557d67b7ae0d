# SPDX-License-Identifier: Apache-2.0
"""The page of the demo job, as the command serves it: how soon it is there, how soon it answers.

The address is asked for over loopback as a browser does; painting itself needs a browser and is
measured with one where there is one.
"""

import json
import os
import re
import shutil
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

import httpx
from websockets.sync.client import connect

from bench.table import Row

DEMO = Path(__file__).parent.parent / "examples" / "demo-b"
FLAGS = ["--no-sandbox", "--disable-quic", "--no-first-run", "--use-angle=swiftshader"]


def rows() -> list[Row | tuple[str, str]]:
    """Start, first paint, tilt, edit to verdict, memory."""
    with tempfile.TemporaryDirectory() as scratch:
        job = Path(scratch) / "job"
        shutil.copytree(DEMO, job, ignore=shutil.ignore_patterns("out"))
        with _served(job) as (client, _, _):
            _asked(client, "check")  # fills the caches, as an earlier day did
        with _browser() as browser:
            began = time.perf_counter()
            with _served(job) as (_, address, _):
                listening = time.perf_counter() - began
                paint = _first_paint(browser, address, began)
        with _served(job) as (client, _, pid):
            _asked(client, "check")
            tilts = _tilts(client)
            edits = [_edit(client, fill) for fill in ("4.4 L", "4.3 L", "4.5 L")]
            resting = _memory(pid)
            _asked(client, "hold")
            working = _memory(pid)
    return [
        Row("page of the demo: from command to listening", listening),
        Row("  to the first sheet painted", paint, must=2.0),
        Row("tilt of the demo, round trip, middle of 100", statistics.median(tilts), must=0.03),
        Row("  slowest of 100", max(tilts)),
        Row("edit to static verdict, middle of 3", statistics.median(edits), must=1.0),
        ("memory of the server and its workers (must 0.6 GB)", f"{resting:.3f} GB"),
        ("  with long work just done", f"{working:.3f} GB"),
    ]


@contextmanager
def _served(job: Path) -> Iterator[tuple[httpx.Client, str, int]]:
    words = [sys.executable, "-m", "sumpwright", "open", str(job), "--no-browser"]
    process = subprocess.Popen(words, stdout=subprocess.PIPE, text=True)
    assert process.stdout is not None
    said = ""
    while "http" not in said:
        said = process.stdout.readline()
    address = re.search(r"http://\S+", said)[0]  # type: ignore[index]
    home = address.partition("/open/")[0]
    try:
        with httpx.Client(base_url=home, headers={"Origin": home}, timeout=300.0) as client:
            client.get(address)
            yield client, address, process.pid
    finally:
        process.send_signal(2)
        process.wait(30)
        process.stdout.close()


def _asked(client: httpx.Client, question: str) -> dict[str, Any]:
    work = client.post("/api/ask", json={"question": question, "args": {}}).json()
    while work["state"] in ("waiting", "running"):
        time.sleep(0.01)
        all_ = client.get("/api/state").json()["work"]
        work = next(w for w in all_ if w["id"] == work["id"])
    assert work["state"] == "done", work
    return dict(work)


def _tilts(client: httpx.Client) -> list[float]:
    cookie = "; ".join(f"{k}={v}" for k, v in client.cookies.items())
    home = str(client.base_url).rstrip("/")
    headers = {"Cookie": cookie, "Origin": home}
    taken = []
    with connect(home.replace("http", "ws") + "/api/live", additional_headers=headers) as line:
        for seq in range(110):
            ask = {"type": "tilt", "seq": seq, "ax": 0.3, "ay": 0.01 * seq, "mode": "settled"}
            began = time.perf_counter()
            line.send(json.dumps(ask))
            while json.loads(line.recv(60)).get("seq") != seq:
                pass
            taken.append(time.perf_counter() - began)
    return taken[10:]  # the first lay the pan out


def _edit(client: httpx.Client, fill: str) -> float:
    form = json.dumps(client.get("/api/form").json())
    before = re.search(r'"key": ?"oil\.fill".*?"typed": ?"([^"]*)"', form)
    assert before is not None
    body = {"key": "oil.fill", "value": fill, "before": before[1], "window": "bench"}
    began = time.perf_counter()
    client.post("/api/set", json=body).raise_for_status()
    _asked(client, "still")
    return time.perf_counter() - began


def _memory(pid: int) -> float:
    """Resident memory of a process and all under it [GB]."""
    total, todo = 0, [pid]
    while todo:
        one = todo.pop()
        total += int(Path(f"/proc/{one}/statm").read_text().split()[1]) * os.sysconf("SC_PAGESIZE")
        for task in Path(f"/proc/{one}/task").iterdir():
            todo += map(int, (task / "children").read_text().split())
    return total / 1e9


@contextmanager
def _browser() -> Iterator[Any]:
    """One that is running already, as a person's is; None where there is none."""
    found = shutil.which("chromium") or shutil.which("google-chrome")
    if found is None:
        yield None
        return
    from playwright.sync_api import sync_playwright

    with sync_playwright() as driver:
        browser = driver.chromium.launch(executable_path=found, args=FLAGS)
        yield browser
        browser.close()


def _first_paint(browser: Any, address: str, began: float) -> float:
    """Seconds from `began` to the first sheet's heading; nan without a browser."""
    if browser is None:
        return float("nan")
    page = browser.new_page()
    page.goto(address)
    page.wait_for_selector("main h1")
    taken = time.perf_counter() - began
    page.close()
    return taken
