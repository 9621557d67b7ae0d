# SPDX-License-Identifier: Apache-2.0
"""Small questions, answered at once by the worker that keeps the job at hand."""

from collections.abc import Callable
from pathlib import Path
from typing import Any

from sumpwright.web import edit, log_data, record_form, scene, upload

Live = Callable[..., Any]


def _head(folder: Path) -> Any:
    from sumpwright.web.head import job_head

    return job_head(folder)


LIVE: dict[str, Live] = {
    "head": _head,
    **edit.LIVE,
    **log_data.LIVE,
    **record_form.LIVE,
    **scene.LIVE,
    **upload.LIVE,
}
