# SPDX-License-Identifier: Apache-2.0
"""Progress on stderr for anything over a second: a bar on a terminal, plain lines elsewhere."""

import sys
import threading
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from typing import Any

Progress = Callable[[str, float], None]
"""Takes what is being done and the finished share, 0 to 1."""

COMPILING = "compiling for this computer: up to half a minute, on the first run only"
_PATIENCE = 0.8
"""Seconds before anything is shown."""
_LINE_EVERY = 3.0
"""Seconds between plain lines."""


@contextmanager
def progress_shown(stream: Any = None) -> Iterator[Progress]:
    """A `Progress` to hand to a study; what it showed is gone when the study is done.

    Only the word that kernels are being compiled stays.
    """
    from sumpwright.geometry.kernel import compiling_told

    out = sys.stderr if stream is None else stream
    if out is None:  # the command was started without a stderr
        yield lambda _text, _share: None
        return
    shown = _Bar(out) if out.isatty() else _Lines(out)
    # work that says one word and then is long shows it too
    waited = threading.Timer(_PATIENCE, shown.again)
    waited.daemon = True
    waited.start()
    try:
        with compiling_told(lambda: shown.note(COMPILING)):
            yield shown.say
    finally:
        waited.cancel()
        shown.close()


class _Shown:
    """What was said last; `_show` puts it where the person looks, once there is reason to."""

    def __init__(self, out: Any) -> None:
        self._out = out
        self._said: tuple[str, float] | None = None
        self._lock = threading.Lock()

    def say(self, text: str, share: float) -> None:
        with self._lock:
            self._said = text, min(max(share, 0.0), 1.0)
            self._show(*self._said)

    def again(self) -> None:
        with self._lock:
            if self._said is not None:
                self._show(*self._said)

    def note(self, text: str) -> None:
        """Say `text` now, and leave it standing."""
        with self._lock:
            self._out.write(f"{text}\n")
            self._out.flush()

    def close(self) -> None:
        with self._lock:
            self._said = None
            self._end()

    def _show(self, text: str, share: float) -> None:
        raise NotImplementedError

    def _end(self) -> None:
        pass


class _Lines(_Shown):
    """A line of text now and then."""

    def __init__(self, out: Any) -> None:
        super().__init__(out)
        self._next = time.monotonic() + _PATIENCE

    def _show(self, text: str, share: float) -> None:
        if time.monotonic() >= self._next:
            self._out.write(f"{100 * share:3.0f} %  {text}\n")
            self._out.flush()
            self._next = time.monotonic() + _LINE_EVERY


class _Bar(_Shown):
    """A bar that comes once there is something to wait for, and goes when it is done."""

    def __init__(self, out: Any) -> None:
        super().__init__(out)
        self._from = time.monotonic() + _PATIENCE
        self._bar: Any = None
        self._task: Any = None

    def note(self, text: str) -> None:
        if self._bar is None:
            super().note(text)
        else:
            self._bar.console.print(text)

    def _show(self, text: str, share: float) -> None:
        if self._bar is None and time.monotonic() >= self._from:
            self._open()
        if self._bar is not None:
            self._bar.update(self._task, completed=share, description=text)

    def _end(self) -> None:
        if self._bar is not None:
            self._bar.stop()

    def _open(self) -> None:
        from rich.console import Console
        from rich.progress import BarColumn, Progress, TextColumn, TimeElapsedColumn

        columns = (BarColumn(24), TextColumn("{task.description}"), TimeElapsedColumn())
        self._bar = Progress(*columns, console=Console(file=self._out), transient=True)
        self._task = self._bar.add_task("", total=1.0)
        self._bar.start()
