# SPDX-License-Identifier: Apache-2.0
"""Sheets of drawing: true in size, read back by ezdxf, tables safe to open."""

import io
import re
from datetime import UTC, datetime

import ezdxf
import numpy as np
import pytest

from sumpwright.report.drawing import (
    Page,
    Path,
    Place,
    Ring,
    Size,
    Words,
    number_text,
    path,
    scale_for,
)
from sumpwright.report.drawing_depth import floor_depth
from sumpwright.report.drawing_dxf import LAYERS, page_dxf
from sumpwright.report.drawing_frame import Title, framed
from sumpwright.report.drawing_size import LETTER, layout
from sumpwright.report.drawing_stick import _bars
from sumpwright.report.drawing_svg import page_svg, pages_pdf
from sumpwright.report.lettering import text_width
from sumpwright.report.parts_list import csv_bytes, guarded, packed
from tests.studies.box_job import box_mesh

MADE = datetime(2026, 1, 2, tzinfo=UTC)
TITLE = Title("job", "A", "0123456789ab", "2026-01-02", "aluminium", "caution")


def sheet(units: str = "metric") -> Page:
    page = Page("trial", "Trial", units, 2.0)
    place = Place(2.0, (0.0, 0.0), (50.0, 100.0))
    corners = place([(0.0, 0.0), (0.2, 0.0), (0.2, 0.1), (0.0, 0.1)])
    page.add(path([corners], "OUTLINE"), Ring(place.spot(0.1, 0.05), 1.65))
    page.add(Size(place.spot(0.0, 0.0), place.spot(0.2, 0.0), (50.0, 90.0)))
    page.add(Size(place.spot(0.0, 0.0), place.spot(0.0, 0.1), (40.0, 100.0), upright=True))
    page.add(Words((20.0, 20.0), "words"))
    return framed(page, TITLE, 1, 1)


@pytest.mark.parametrize(("units", "factor"), [("metric", 1.0), ("us", 1.0 / 25.4)])
def test_dxf_reads_back_clean_with_true_dimensions(units: str, factor: float) -> None:
    doc = ezdxf.read(io.StringIO(page_dxf(sheet(units)).decode("utf-8")))
    audit = doc.audit()
    assert not audit.errors
    assert not audit.fixes
    space = doc.modelspace()
    found = sorted(d.get_measurement() for d in space.query("DIMENSION"))
    assert found == pytest.approx([100.0, 200.0], abs=1e-9)  # mm, the part's own size
    style = doc.dimstyles.get("SHOP")
    assert style.dxf.dimlfac == pytest.approx(factor)
    (ring,) = space.query("CIRCLE")
    assert ring.dxf.radius == pytest.approx(3.3)
    assert {e.dxf.layer for e in space} <= set(LAYERS)


def dimension(a: tuple[float, float], b: tuple[float, float]) -> ezdxf.document.Drawing:
    page = Page("trial", "Trial", "metric", 2.0)
    page.add(Size(a, b, (40.0, 100.0), upright=True))
    return ezdxf.read(io.StringIO(page_dxf(page).decode("utf-8")))


def drawn(a: tuple[float, float], b: tuple[float, float]) -> list[tuple[object, ...]]:
    (size,) = dimension(a, b).modelspace().query("DIMENSION")
    block = size.get_geometry_block()
    inserts = [e.dxf.insert.round(6) for e in block if e.dxftype() in ("INSERT", "MTEXT")]
    return sorted(tuple(i) for i in inserts)


def test_a_depth_is_drawn_alike_whichever_end_comes_first() -> None:
    up, down = (50.0, 100.0), (50.0, 150.0)
    assert drawn(up, down) == drawn(down, up)


@pytest.mark.parametrize("long", [3.0, 50.0])
def test_the_figure_of_a_depth_stands_left_of_its_line_and_off_its_heads(long: float) -> None:
    (size,) = dimension((50.0, 100.0 + long), (50.0, 100.0)).modelspace().query("DIMENSION")
    (text,) = (e for e in size.get_geometry_block() if e.dxftype() == "MTEXT")
    x, y, _ = text.dxf.insert / 2.0
    assert x <= 40.0 - 0.5 * 3.0 - 0.5  # letters of 3 mm, turned, their middle here
    # too short a line for its figure: past the upper head, which stands outside
    assert y == pytest.approx(125.0) if long == 50.0 else y > 103.0 + 6.6


