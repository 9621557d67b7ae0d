# SPDX-License-Identifier: Apache-2.0
"""Write the page, the PDF and the numbers of a log to a job's out/, each whole or not at all."""

import json
from datetime import datetime
from pathlib import Path

from sumpwright.report.block import (
    cautions_of,
    ledger_of,
    listed,
    page_of,
    pictures_of,
    provenance_of,
    still_open,
    tables_of,
    top,
)
from sumpwright.report.content import Content
from sumpwright.report.drive_write import saved
from sumpwright.report.pdf import pdf_of
from sumpwright.report.read_content import read_content
from sumpwright.report.read_view import read_view
from sumpwright.report.slug import slug
from sumpwright.studies.read_result import ReadResult


def write_read(result: ReadResult, folder: Path) -> tuple[Path, ...]:
    """Paths of the page, the PDF and the numbers of a log, in `folder`'s out/."""
    made = datetime.now().astimezone().replace(microsecond=0)
    content = read_content(result, made=made)
    pictures = {"read": read_view(result)}
    data = json.dumps(result.as_json(), indent=1, ensure_ascii=False, allow_nan=False) + "\n"
    files = {
        "html": read_html(content, pictures),
        "pdf": pdf_of(content, pictures, made=made, order="read.typ"),
        "json": data.encode("utf-8"),
    }
    return saved(folder, f"read-{slug(Path(result.files[0][0]).stem)}", files)


def read_html(content: Content, pictures: dict[str, bytes]) -> bytes:
    """The page as UTF-8."""
    parts = [
        top(content),
        tables_of(content, ("events", "reach")),
        pictures_of(content, pictures, ("read",)),
        still_open(content),
        ledger_of(content),
        tables_of(content, ("stages", "fit", "channels")),
        listed("Assumptions", content.assumptions),
        cautions_of(content),
        provenance_of(content),
    ]
    return page_of(content, parts)
