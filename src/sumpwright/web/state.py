# SPDX-License-Identifier: Apache-2.0
"""What a page is told when it opens."""

from dataclasses import asdict
from typing import Any

from sumpwright import __version__
from sumpwright.units import SYSTEMS
from sumpwright.web.desk import Desk


def state_of(desk: Desk) -> dict[str, Any]:
    """Everything that a page starts from."""
    return {
        "version": __version__,
        "folder": None if desk.folder is None else str(desk.folder),
        "job": None if desk.head is None else asdict(desk.head),
        "work": [asdict(work) for work in desk.work.values()],
        "units": {name: dict(table) for name, table in SYSTEMS.items()},
    }