@pytest.mark.parametrize("share", [0.0, 0.5, 0.75, 1.0])
@pytest.mark.parametrize("long", [14.0, 80.0])
def test_a_figure_stays_between_the_ends_of_its_line(share: float, long: float) -> None:
    how = layout(Size((0.0, 0.0), (0.0, long), (0.0, 0.0), upright=True, share=share), "1.654")
    half = 0.5 * text_width("1.654", LETTER * 3.0)
    assert not how.tight
    assert how.low[1] + half + 0.99 <= how.text_middle[1] <= how.high[1] - half - 0.99


def test_lines_in_dxf_are_as_wide_as_on_paper_and_metal_is_filled() -> None:
    page = Page("trial", "Trial", "metric", 2.0)
    square = np.array([(0.0, 0.0), (40.0, 0.0), (40.0, 40.0), (0.0, 40.0)])
    page.add(path([square, square[::-1] * 0.5 + 10.0], "METAL"))
    doc = ezdxf.read(io.StringIO(page_dxf(page).decode("utf-8")))
    assert {n: doc.layers.get(n).dxf.lineweight for n in ("OUTLINE", "FINE", "METAL")} == {
        "OUTLINE": 50, "FINE": 18, "METAL": 35,
    }  # fmt: skip
    (fill,) = doc.modelspace().query("HATCH")
    assert fill.dxf.layer == "FILL"
    assert len(fill.paths) == 2  # the hole stays open
    assert not doc.audit().errors


@pytest.mark.parametrize(("units", "long"), [("metric", 100.0), ("us", 101.6)])
def test_both_bars_of_the_template_are_true(units: str, long: float) -> None:
    page = Page("dipstick", "Template", units, 1.0, 210.0, 297.0)
    _bars(page, units)
    level, upright = (item.loops[0] for item in page.items if isinstance(item, Path))
    assert np.ptp(level[:, 0]) == np.ptp(upright[:, 1]) == pytest.approx(long, abs=1e-12)
    # in the picture a millimetre is 96 / 25.4 units, which are 72 / 96 pt: 100 mm are 283.46 pt
    said = page_svg(page).decode("utf-8")
    assert 'width="793.7" height="1122.52"' in said  # A4
    start, end = re.findall(r'd="M([\d.]+) [\d.]+L([\d.]+) ', said)[0]
    assert (float(end) - float(start)) * 0.75 == pytest.approx(long * 72.0 / 25.4, abs=0.015)
    spots = np.concatenate([*level[None], *upright[None]])
    assert spots.min(axis=0).tolist() > [10.0, 50.0]  # inside the frame, over the title block
    assert spots[:, 0].max() < 200.0


def test_the_same_sheet_is_the_same_file() -> None:
    assert page_dxf(sheet()) == page_dxf(sheet())
    assert page_svg(sheet()) == page_svg(sheet())
    assert pages_pdf([sheet()], made=MADE) == pages_pdf([sheet()], made=MADE)


def test_a_sheet_says_what_it_measures_in_the_person_s_unit() -> None:
    size = Size((50.0, 0.0), (150.0, 0.0), (0.0, 0.0))
    assert sheet().size_text(size) == "200"
    assert sheet("us").size_text(size) == "7.874"
    assert number_text(0.0, "metric") == "0"


def test_the_scale_is_the_largest_usual_one_with_room() -> None:
    assert scale_for((0.42, 0.19), (246.0, 165.0)) == 2.0
    assert scale_for((0.1, 0.1), (246.0, 165.0)) == 1.0


def test_floor_depth_is_that_of_a_box() -> None:
    body = box_mesh((0.0, 0.0, -0.1), (0.2, 0.1, 0.0))
    depth = floor_depth(body, np.array([[0.05, 0.02], [0.3, 0.02]]))
    assert depth[0] == pytest.approx(0.1)
    assert np.isnan(depth[1])


@pytest.mark.parametrize("cell", ["=1+1", "+A1", "-A1", "@x", " =1", "\t=1"])
def test_no_cell_is_taken_for_a_formula(cell: str) -> None:
    assert str(guarded(cell)).startswith("'")
    assert b"\r\n'" in csv_bytes(("a",), [(cell,)]) or b'"' in csv_bytes(("a",), [(cell,)])


def test_numbers_stay_numbers_and_files_are_named_as_they_lie() -> None:
    assert guarded(-1.5) == -1.5
    assert guarded(None) == ""
    assert packed("sheets/a.dxf") == "flat/a.dxf"
    assert packed("upper-half.step") == "cad/upper-half.step"
