# SPDX-License-Identifier: Apache-2.0
"""Write out/prints/ of a job: each piece as 3MF and STL, read again before it takes its place."""

import tempfile
from pathlib import Path

import numpy as np

from sumpwright.atomic import write_atomic, write_problem
from sumpwright.errors import InputError, SolveError
from sumpwright.geometry.mesh_file import read_mesh
from sumpwright.geometry.soundness import soundness
from sumpwright.report.threemf_write import stl_bytes, threemf_bytes
from sumpwright.studies.prints_result import FOLDER, PrintPiece, PrintsResult

SAME = 1e-6
"""Of a piece's volume; both files hold the single precision that the piece was rounded to, 3MF as
text of a millionth of a millimetre."""


def write_prints(result: PrintsResult, folder: Path) -> tuple[Path, ...]:
    """The paths of the files, in `folder`'s out/prints/."""
    out = folder / "out" / FOLDER
    texts = [(out / name, text) for piece in result.pieces for name, text in _texts(piece)]
    try:
        out.mkdir(parents=True, exist_ok=True)
    except OSError as err:
        raise InputError([write_problem(out, err)]) from err
    for path, text in texts:
        write_atomic(path, text)
    return tuple(path for path, _ in texts)


def _texts(piece: PrintPiece) -> list[tuple[str, bytes]]:
    made = [
        (f"{piece.key}.3mf", threemf_bytes(piece.mesh, piece.key)),
        (f"{piece.key}.stl", stl_bytes(piece.mesh, piece.key)),
    ]
    for name, text in made:
        _read_again(piece, name, text)
    return made


def _read_again(piece: PrintPiece, name: str, text: bytes) -> None:
    """SolveError where a file does not hold the piece."""
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / name
        path.write_bytes(text)
        mesh = read_mesh(path, 1e-3 if path.suffix == ".stl" else None).mesh
    found = soundness(mesh, overlaps=False)
    same = np.isclose(mesh.volume, piece.mesh.volume, rtol=SAME)
    if not (found.sound and found.watertight and same):
        raise SolveError(f"{name} does not read back as the piece it was written from")
