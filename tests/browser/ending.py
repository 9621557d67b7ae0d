# SPDX-License-Identifier: Apache-2.0
"""Servers that end with the test they were started for.

One that is left goes on to work out the verdict of a job that nobody looks at any more, and the
next test waits for the processor.
"""

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from typing import Any

from tests.browser.conftest import Served

Serve = Callable[..., Served]


@contextmanager
def ending(serve: Serve) -> Iterator[Serve]:
    """As `serve`; what it started is stopped on leaving."""
    started: list[Served] = []

    def start(*how: Any) -> Served:
        started.append(serve(*how))
        return started[-1]

    yield start
    for served in started:
        served.stop()
