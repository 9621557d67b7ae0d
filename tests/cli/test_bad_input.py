# SPDX-License-Identifier: Apache-2.0
"""Every bad input that was thought of, as a person meets it: one clear sentence and status 2."""

import resource
import struct
import subprocess
import zipfile
from collections.abc import Callable
from pathlib import Path

import numpy as np
import pytest

from sumpwright.geometry.mesh import Mesh
from tests.cli.test_hostile import no_traceback, started
from tests.studies.box_job import BOX, JOB, box_job, box_mesh, write_stl

WHOLE = box_mesh(*BOX)
SECOND = box_mesh((0.2, -0.05, -0.05), (0.5, 0.05, 0.05))
MODEL = '<model xmlns="http://schemas.microsoft.com/3dmanufacturing/core/2015/02">'
STEP_HEAD = (
    "ISO-10303-21;\nHEADER;\nFILE_DESCRIPTION((''),'2;1');\nFILE_NAME('','',(''),(''),'','','');\n"
    "FILE_SCHEMA(('AUTOMOTIVE_DESIGN'));\nENDSEC;\nDATA;\nENDSEC;\nEND-ISO-10303-21;\n"
)


def together(*meshes: Mesh) -> Mesh:
    starts = np.cumsum([0, *(len(m.vertices) for m in meshes)])
    faces = [m.faces + start for m, start in zip(meshes, starts, strict=False)]
    return Mesh(np.concatenate([m.vertices for m in meshes]), np.concatenate(faces))


def archive(*parts: tuple[str, str]) -> Callable[[Path], None]:
    def write(path: Path) -> None:
        with zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED) as packed:
            for name, text in parts:
                packed.writestr(name, text)

    return write


def mesh(body: Mesh) -> Callable[[Path], None]:
    return lambda path: write_stl(path, body)


def content(data: bytes) -> Callable[[Path], None]:
    return lambda path: path.write_bytes(data) and None


NAN = WHOLE.corners.astype("<f4").copy()
NAN[4, 1, 2] = np.nan
NAN_STL = bytes(80) + struct.pack("<I", 12) + b"".join(
    bytes(12) + corners.tobytes() + bytes(2) for corners in NAN
)  # fmt: skip
BOMB = archive(("3D/3dmodel.model", MODEL + " " * (300 << 20)))

CASES: dict[str, tuple[str, Callable[[Path], None], str, str]] = {
    # file, how it is written, code, a part of what was found
    "open": ("c.stl", mesh(Mesh(WHOLE.vertices, WHOLE.faces[1:])), "GEO-301", "3 open edges near"),
    "flipped": ("c.stl", mesh(WHOLE.flipped()), "GEO-306", "inside out"),
    "overlapping": ("c.stl", mesh(together(WHOLE, SECOND)), "GEO-310", "runs through itself"),
    "no triangles": ("c.stl", content(bytes(84)), "GEO-212", "no triangles"),
    "no bytes": ("c.stl", content(b""), "GEO-204", "an empty file"),
    "not finite": ("c.stl", content(NAN_STL), "GEO-211", "1 triangle with a corner that is no"),
    "cut short": ("c.stl", content(NAN_STL[:-9]), "GEO-210", "bytes where 12 triangles take"),
    "too many": (
        "c.stl", content(bytes(80) + struct.pack("<I", 4_000_000_000) + bytes(50)), "GEO-207",
        "4,000,000,000 triangles",
    ),
    "STEP without solids": ("c.step", content(STEP_HEAD.encode()), "GEO-231", "no shapes at all"),
    "STEP garbled": ("c.step", content(b"ISO-10303-21;" + bytes(range(1, 256)) * 9), "GEO-230",
                     "cannot be read"),
    "bomb": ("c.3mf", BOMB, "GEO-221", "unpacks to"),
    "path escape": ("c.3mf", archive(("../../c.model", MODEL)), "GEO-222", "'../../c.model'"),
    "entities": (
        "c.3mf", archive(("3D/3dmodel.model", '<!DOCTYPE m [<!ENTITY a "aa">]>' + MODEL)),
        "GEO-223", "document type or entities",
    ),
    "no archive": ("c.3mf", content(b"PK\x03\x04 and no more"), "GEO-220", "not a ZIP archive"),
    "no model": ("c.3mf", archive(("hello.txt", "x")), "GEO-224", "without the model part"),
    "another kind": ("c.ply", content(STEP_HEAD.encode()), "GEO-206", "STEP file whose name"),
}  # fmt: skip


