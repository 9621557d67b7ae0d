# SPDX-License-Identifier: Apache-2.0
"""The bodies of a pan drawn from numbers: its solids, and the triangles that other studies read."""

from collections.abc import Callable
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

from sumpwright.errors import InputError, Problem, SolveError
from sumpwright.geometry.mesh import Mesh
from sumpwright.geometry.pan_form import PanError, PanForm
from sumpwright.job.load import LoadedJob
from sumpwright.studies.cache import Entry, array_key, kept
from sumpwright.studies.shape_form import pan_form, placed_problems

if TYPE_CHECKING:
    from sumpwright.geometry.cad_pan import PanSolids

Progress = Callable[[str, float], None]
Floats = NDArray[np.float64]


def drawn_meshes(
    loaded: LoadedJob, key: str, progress: Progress | None = None
) -> tuple[Mesh, Mesh]:
    """Inside and outside of the drawn pan under `key`, kept in the job's cache.

    Raises InputError with all that is wrong with its numbers.
    """
    form = pan_form(loaded, key)

    def make() -> Entry:
        return _entry(_made(loaded, key, form, progress))

    entry = kept(loaded.folder, form_key(form), make)
    cavity, outside = (
        Mesh(entry.arrays[f"{name}_vertices"], entry.arrays[f"{name}_faces"])
        for name in ("cavity", "outside")
    )
    return cavity, outside


def drawn_solids(
    loaded: LoadedJob, key: str, form: PanForm | None = None, progress: Progress | None = None
) -> "PanSolids":
    """The solids of the drawn pan under `key`, drawn afresh; InputError where they cannot be.

    Their triangles are kept, so that who reads the job's bodies next does not draw them again.
    """
    known = pan_form(loaded, key) if form is None else form
    made = _made(loaded, key, known, progress)
    kept(loaded.folder, form_key(known), lambda: _entry(made))
    return made


def _made(loaded: LoadedJob, key: str, form: PanForm, progress: Progress | None) -> "PanSolids":
    from sumpwright.geometry.cad import silence
    from sumpwright.geometry.cad_pan import pan_solids

    try:
        silence()
    except ImportError as err:
        raise InputError([_no_kernel(loaded, key, str(err))]) from err
    try:
        return pan_solids(form, progress)
    except PanError as err:
        raise InputError(placed_problems(loaded, key, err)) from err
    except SolveError as err:
        raise InputError([_no_sum(loaded, key, str(err))]) from err


def form_key(form: PanForm) -> str:
    """Of everything that the solids come from; another text when what is made of it changes."""
    return array_key(how=("drawn pan, thick under the crank", _said(form)))


def _said(value: object) -> object:
    """A form's numbers, all the way down, in a text that any change of one changes."""
    if isinstance(value, np.ndarray):
        return value.tolist()
    if isinstance(value, tuple):
        return tuple(_said(v) for v in value)
    names = getattr(value, "__dataclass_fields__", None)
    return value if names is None else tuple(_said(getattr(value, n)) for n in names)


def _entry(made: "PanSolids") -> Entry:
    named = ("cavity", made.cavity_mesh), ("outside", made.outside_mesh)
    return Entry({f"{name}_{part}": a for name, mesh in named for part, a in _arrays(mesh)})


def _arrays(mesh: Mesh) -> tuple[tuple[str, NDArray[np.generic]], ...]:
    return ("vertices", mesh.vertices), ("faces", mesh.faces)


def _no_sum(loaded: LoadedJob, key: str, said: str) -> Problem:
    needed = "solids that add up"
    do = "change the zone that was changed last by a tenth of a millimetre, and report it"
    return Problem("SHAP-514", loaded.where(key, "shape"), said, needed, do)


def _no_kernel(loaded: LoadedJob, key: str, why: str) -> Problem:
    found = f"a pan to draw, and a CAD kernel that does not start here: {why}"
    needed = "the system libraries that the kernel is linked against, libGL above all"
    do = "on Debian or Ubuntu `apt-get install libgl1`; or give the pan as STL, PLY or 3MF files"
    return Problem("GEO-234", loaded.where(key, "shape"), found, needed, do)
