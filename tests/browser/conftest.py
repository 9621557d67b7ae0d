# SPDX-License-Identifier: Apache-2.0
"""The page in a real browser, served by the command that a person gives."""

import os
import re
import shutil
import subprocess
import sys
import time
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest

DEMO = Path(__file__).parents[2] / "examples"
FLAGS = [
    "--no-sandbox",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
    "--use-angle=swiftshader",
    "--enable-unsafe-swiftshader",
]
SHOTS = Path(__file__).parents[2] / "out" / "browser"
"""Screenshots of every page, to be looked at."""
LAPTOP, TABLET = {"width": 1366, "height": 768}, {"width": 768, "height": 1024}


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """A browser takes seconds: none of it belongs to `make check`."""
    for item in items:
        if Path(__file__).parent in item.path.parents:
            item.add_marker(pytest.mark.slow)


@pytest.fixture(scope="package")
def chromium() -> Iterator[Any]:
    """A headless browser."""
    found = shutil.which("chromium") or shutil.which("google-chrome")
    if found is None:
        assert not os.environ.get("CI"), "CI must drive the page: apt-get install chromium"
        pytest.skip("no Chromium on this machine: apt-get install chromium")
    from playwright.sync_api import sync_playwright

    with sync_playwright() as driver:
        browser = driver.chromium.launch(executable_path=found, args=FLAGS)
        yield browser
        browser.close()


@pytest.fixture(scope="package")
def job_copy(
    warm: Callable[[str], Path], tmp_path_factory: pytest.TempPathFactory
) -> Callable[..., Path]:
    """Copies of the demo jobs, the cache of what was read among them."""

    def copy(name: str = "demo-b") -> Path:
        folder = tmp_path_factory.mktemp("page") / name
        shutil.copytree(warm(name), folder)
        return folder

    return copy


class Served:
    """`sumpwright open` at work."""

    def __init__(self, job: Path | None, where: Path) -> None:
        words = [sys.executable, "-m", "sumpwright", "open", "--no-browser"]
        words += [] if job is None else [str(job)]
        self.process = subprocess.Popen(
            words, cwd=where, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True
        )
        said = ""
        assert self.process.stdout is not None
        while "http://" not in said:
            line = self.process.stdout.readline()
            assert line, f"the server ended: {said}"
            said += line
        self.address = re.search(r"http://\S+", said)[0]  # type: ignore[index]
        self.home = self.address.partition("/open/")[0]

    def stop(self) -> None:
        """As by Ctrl-C."""
        self.process.send_signal(2)
        try:
            self.process.wait(20)
        finally:
            self.process.kill()
            if self.process.stdout is not None:
                self.process.stdout.close()


@pytest.fixture(scope="package")
def serve(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Callable[..., Served]]:
    """Starts servers, and ends them."""
    started: list[Served] = []

    def start(job: Path | None = None, where: Path | None = None) -> Served:
        started.append(Served(job, where or tmp_path_factory.mktemp("start")))
        return started[-1]

    yield start
    for served in started:
        served.stop()


@pytest.fixture
def own(serve: Callable[..., Served]) -> Iterator[Callable[..., Served]]:
    """Starts servers that end with the test; asked for before `window`, which they outlive."""
    from tests.browser.ending import ending

    with ending(serve) as start:
        yield start


class Window:
    """A browser window that remembers what went wrong in it, and where it called."""

    def __init__(self, browser: Any, served: Served, size: dict[str, int], **how: Any) -> None:
        self.served = served
        self.context = browser.new_context(viewport=size, **how)
        self.page = self.context.new_page()
        self.faults: list[str] = []
        self.elsewhere: list[str] = []
        self.page.on("console", self._heard)
        self.page.on("pageerror", lambda err: self.faults.append(str(err)))
        self.page.on("request", self._asked)
        self.page.goto(served.address)

    def show(self, operation: str) -> Any:
        """The sheet of one operation."""
        self.page.goto(f"{self.served.home}/#/{operation}")
        self.page.wait_for_selector(f'main h1:has-text("{operation}")', timeout=30_000)
        return self.page

    def close(self) -> None:
        """Close it; nothing must have gone wrong."""
        self.context.close()
        assert self.faults == []
        assert self.elsewhere == []

    def _heard(self, message: Any) -> None:
        refused = re.search(r"status of (409|422) ", message.text)  # said on the page, not a fault
        if message.type == "error" and not refused:
            self.faults.append(message.text)

    def _asked(self, request: Any) -> None:
        if not request.url.startswith((self.served.home, "blob:", "data:")):
            self.elsewhere.append(request.url)


_IS_SETTLED = """async () => {
    const said = await (await fetch("/api/state")).json();
    const going = said.work.some(w => w.state === "running" || w.state === "waiting");
    const checked = said.work.some(w => w.question === "check" && w.state === "done" && !w.stale);
    return checked && !going && !document.body.innerText.includes("Drawing the pan");
}"""


def settled(page: Any, seconds: float = 180.0) -> None:
    """Wait until the verdict is there, nothing runs, and what is drawn is drawn."""
    until = time.monotonic() + seconds
    while not page.evaluate(_IS_SETTLED):
        assert time.monotonic() < until, "the page did not come to rest"
        page.wait_for_timeout(200)
    page.wait_for_timeout(600)


@pytest.fixture
def window(chromium: Any) -> Iterator[Callable[..., Window]]:
    """Opens windows, and holds each to no console error and no call elsewhere."""
    opened: list[Window] = []

    def open_(served: Served, size: dict[str, int] | None = None, **how: Any) -> Window:
        opened.append(Window(chromium, served, size or LAPTOP, **how))
        return opened[-1]

    yield open_
    for one in opened:
        one.close()


@pytest.fixture(scope="package")
def demo(serve: Callable[..., Served], job_copy: Callable[..., Path]) -> Served:
    """A server with the demo job; tests that change the job start their own."""
    return serve(job_copy())
