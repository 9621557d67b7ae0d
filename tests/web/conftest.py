# SPDX-License-Identifier: Apache-2.0
"""What the tests of the page's server share."""

import asyncio
from collections.abc import Iterator

import pytest


@pytest.fixture(autouse=True)
def own_loop() -> Iterator[None]:
    """Each test runs loops of its own: a browser kept open by the same worker's tests has one
    that waits, and `asyncio.run` would refuse to begin beside it."""
    waiting = asyncio._get_running_loop()
    asyncio._set_running_loop(None)
    yield
    asyncio._set_running_loop(waiting)
