# SPDX-License-Identifier: Apache-2.0
"""Write out/plan.html and out/plan.pdf of a job, each whole or not at all."""

import json
from dataclasses import asdict
from datetime import datetime
from pathlib import Path

from sumpwright.atomic import write_atomic, write_problem
from sumpwright.errors import InputError
from sumpwright.report.content import Content
from sumpwright.report.lettering import FONT_FOLDER
from sumpwright.report.plan_content import plan_content, sheets_of
from sumpwright.report.plan_page import plan_html
from sumpwright.report.plan_sheet import Sheet
from sumpwright.studies.plan_result import PlanResult


def write_plan(result: PlanResult, folder: Path) -> tuple[Path, Path]:
    """The paths of the HTML and the PDF in `folder`'s out/."""
    out = folder / "out"
    made = datetime.now().astimezone().replace(microsecond=0)
    content, sheets = plan_content(result, made=made), sheets_of(result)
    page, pdf = plan_html(content, sheets), plan_pdf(content, sheets, made=made)
    try:
        out.mkdir(exist_ok=True)
    except OSError as err:
        raise InputError([write_problem(out, err)]) from err
    write_atomic(out / "plan.html", page)
    write_atomic(out / "plan.pdf", pdf)
    return out / "plan.html", out / "plan.pdf"


def plan_pdf(content: Content, sheets: tuple[Sheet, ...], *, made: datetime) -> bytes:
    """The pages on A4, one sheet to a page; all words go in as data."""
    import typst

    here = Path(__file__).parent
    page = b"\n".join((here / name).read_bytes() for name in ("block.typ", "plan.typ"))
    said = {**content.as_json(), "alt": {}, "sheets": [asdict(sheet) for sheet in sheets]}
    pdf = typst.compile(
        page,
        format="pdf",
        font_paths=typst.Fonts(font_paths=[FONT_FOLDER]),
        sys_inputs={"content": json.dumps(said, ensure_ascii=True, allow_nan=False)},
        timestamp=int(made.timestamp()),
    )
    return bytes(pdf)
