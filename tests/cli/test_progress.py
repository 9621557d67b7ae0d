# SPDX-License-Identifier: Apache-2.0
"""Progress: nothing for quick work, plain lines now and then, a bar on a terminal."""

import io
import time

import pytest

from sumpwright.cli import progress as module
from sumpwright.cli.progress import progress_shown


class Clock:
    """Time that passes when it is told to."""

    def __init__(self, monkeypatch: pytest.MonkeyPatch) -> None:
        self.now = 100.0
        monkeypatch.setattr(module.time, "monotonic", lambda: self.now)


class Terminal(io.StringIO):
    def isatty(self) -> bool:
        return True


def test_quick_work_shows_nothing(monkeypatch: pytest.MonkeyPatch) -> None:
    clock, out = Clock(monkeypatch), io.StringIO()
    with progress_shown(out) as say:
        for i in range(10):
            clock.now += 0.05
            say("reading", i / 10)
    assert out.getvalue() == ""


def test_slow_work_shows_a_line_every_few_seconds(monkeypatch: pytest.MonkeyPatch) -> None:
    clock, out = Clock(monkeypatch), io.StringIO()
    with progress_shown(out) as say:
        for i in range(1, 41):
            clock.now += 0.25
            say("hold map", i / 40)
    # at the first word over 0.8 s, and then every 3 s of 10 s
    assert out.getvalue() == "".join(f"{p:3.0f} %  hold map\n" for p in (10, 40, 70, 100))


def test_a_terminal_gets_a_bar_that_goes_away(monkeypatch: pytest.MonkeyPatch) -> None:
    out = Terminal()
    monkeypatch.setenv("TERM", "xterm")
    with progress_shown(out) as say:
        say("reading", 0.0)
        assert out.getvalue() == ""
        monkeypatch.setattr(module, "_PATIENCE", 0.0)
    with progress_shown(out) as say:
        say("hold map", 0.5)
        time.sleep(0.15)
        say("hold map", 0.9)
    assert "hold map" in out.getvalue()
    assert "\x1b" in out.getvalue()


def test_an_interrupt_closes_the_bar(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(module, "_PATIENCE", 0.0)
    out = Terminal()
    shown = progress_shown(out)
    say = shown.__enter__()
    say("hold map", 0.5)
    assert not shown.__exit__(KeyboardInterrupt, KeyboardInterrupt(), None)  # it goes on up
    after = out.getvalue()
    time.sleep(0.2)  # a bar left open would go on drawing
    assert out.getvalue() == after
    assert "\x1b[?25h" in after  # the cursor is back
