# SPDX-License-Identifier: Apache-2.0
"""Small questions, answered at once by the worker that keeps the job at hand."""

from collections.abc import Callable
from functools import cache
from pathlib import Path
from typing import Any

Live = Callable[..., Any]


def _head(folder: Path) -> Any:
    from sumpwright.web.head import job_head

    return job_head(folder)


def live_function(name: str) -> Live:
    """The function of that name; the head of a job, which a page waits for, loads nothing else."""
    return _head if name == "head" else _live()[name]


@cache
def _live() -> dict[str, Live]:
    from sumpwright.web import edit, log_data, record_form, scene, scene_space, upload

    modules = (edit, log_data, record_form, scene, scene_space, upload)
    return {name: function for module in modules for name, function in module.LIVE.items()}