@pytest.mark.slow
@pytest.mark.parametrize("name", CASES)
def test_a_bad_geometry_file_is_named_by_line_and_key(name: str, tmp_path: Path) -> None:
    file, write, code, found = CASES[name]
    unit = ", unit: mm" if file.endswith(("stl", "ply")) else ""
    text = JOB.replace("geometry/cavity.stl, unit: mm", f"geometry/{file}{unit}")
    folder = box_job(tmp_path / "Ölwanne 2 車", text)
    write(folder / "geometry" / file)
    done = started("check", folder)
    said = no_traceback(done)
    assert (done.returncode, done.stdout) == (2, "")
    assert f"job.yaml:3  new.cavity -> geometry/{file}  [{code}]\n" in said
    lines = said.splitlines()
    at = lines.index(f"job.yaml:3  new.cavity -> geometry/{file}  [{code}]")
    assert found in lines[at + 1]
    assert [line[:10] for line in lines[at + 1 : at + 4]] == [
        "  found   ",
        "  needed  ",
        "  do      ",
    ]
    assert said.endswith("nothing was done.\n")
    assert not list((folder / "out").rglob("*.*"))


@pytest.mark.slow
def test_a_file_over_the_stated_size_is_not_read(tmp_path: Path) -> None:
    folder = box_job(tmp_path)
    with (folder / "geometry" / "cavity.stl").open("r+b") as file:
        file.truncate(5 << 30)  # takes no room on a disk that keeps holes
    said = no_traceback(started("check", folder))
    assert "[GEO-207]\n  found   a file of 5,120 MiB\n  needed  at most 5 million" in said


@pytest.mark.slow
def test_a_verdict_on_a_full_disk_says_that_the_report_is_missing(tmp_path: Path) -> None:
    started("check", box_job(tmp_path / "first"))  # so that compiled code need not be kept below
    folder = box_job(tmp_path / "full")

    def nearly_full() -> None:  # a limit on the size of a file stands in for the disk's end
        resource.setrlimit(resource.RLIMIT_FSIZE, (5000, 5000))

    before = (folder / "job.yaml").read_bytes()
    done = started("check", folder, preexec_fn=nearly_full)
    assert "[SAVE-303]" in no_traceback(done)
    assert done.stdout.split("\n")[0].endswith("box, revision A")
    assert done.returncode == 2
    assert [p.name for p in (folder / "out").iterdir()] == ["cache"]
    assert (folder / "job.yaml").read_bytes() == before


def test_saving_on_a_full_disk_leaves_what_was_there(tmp_path: Path) -> None:
    folder = box_job(tmp_path)
    before = (folder / "job.yaml").read_bytes()

    def full() -> None:
        resource.setrlimit(resource.RLIMIT_FSIZE, (10, 10))

    for command in (("set", folder, "oil.fill", "2 L"), ("revise", folder)):
        done: subprocess.CompletedProcess[str] = started(*command, preexec_fn=full)
        assert "[SAVE-303]" in no_traceback(done)
        assert done.returncode == 2
    new = started("new", tmp_path / "other", "--yes", preexec_fn=full)
    assert "[SAVE-303]" in no_traceback(new)
    assert not (tmp_path / "other").exists()
    assert (folder / "job.yaml").read_bytes() == before
    assert not [p for p in folder.rglob("*") if "part" in p.name]
