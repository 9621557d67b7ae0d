# SPDX-License-Identifier: Apache-2.0
"""`prints` as a person reads it, and the files it writes."""

import json
import re
from dataclasses import replace
from pathlib import Path

import pytest
import trimesh
import typer
from typer.testing import CliRunner

from sumpwright.cli.door import door
from sumpwright.cli.housing_text import WIDTH
from sumpwright.cli.prints import prints
from sumpwright.cli.prints_text import prints_text
from sumpwright.errors import SolveError
from sumpwright.geometry.mesh_file import read_mesh
from sumpwright.geometry.soundness import soundness
from sumpwright.report import prints_write
from sumpwright.report.prints_write import write_prints
from sumpwright.studies.prints import prints_of
from sumpwright.studies.prints_result import PrintsResult
from tests.studies.test_prints import folder_of

APP = typer.Typer(pretty_exceptions_enable=False)
APP.command()(door(prints))


def test_every_file_reads_back_closed_and_as_large_as_its_piece(tmp_path: Path) -> None:
    folder = folder_of(tmp_path)
    done = CliRunner().invoke(APP, [str(folder)])
    assert done.exit_code == 0, done.output
    assert max(len(x) for x in done.stdout.splitlines() if str(folder) not in x) <= WIDTH
    out = folder / "out" / "prints"
    result = prints_of(folder)
    assert {p.name for p in out.iterdir()} == {
        f"{p.key}.{end}" for p in result.pieces for end in ("3mf", "stl")
    }
    in_inches(result)
    for piece in result.pieces:
        for end, unit in (("3mf", None), ("stl", 1e-3)):
            read = read_mesh(out / f"{piece.key}.{end}", unit).mesh
            assert soundness(read).watertight
            assert read.volume == pytest.approx(piece.volume_m3, rel=1e-6)
            other = trimesh.load(out / f"{piece.key}.{end}", force="mesh")
            assert other.is_watertight
            assert other.volume == pytest.approx(1e9 * piece.volume_m3, rel=1e-5)


def in_inches(result: PrintsResult) -> None:
    """The same answer to a job in US units."""
    said = prints_text(replace(result, units="us"), (Path("pan-1.stl"),))
    table, _, rest = said.partition("  lies on\n")
    assert table.rstrip().endswith("size [in]      each")
    rows = [row[:56] for row in rest.split("\n\n")[0].splitlines()]
    assert all(re.search(r"\d (oz|lb)$", row) for row in rows), rows
    (peg,) = {j.diameter_m for j in result.joints}
    assert peg is not None
    assert f"pegs of {peg / 0.0254:.3f} in" in said
    assert "3MF and STL of each, in mm" in said
    assert max(map(len, said.splitlines())) <= WIDTH


def test_json_is_the_study_s_own_and_no_files_writes_none(tmp_path: Path) -> None:
    folder = folder_of(tmp_path)
    done = CliRunner().invoke(APP, [str(folder), "--json", "--no-files", "--solid"])
    expected = json.loads(json.dumps(prints_of(folder, solid=True).as_json()))
    assert json.loads(done.stdout) == expected
    assert not (folder / "out" / "prints").exists()


def test_nothing_is_written_where_one_piece_does_not_read_back(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    result = prints_of(folder_of(tmp_path))
    whole = prints_write.stl_bytes

    def cut(mesh: object, name: str) -> bytes:
        text = whole(mesh, name)  # type: ignore[arg-type]
        if name != "pan-2":
            return text
        count = int.from_bytes(text[80:84], "little") - 1  # a triangle short
        return text[:80] + count.to_bytes(4, "little") + text[84:-50]

    monkeypatch.setattr(prints_write, "stl_bytes", cut)
    with pytest.raises(SolveError, match=r"pan-2\.stl does not read back"):
        write_prints(result, tmp_path)
    assert not (tmp_path / "out" / "prints").exists()


def test_a_job_without_a_printer_leaves_with_2(tmp_path: Path) -> None:
    folder = folder_of(tmp_path)
    text = (folder / "job.yaml").read_text()
    (folder / "job.yaml").write_text(text[: text.index("shop:")])
    done = CliRunner().invoke(APP, [str(folder)])
    assert done.exit_code == 2
    assert "PRIN-502" in done.stderr
