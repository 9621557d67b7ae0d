# SPDX-License-Identifier: Apache-2.0
"""What tests of several parts share."""

import os
import subprocess
import sys
from collections import Counter
from collections.abc import Callable
from typing import Any

import pytest
from hypothesis import settings
from xdist.scheduler import LoadScopeScheduling

from tests.warm import warm as warm

# A deadline times the machine, not the code; on CI the examples are the same ones each time.
settings.register_profile("house", deadline=None, derandomize="CI" in os.environ)
settings.load_profile("house")

# Whole processes, or hundreds of random bodies: over 3 s a file, so left out of `make check`.
_LONG = (
    "cli/test_commands.py",
    "cli/test_hostile.py",
    "geometry/test_level_plane.py",
    "geometry/test_level_property.py",
    "geometry/test_pool.py",
    "report/test_label.py",
    "report/test_write.py",
    "studies/test_hold_property.py",
)


_BROWSER = "tests/browser/"


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Mark the tests of long files as slow; what takes longest comes first."""
    for item in items:
        if item.path.as_posix().endswith(_LONG):
            item.add_marker(pytest.mark.slow)
    count = Counter(_unit(item.nodeid) for item in items)
    items.sort(key=lambda item: (not _drives(item.nodeid), -count[_unit(item.nodeid)]))


def pytest_xdist_make_scheduler(config: pytest.Config, log: Any) -> LoadScopeScheduling:
    """Hands tests out by file; those that drive a browser all to one process."""
    return _ByFile(config, log)


class _ByFile(LoadScopeScheduling):
    """Two browsers that draw in software starve each other on two cores."""

    def _split_scope(self, nodeid: str) -> str:
        return _unit(nodeid)


def _drives(nodeid: str) -> bool:
    return nodeid.startswith(_BROWSER)


def _unit(nodeid: str) -> str:
    return _BROWSER if _drives(nodeid) else nodeid.split("::", 1)[0]


_BOUND = """\
import ctypes, os
from pathlib import Path
from sumpwright.errors import InputError
if os.geteuid() == 0:  # root stands above file permissions until it gives its capabilities up
    head = (ctypes.c_uint32 * 2)(0x20080522, 0)
    if ctypes.CDLL(None).capset(head, (ctypes.c_uint32 * 6)()) != 0:
        raise SystemExit("capabilities cannot be given up here")
try:
    {lines}
except InputError as err:
    print(err)
"""


@pytest.fixture
def bound() -> Callable[[str], str]:
    """Runs a Python line as somebody whom file permissions bind; the text of its InputError."""

    def run(lines: str) -> str:
        code = _BOUND.format(lines=lines)
        done = subprocess.run(
            [sys.executable, "-c", code], capture_output=True, text=True, check=False
        )
        assert done.returncode == 0, done.stderr
        return done.stdout

    return run
