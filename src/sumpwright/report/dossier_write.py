# SPDX-License-Identifier: Apache-2.0
"""Write out/release-REVISION.html and .pdf of a job, each whole or not at all."""

from dataclasses import replace
from datetime import datetime
from pathlib import Path

from sumpwright.atomic import write_atomic, write_problem
from sumpwright.errors import InputError
from sumpwright.report.block import (
    cautions_of,
    ledger_of,
    listed,
    page_of,
    pictures_of,
    provenance_of,
    tables_of,
    top,
)
from sumpwright.report.content import Content
from sumpwright.report.dossier_content import (
    SHEETS,
    dossier_content,
    dossier_pictures,
    untested_lines,
)
from sumpwright.report.pdf import pdf_of
from sumpwright.studies.release import ReleaseResult

UNTESTED = "What was not tested"


def write_dossier(result: ReleaseResult, folder: Path) -> tuple[Path, Path]:
    """The paths of the HTML and the PDF in `folder`'s out/."""
    out = folder / "out"
    made = datetime.now().astimezone().replace(microsecond=0)
    content, pictures = dossier_content(result, made=made), dossier_pictures(result)
    page = dossier_html(content, pictures, untested_lines(result))
    # on paper, too, what was not tested stands under a heading of its own
    paper = replace(content, open=((UNTESTED, untested_lines(result)),))
    pdf = pdf_of(paper, pictures, made=made, order="dossier.typ")
    try:
        out.mkdir(exist_ok=True)
    except OSError as err:
        raise InputError([write_problem(out, err)]) from err
    paths = tuple(out / f"release-{result.revision}.{kind}" for kind in ("html", "pdf"))
    for path, data in zip(paths, (page, pdf), strict=True):
        write_atomic(path, data)
    return paths[0], paths[1]


def dossier_html(content: Content, pictures: dict[str, bytes], untested: tuple[str, ...]) -> bytes:
    """The page as UTF-8."""
    parts = [
        top(content),
        listed(UNTESTED, untested),
        cautions_of(content),
        tables_of(content, SHEETS[:1]),
        pictures_of(content, pictures, ("fill", "dipstick")),
        tables_of(content, SHEETS[1:]),
        ledger_of(content),
        listed("Assumptions", content.assumptions),
        provenance_of(content),
    ]
    return page_of(content, parts)
