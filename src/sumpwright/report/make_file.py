# SPDX-License-Identifier: Apache-2.0
"""Every file of a pack, by its path in it."""

from collections.abc import Callable, Iterator
from datetime import datetime

from sumpwright.geometry.cad_write import step_bytes
from sumpwright.report.block import (
    cautions_of,
    listed,
    page_of,
    provenance_of,
    tables_of,
    top,
)
from sumpwright.report.content import Content
from sumpwright.report.drawing import Page
from sumpwright.report.drawing_depth import depth_page
from sumpwright.report.drawing_dxf import page_dxf
from sumpwright.report.drawing_frame import Title, framed
from sumpwright.report.drawing_rail import rail_pages
from sumpwright.report.drawing_section import section_page
from sumpwright.report.drawing_stick import stick_page
from sumpwright.report.drawing_svg import pages_pdf
from sumpwright.report.halves_write import halves_files
from sumpwright.report.inspection_sheet import bolts_view
from sumpwright.report.make_content import index_content, lists_content
from sumpwright.report.parts_list import bolts_csv, inspection_csv, parts_csv, welds_csv
from sumpwright.report.pdf import pdf_of
from sumpwright.report.sheets_write import sheet_files
from sumpwright.report.threemf_write import stl_bytes, threemf_bytes
from sumpwright.studies.make_result import Made

Progress = Callable[[str, float], None]


def pack_files(made: Made, progress: Progress, *, made_at: datetime) -> dict[str, bytes]:
    """All files but the manifest."""
    files = dict(_solids(made))
    progress("flat patterns", 0.82)
    if made.sheets is not None:
        files |= {f"flat/{name}": data for name, data in sheet_files(made.sheets).items()}
    progress("prints", 0.85)
    for piece in () if made.prints is None else made.prints.pieces:
        files[f"print/{piece.key}.3mf"] = threemf_bytes(piece.mesh, piece.key)
        files[f"print/{piece.key}.stl"] = stl_bytes(piece.mesh, piece.key)
    progress("drawings", 0.88)
    pages = drawing_pages(made, made_at=made_at)
    files |= {f"drawings/{page.key}.dxf": page_dxf(page) for page in pages}
    files["drawings/drawings.pdf"] = pages_pdf(pages, made=made_at)
    progress("lists", 0.94)
    files |= _lists(made, made_at)
    return _with_index(made, files, made_at)


def drawing_pages(made: Made, *, made_at: datetime) -> tuple[Page, ...]:
    """Every sheet, framed."""
    rail = () if made.rail is None else rail_pages(made.rail, made.pitch)
    found = (*rail, section_page(made), depth_page(made), stick_page(made))
    pages = [page for page in found if page is not None]
    split, shape = made.loaded.job.new.split, made.loaded.job.new.shape
    metal = shape.material if shape is not None and shape.material is not None else None
    title = Title(
        job=made.check.job,
        revision=made.check.revision,
        part=made.part_hash[:12],
        made=made_at.strftime("%Y-%m-%d"),
        material=metal or ("" if split is None else split.material),
        caution="NOT RELEASED: see the pack's first page."
        if made.against
        else "Cautions: the pack's first page.",
    )
    return tuple(framed(page, title, k, len(pages)) for k, page in enumerate(pages, 1))


def _solids(made: Made) -> Iterator[tuple[str, bytes]]:
    for body in made.whole:
        if body.solid is None:
            yield f"cad/{body.key}.stl", stl_bytes(body.mesh, body.key)
        else:
            yield f"cad/{body.key}.step", step_bytes([body.solid], body.key)
    for name, data in () if made.halved is None else halves_files(made.halved):
        yield (f"drawings/{name}" if name.endswith(".svg") else f"cad/{name}"), data
    for solid in () if made.housing is None else made.housing.solids:
        yield f"cad/{solid.key}.step", step_bytes([solid.body], solid.key)


def _lists(made: Made, made_at: datetime) -> dict[str, bytes]:
    files = {"lists/parts.csv": parts_csv(made), "lists/inspection.csv": inspection_csv(made)}
    if made.welds:
        files["lists/welds.csv"] = welds_csv(made)
    picture = bolts_view(made.rail, made.bolts) if made.rail and made.bolts else None
    if picture is not None:
        files["lists/bolt-order.csv"] = bolts_csv(made)
        files["lists/bolt-order.svg"] = picture
    content = lists_content(made, made_at=made_at)
    pictures = {} if picture is None else {"bolts": picture}
    files["lists/lists.pdf"] = _pdf(content, pictures, made_at)
    return files


def _pdf(content: Content, pictures: dict[str, bytes], made_at: datetime) -> bytes:
    return pdf_of(content, pictures, made=made_at, order="make.typ")


def _with_index(made: Made, files: dict[str, bytes], made_at: datetime) -> dict[str, bytes]:
    content = index_content(made, sorted(files), made_at=made_at)
    parts = [
        top(content),
        tables_of(content, ("steps", "minded")),
        listed("What is not in this pack", content.assumptions),
        cautions_of(content),
        provenance_of(content),
    ]
    index = {"index.html": page_of(content, parts), "index.pdf": _pdf(content, {}, made_at)}
    return {**index, **files}
