# SPDX-License-Identifier: Apache-2.0
"""Write the page and the PDF of the hold maps to a job's out/, each whole or not at all."""

import json
from collections.abc import Callable
from datetime import datetime
from pathlib import Path

from sumpwright.report.block import (
    cautions_of,
    listed,
    page_of,
    pictures_of,
    provenance_of,
    tables_of,
    top,
)
from sumpwright.report.content import Content
from sumpwright.report.drive_write import saved
from sumpwright.report.hold_map_content import hold_map_content, map_key
from sumpwright.report.pdf import pdf_of
from sumpwright.report.polar_map import hold_map_view
from sumpwright.studies.motion_result import HoldMapResult

Progress = Callable[[str, float], None]


def write_hold_map(
    result: HoldMapResult, folder: Path, progress: Progress | None = None
) -> tuple[Path, ...]:
    """Paths of the page, the PDF and the numbers of the hold maps, in `folder`'s out/."""
    say = progress or (lambda _text, _share: None)
    made = datetime.now().astimezone().replace(microsecond=0)
    content, pictures = hold_map_content(result, made=made), {}
    for k in range(len(result.rpm)):
        say("drawing the maps", 0.7 * k / len(result.rpm))
        pictures[map_key(k)] = hold_map_view(result, k)
    say("setting the pages", 0.7)
    data = json.dumps(result.as_json(), indent=1, ensure_ascii=False, allow_nan=False) + "\n"
    files = {
        "html": hold_map_html(content, pictures),
        "pdf": pdf_of(content, pictures, made=made, order="hold_map.typ"),
        "json": data.encode("utf-8"),
    }
    say("saving the pages", 0.95)
    paths = saved(folder, "hold-map", files)
    say("saving the pages", 1.0)
    return paths


def hold_map_html(content: Content, pictures: dict[str, bytes]) -> bytes:
    """The page as UTF-8."""
    parts = [
        top(content),
        tables_of(content, ("sides",)),
        pictures_of(content, pictures, tuple(pictures)),
        listed("Assumptions", content.assumptions),
        tables_of(content, ("errors",)),
        cautions_of(content),
        provenance_of(content),
    ]
    return page_of(content, parts)
