# SPDX-License-Identifier: Apache-2.0
"""Drawings of sheet parts, read back by a library that is not ours and audited."""

import io
import math
import re
from dataclasses import replace
from pathlib import Path

import ezdxf
import numpy as np
import pytest
from ezdxf import path as dxf_path
from lxml import etree

from sumpwright.errors import InputError
from sumpwright.report.flat_dxf import LAYERS, nest_dxf, part_dxf
from sumpwright.report.flat_view import nest_view, part_view
from sumpwright.report.flat_words import IN_MM, KERF
from sumpwright.report.sheets_write import sheet_files, write_sheets
from sumpwright.studies.sheet_part import sheets_of_job
from sumpwright.studies.sheet_part_result import SheetsResult
from tests.studies.baffled_job import baffled
from tests.studies.test_sheet_part import DOOR, HINGE, SHOP, TABS, WALL


@pytest.fixture(scope="module")
def job(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = baffled(tmp_path_factory.mktemp("flat"), WALL + TABS + DOOR % HINGE)
    text = (folder / "job.yaml").read_text("utf-8")
    (folder / "job.yaml").write_text(text + SHOP, "utf-8")
    return folder


@pytest.fixture(scope="module")
def result(job: Path) -> SheetsResult:
    return sheets_of_job(job)


def read(data: bytes):
    doc = ezdxf.read(io.StringIO(data.decode("utf-8")))
    audit = doc.audit()
    assert not audit.errors
    assert not audit.fixes
    return doc


def cut_area(space) -> float:
    """Outline less holes [mm^2], by the library's own flattening."""
    areas = []
    for entity in space.query('*[layer=="CUT"]'):
        flat = np.array([(p.x, p.y) for p in dxf_path.make_path(entity).flattening(1e-4)])
        x, y = flat.T
        areas.append(abs(0.5 * float(np.sum(x * np.roll(y, -1) - np.roll(x, -1) * y))))
    return 2.0 * max(areas) - sum(areas)


def test_a_part_reads_back_clean_with_its_area_and_layers(result: SheetsResult) -> None:
    for item in result.items:
        doc = read(part_dxf(item))
        assert doc.dxfversion == "AC1024"  # R2010
        assert doc.units == ezdxf.units.MM
        assert set(LAYERS) <= {layer.dxf.name for layer in doc.layers}
        space = doc.modelspace()
        assert cut_area(space) == pytest.approx(1e6 * item.pattern.area, rel=1e-5)
        up = [b for b in item.pattern.bends if b.up]
        assert len(space.query('LINE[layer=="BEND_UP"]')) == len(up)
        assert len(space.query('LINE[layer=="BEND_DOWN"]')) == len(item.pattern.bends) - len(up)


def test_bend_lines_lie_in_the_middle_of_their_bends(result: SheetsResult) -> None:
    wall = result.items[0]
    (line,) = read(part_dxf(wall)).modelspace().query('LINE[layer=="BEND_UP"]')
    bend = wall.pattern.bends[0]
    middle = 1e3 * (bend.line + 0.5 * bend.allowance * bend.out)
    np.testing.assert_allclose([line.dxf.start.vec2, line.dxf.end.vec2], middle, atol=1e-9)


def test_holes_are_circles_and_slits_have_arcs(result: SheetsResult) -> None:
    space = read(part_dxf(result.items[0])).modelspace()
    assert sorted(c.dxf.radius for c in space.query("CIRCLE"))[:2] == pytest.approx([1.0, 1.0])
    bulges = [p[4] for poly in space.query("LWPOLYLINE") for p in poly.get_points()]
    # a slit's foot is half a circle of half the slit's width, 0.5 mm
    assert any(abs(b) > 0.1 for b in bulges)


def test_the_drawing_says_what_is_left_to_whom(result: SheetsResult) -> None:
    flap = result.items[1]
    said = [t.dxf.text for t in read(part_dxf(flap)).modelspace().query("TEXT")]
    assert KERF in said
    assert any(t.startswith("NOTE SHEE-517") for t in said)
    assert any("roll up" in t and "K 0." in t for t in said)


def test_a_job_in_inches_has_drawings_in_words_of_inches(result: SheetsResult) -> None:
    ours = replace(result, units="us")
    names = {n: d for n, d in sheet_files(ours).items() if n.startswith(("wall", "nest-1"))}
    assert set(names) == {"wall.dxf", "wall.svg", "nest-1.dxf", "nest-1.svg"}
    for name, data in names.items():
        if name.endswith(".dxf"):
            said = [t.dxf.text for t in read(data).modelspace().query("TEXT")]
            assert said.count(IN_MM) == 1
            assert read(data).units == ezdxf.units.MM
        else:
            said = list(etree.fromstring(data).itertext())
        words = " ".join(
            w for w in said if not w.startswith(("WARNING", "NOTE", "Mind", "To know"))
        )
        assert not re.search(r"\d (mm|g)\b", words), words
        assert "0.0394 in" in words or "11.811 x 11.811 in" in words
    assert sheet_files(result)["wall.dxf"].count(IN_MM.encode()) == 0


def test_bends_are_numbered_in_the_order_they_are_made(result: SheetsResult) -> None:
    leaf = result.items[2]
    said = [t.dxf.text for t in read(part_dxf(leaf)).modelspace().query("TEXT")]
    assert "Up is toward you, down is away. Bend in the order of the numbers." in " ".join(said)
    for number, name in enumerate(leaf.order, 1):
        assert str(number) in said
        assert any(row.startswith(f"{number}  {name}: ") for row in said)
    words = [t.text for t in etree.fromstring(part_view(leaf)).iter("{*}text")]
    assert {str(k) for k in range(1, len(leaf.order) + 1)} <= set(words)
    # one tab has no order to speak of
    assert not any("in the order" in t.dxf.text
                   for t in read(part_dxf(result.items[0])).modelspace().query("TEXT"))  # fmt: skip


def test_a_nest_holds_every_part_inside_its_sheet(result: SheetsResult) -> None:
    (sheet,) = result.sheets
    space = read(nest_dxf(result, sheet)).modelspace()
    (edge,) = space.query('LWPOLYLINE[layer=="SHEET"]')
    corners = np.array([p[:2] for p in edge.get_points()])
    outlines = [np.array([p[:2] for p in e.get_points()]) for e in space.query("LWPOLYLINE")
                if e.dxf.layer == "CUT"]  # fmt: skip
    assert len(outlines) >= len(result.items)
    for points in outlines:
        assert (points >= corners.min(axis=0) + 10.0 - 1e-3).all()
        assert (points <= corners.max(axis=0) - 10.0 + 1e-3).all()
    areas = sum(item.pattern.area for item in result.items)
    assert sheet.used == pytest.approx(areas / math.prod(sheet.size))


def test_the_same_part_is_the_same_file(result: SheetsResult) -> None:
    assert part_dxf(result.items[0]) == part_dxf(result.items[0])
    assert nest_dxf(result, result.sheets[0]) == nest_dxf(result, result.sheets[0])


def test_pictures_are_drawings_that_say_the_warnings(result: SheetsResult) -> None:
    for item in result.items:
        tree = etree.fromstring(part_view(item))
        words = " ".join(tree.itertext())
        assert item.name in words
        assert all(w.code in words for w in item.warnings)
        assert "kerf" in words
    assert "flap flap" in " ".join(etree.fromstring(nest_view(result, result.sheets[0])).itertext())


def test_writes_every_file_and_clears_those_of_parts_that_are_gone(
    job: Path, result: SheetsResult
) -> None:
    out = job / "out" / "sheets"
    out.mkdir(parents=True, exist_ok=True)
    (out / "gone.dxf").write_bytes(b"old")
    (out / "notes.txt").write_bytes(b"kept")
    files = write_sheets(result, job)
    assert {p.name for p in out.iterdir()} == {p.name for p in files} | {"notes.txt"}
    assert {p.suffix for p in files} == {".dxf", ".svg"}


def test_a_file_in_the_way_is_said(tmp_path: Path, result: SheetsResult) -> None:
    (tmp_path / "out").write_bytes(b"")
    with pytest.raises(InputError, match="SAVE-306"):
        write_sheets(result, tmp_path)
