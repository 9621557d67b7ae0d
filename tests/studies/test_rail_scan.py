# SPDX-License-Identifier: Apache-2.0
"""Holes found in drawn pictures and in a mesh, kept only when asked; bad pictures refused."""

import struct
import zlib
from pathlib import Path

import numpy as np
import pytest
from PIL import Image

from sumpwright.errors import InputError
from sumpwright.job.load import load_job
from sumpwright.studies.rail import rail_of
from sumpwright.studies.rail_keep import keep_found
from sumpwright.studies.rail_mesh import mesh_scan_of
from sumpwright.studies.rail_picture import grey_picture
from sumpwright.studies.rail_scan import ScanAsk, scan_of
from tests.geometry.picture import discs
from tests.geometry.test_flat_section import HOLES, plate
from tests.studies.box_job import JOB, box_job
from tests.studies.rail_job import NAMES, SPOTS, rail_job, turned

DPI = 100.0
ELEMENT = 25.4 / DPI
"""mm"""


def scanned(path: Path, spots: np.ndarray, *, seen_below: bool = False, small: float = 1.0) -> Path:
    """A scan at 100 dpi of 7 mm holes at spots [mm], askew, through the glass if from below."""
    p = turned(spots * [1.0, -1.0 if seen_below else 1.0], 8.0) * small
    p = p - p.min(axis=0) + 15.0
    high = int(np.ptp(p[:, 1]) / ELEMENT + 30.0 / ELEMENT)
    wide = int(np.ptp(p[:, 0]) / ELEMENT + 30.0 / ELEMENT)
    circles = [(x / ELEMENT, high - y / ELEMENT, 3.5 / ELEMENT) for x, y in p]
    Image.fromarray((255 * discs(high, wide, circles)).astype(np.uint8)).save(path, dpi=(DPI, DPI))
    return path


@pytest.mark.parametrize("seen_below", [False, True])
def test_a_scan_is_found_laid_over_the_design_and_kept_when_asked(tmp_path, seen_below) -> None:
    folder = rail_job(tmp_path / "job")
    before = (folder / "job.yaml").read_bytes()
    found = scan_of(
        folder, ScanAsk(scanned(tmp_path / "s.png", SPOTS, seen_below=seen_below), dpi=DPI)
    )
    assert [h.name for h in found.holes] == NAMES
    assert found.laid is not None
    assert found.laid.mirrored == seen_below
    assert found.laid.rms_m < 0.05e-3  # a fifth of an element
    assert [1e3 * h.diameter_m for h in found.holes] == pytest.approx([7.0] * 10, abs=0.1)
    assert (folder / "job.yaml").read_bytes() == before  # nothing yet
    assert "10 holes" in keep_found(folder, found, "scan")
    (kept,) = rail_of(folder).sets
    assert kept.seen == ("below" if seen_below else "above")
    assert kept.rms_m == pytest.approx(found.laid.rms_m, abs=2e-6)  # written to a thousandth
    with pytest.raises(InputError, match="RAIL-510"):
        keep_found(folder, found, "scan")


def test_a_scanner_s_scale_error_comes_out(tmp_path: Path) -> None:
    folder = rail_job(tmp_path / "job")
    found = scan_of(folder, ScanAsk(scanned(tmp_path / "s.png", SPOTS, small=0.996), dpi=DPI))
    keep_found(folder, found, "flatbed")
    (kept,) = rail_of(folder).sets
    assert kept.scale.told
    assert kept.scale.scale == pytest.approx(0.996, abs=3e-4)


def test_without_a_design_the_holes_become_the_design(tmp_path: Path) -> None:
    folder = box_job(tmp_path / "job")
    found = scan_of(folder, ScanAsk(scanned(tmp_path / "s.png", SPOTS), dpi=DPI))
    assert found.laid is None
    keep_found(folder, found, "scan")
    holes = load_job(folder).job.rail.holes
    assert len(holes) == 10
    got = np.array([h.at for h in holes])
    assert got[:, 0].min() == pytest.approx(0.0, abs=1e-9)
    apart = np.linalg.norm(got[:, None] - got[None], axis=2)
    true = 1e-3 * np.linalg.norm(SPOTS[:, None] - SPOTS[None], axis=2)
    np.testing.assert_allclose(np.sort(apart, axis=None), np.sort(true, axis=None), atol=1e-4)


def test_what_is_no_bolt_hole_is_left_out_by_its_name(tmp_path: Path) -> None:
    folder = box_job(tmp_path / "job")
    found = scan_of(folder, ScanAsk(scanned(tmp_path / "s.png", SPOTS), dpi=DPI))
    before = (folder / "job.yaml").read_bytes()
    with pytest.raises(InputError, match="RAIL-510"):
        keep_found(folder, found, "scan", ("3", "77"))
    assert (folder / "job.yaml").read_bytes() == before
    keep_found(folder, found, "scan", ("3", "7"))
    names = {h.name for h in load_job(folder).job.rail.holes}
    assert names == {str(k) for k in range(1, 11)} - {"3", "7"}


