# SPDX-License-Identifier: Apache-2.0
"""Progress on stderr for anything over a second: a bar on a terminal, plain lines elsewhere."""

import sys
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from typing import Any

Progress = Callable[[str, float], None]
"""Takes what is being done and the finished share, 0 to 1."""

_PATIENCE = 0.8
"""Seconds before anything is shown."""
_LINE_EVERY = 3.0
"""Seconds between plain lines."""


@contextmanager
def progress_shown(stream: Any = None) -> Iterator[Progress]:
    """A `Progress` to hand to a study; what it showed is gone when the study is done."""
    out = sys.stderr if stream is None else stream
    shown = _Bar(out) if out.isatty() else _Lines(out)
    try:
        yield shown.say
    finally:
        shown.close()


class _Lines:
    """A line of text now and then."""

    def __init__(self, out: Any) -> None:
        self._out, self._next = out, time.monotonic() + _PATIENCE

    def say(self, text: str, share: float) -> None:
        if time.monotonic() >= self._next:
            self._out.write(f"{100 * min(max(share, 0.0), 1.0):3.0f} %  {text}\n")
            self._out.flush()
            self._next = time.monotonic() + _LINE_EVERY

    def close(self) -> None:
        pass


class _Bar:
    """A bar that comes once there is something to wait for, and goes when it is done."""

    def __init__(self, out: Any) -> None:
        self._out, self._from = out, time.monotonic() + _PATIENCE
        self._bar: Any = None
        self._task: Any = None

    def say(self, text: str, share: float) -> None:
        if self._bar is None and time.monotonic() >= self._from:
            self._open()
        if self._bar is not None:
            self._bar.update(self._task, completed=share, description=text)

    def close(self) -> None:
        if self._bar is not None:
            self._bar.stop()

    def _open(self) -> None:
        from rich.console import Console
        from rich.progress import BarColumn, Progress, TextColumn, TimeElapsedColumn

        columns = (BarColumn(24), TextColumn("{task.description}"), TimeElapsedColumn())
        self._bar = Progress(*columns, console=Console(file=self._out), transient=True)
        self._task = self._bar.add_task("", total=1.0)
        self._bar.start()
