# SPDX-License-Identifier: Apache-2.0
"""Write out/halves/ of a job: each half as STEP, read again before it takes its place; STL where
the pan came as triangles; and the picture of what the cutters reach."""

import tempfile
from pathlib import Path

import numpy as np

from sumpwright.atomic import write_atomic, write_problem
from sumpwright.errors import InputError, SolveError
from sumpwright.geometry.cad_measure import Solid, area, bounds, volume
from sumpwright.geometry.cad_step import step_solid
from sumpwright.geometry.cad_write import step_bytes
from sumpwright.report.halves_view import halves_view
from sumpwright.report.threemf_write import stl_bytes
from sumpwright.studies.halves import Halved
from sumpwright.studies.halves_half import KEYS, Piece

FOLDER = "halves"
SAME = 2e-4
"""Of volume and area: the kernel fits edges anew on reading; 5.5e-5 of a half was seen where
leaning sides run into rounded floors."""
NEAR = 1e-6
"""m; of the bounds: STEP holds 15 digits, the kernel's edges some 1e-7 m."""


def write_halves(halved: Halved) -> tuple[Path, ...]:
    """The paths of the files, in the job's out/halves/."""
    out = halved.folder / "out" / FOLDER
    texts = [(out / name, text) for name, text in halves_files(halved)]
    try:
        out.mkdir(parents=True, exist_ok=True)
    except OSError as err:
        raise InputError([write_problem(out, err)]) from err
    for path, text in texts:
        write_atomic(path, text)
    return tuple(path for path, _ in texts)


def halves_files(halved: Halved) -> list[tuple[str, bytes]]:
    """Names and contents of both halves and the picture; SolveError where STEP loses something."""
    found = [_half(piece) for piece in (halved.upper, halved.lower)]
    return [*found, ("reach.svg", halves_view(halved))]


def _half(piece: Piece) -> tuple[str, bytes]:
    key = KEYS[piece.number]
    if piece.half is None:
        return f"{key}.stl", stl_bytes(piece.mesh, key)
    text = step_bytes([piece.half.solid], key)
    _read_again(piece.half.solid, f"{key}.step", text)
    return f"{key}.step", text


def _read_again(solid: Solid, name: str, text: bytes) -> None:
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / name
        path.write_bytes(text)
        again = step_solid(path)
    same = (
        np.isclose(volume(again), volume(solid), rtol=SAME)
        and np.isclose(area(again), area(solid), rtol=SAME)
        and np.allclose(bounds(again), bounds(solid), rtol=0.0, atol=NEAR)
    )
    if not same:
        raise SolveError(f"{name} does not read back as the half it was written from")