def test_a_symmetric_pattern_is_not_kept_by_guess(tmp_path: Path) -> None:
    box = np.array([[0, 0], [100, 0], [200, 0], [200, 80], [100, 80], [0, 80]], dtype=float)
    folder = box_job(
        tmp_path / "job",
        JOB + "rail:\n  holes:\n" + "".join(
            f"    - {{name: {k}, at: [{x} mm, {y} mm]}}\n" for k, (x, y) in enumerate(box)
        ),
    )  # fmt: skip
    found = scan_of(folder, ScanAsk(scanned(tmp_path / "s.png", box), dpi=DPI))
    assert found.laid is not None
    assert found.laid.others == 3
    before = (folder / "job.yaml").read_bytes()
    with pytest.raises(InputError, match="4 ways of laying"):
        keep_found(folder, found, "scan")
    assert (folder / "job.yaml").read_bytes() == before


def test_a_stock_mesh_s_flange_has_its_holes_read_off(tmp_path: Path) -> None:
    text = JOB + "stock:\n  cavity: {file: geometry/cavity.stl, unit: mm}\n"
    text += "  outside: {file: geometry/stock.stl, unit: mm}\n"
    folder = box_job(tmp_path, text, stock=plate(square=False))
    found = mesh_scan_of(folder)
    assert found.how == "stock mesh"
    assert found.source == "stock.outside"
    assert len(found.holes) == len(HOLES)
    for hole in HOLES:
        assert min(np.linalg.norm(np.subtract(h.at_m, hole)) for h in found.holes) < 1e-6
    keep_found(folder, found, "stock")
    assert len(load_job(folder).job.rail.holes) == len(HOLES)


def test_a_mesh_without_holes_or_flange_says_so(tmp_path: Path) -> None:
    with pytest.raises(InputError, match="RAIL-511"):
        mesh_scan_of(box_job(tmp_path / "a"))
    text = JOB.replace("oil:", "  outside: {file: geometry/cavity.stl, unit: mm}\noil:")
    with pytest.raises(InputError, match="RAIL-509"):
        mesh_scan_of(box_job(tmp_path / "b", text))


def bomb(path: Path) -> Path:
    """A PNG of a few bytes that says it has 60000 x 60000 elements."""

    def chunk(kind: bytes, data: bytes) -> bytes:
        crc = zlib.crc32(kind + data)
        return struct.pack(">I", len(data)) + kind + data + struct.pack(">I", crc)

    head = struct.pack(">IIBBBBB", 60000, 60000, 8, 0, 0, 0, 0)
    body = chunk(b"IHDR", head) + chunk(b"IDAT", zlib.compress(b"\0" * 1000)) + chunk(b"IEND", b"")
    path.write_bytes(b"\x89PNG\r\n\x1a\n" + body)
    return path


def test_pictures_that_are_none_are_refused_in_one_problem(tmp_path: Path) -> None:
    text = tmp_path / "a.png"
    text.write_text("no picture")
    cut = tmp_path / "b.png"
    scanned(cut, SPOTS)
    cut.write_bytes(cut.read_bytes()[:4000])
    gif = tmp_path / "c.gif"
    Image.new("L", (50, 50)).save(gif)
    for path, code in (
        (text, "RAIL-506"), (cut, "RAIL-506"), (gif, "RAIL-506"), (tmp_path, "RAIL-506"),
        (tmp_path / "none.png", "RAIL-506"), (bomb(tmp_path / "d.png"), "RAIL-507"),
    ):  # fmt: skip
        with pytest.raises(InputError) as caught:
            grey_picture(path)
        assert [p.code for p in caught.value.problems] == [code], path


@pytest.mark.parametrize("mode", ["1", "L", "LA", "P", "RGB", "RGBA", "CMYK", "I;16"])
def test_every_kind_of_picture_comes_out_grey(tmp_path: Path, mode: str) -> None:
    path = tmp_path / ("p.tif" if mode in ("CMYK", "I;16") else "p.png")
    grey = np.tile(np.linspace(0, 255, 64).astype(np.uint8), (32, 1))
    picture = Image.fromarray(grey)
    deep = (
        Image.fromarray(grey.astype(np.uint16) * 257) if mode == "I;16" else picture.convert(mode)
    )
    deep.save(path)
    found = grey_picture(path)
    assert found.shape == (32, 64)
    assert found.dtype == np.float32
    assert found[0, 0] < 0.05
    assert found[0, -1] > 0.95


def test_scales_and_sizes_that_cannot_be_are_refused(tmp_path: Path) -> None:
    folder = rail_job(tmp_path / "job")
    picture = scanned(tmp_path / "s.png", SPOTS)
    for ask, code in (
        (ScanAsk(picture), "RAIL-508"),
        (ScanAsk(picture, dpi=100.0, bar=(0, 0, 100, 0, 0.1)), "RAIL-508"),
        (ScanAsk(picture, bar=(0, 0, 3, 4, 0.1)), "RAIL-508"),
        (ScanAsk(picture, dpi=30.0, sizes=(0.002, 0.003)), "RAIL-508"),
        (ScanAsk(picture, dpi=DPI, sizes=(0.02, 0.03)), "RAIL-509"),
    ):
        with pytest.raises(InputError) as caught:
            scan_of(folder, ask)
        assert [p.code for p in caught.value.problems] == [code]
