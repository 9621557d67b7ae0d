# SPDX-License-Identifier: Apache-2.0
"""Ctrl-C, remembered: a library that is being loaded can turn it into an error of its own."""

import signal
from types import FrameType, TracebackType
from typing import Any


class Interrupt:
    """While it is entered, Ctrl-C stops the work as ever and is remembered in `came`."""

    def __init__(self) -> None:
        self.came = False
        self._before: Any = None

    def __enter__(self) -> "Interrupt":
        if signal.getsignal(signal.SIGINT) is signal.default_int_handler:  # else ours or ignored
            try:
                self._before = signal.signal(signal.SIGINT, self._stop)
            except ValueError:  # not the main thread: Ctrl-C never comes here
                self._before = None
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        if self._before is not None:
            signal.signal(signal.SIGINT, self._before)

    def _stop(self, number: int, frame: FrameType | None) -> None:
        self.came = True
        raise KeyboardInterrupt
