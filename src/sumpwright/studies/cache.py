# SPDX-License-Identifier: Apache-2.0
"""Answers kept in the job's out/cache: what took a second once is there at once the next time.

A key covers the bytes of everything an answer depends on and the version of the code, so an entry
can never be stale. A damaged entry is made afresh, and a folder that cannot be written only means
that nothing is kept.
"""

import hashlib
import io
import json
import zipfile
from collections.abc import Callable
from contextlib import suppress
from dataclasses import asdict, dataclass
from pathlib import Path
from typing import Any

import numpy as np
from numpy.typing import NDArray

from sumpwright import __version__
from sumpwright.atomic import write_atomic
from sumpwright.errors import Finding, InputError
from sumpwright.geometry.mesh import Mesh

CODE = f"{__version__}-3"
"""Raise the last digit when a reader's or a study's answer changes between releases."""


@dataclass(frozen=True, eq=False)
class Entry:
    """Arrays by name, and anything that JSON can hold."""

    arrays: dict[str, NDArray[Any]]
    data: Any = None


def kept(folder: Path, key: str, make: Callable[[], Entry]) -> Entry:
    """The entry kept under `key` in the job `folder`, else what `make` gives, kept from now on."""
    path = folder / "out" / "cache" / f"{key}.npz"
    try:
        return _loaded(path)
    except (OSError, ValueError, KeyError, EOFError, zipfile.BadZipFile):
        fresh = make()
    with suppress(OSError, InputError):
        path.parent.mkdir(parents=True, exist_ok=True)
        write_atomic(path, _packed(fresh))
    return fresh


def file_key(path: Path, *how: object) -> str:
    """Key of a file as it is now, used in the way `how` says."""
    with path.open("rb") as file:
        return _finished(hashlib.file_digest(file, "blake2b"), how)


def mesh_key(*meshes: Mesh, how: tuple[object, ...] = ()) -> str:
    """Key of meshes, used in the way `how` says."""
    digest = hashlib.blake2b()
    for mesh in meshes:
        digest.update(repr((mesh.vertices.shape, mesh.faces.shape)).encode())
        digest.update(mesh.vertices.tobytes())
        digest.update(mesh.faces.tobytes())
    return _finished(digest, how)


def array_key(*arrays: NDArray[Any], how: tuple[object, ...] = ()) -> str:
    """Key of arrays, used in the way `how` says."""
    digest = hashlib.blake2b()
    for array in arrays:
        digest.update(repr((array.shape, array.dtype.str)).encode())
        digest.update(np.ascontiguousarray(array).tobytes())
    return _finished(digest, how)


def mesh_entry(mesh: Mesh, findings: tuple[Finding, ...] = ()) -> Entry:
    """A mesh with what was noticed on reading it, as an entry."""
    said = [asdict(f) for f in findings]
    return Entry({"vertices": mesh.vertices, "faces": mesh.faces}, said)


def entry_mesh(entry: Entry) -> tuple[Mesh, tuple[Finding, ...]]:
    """Back from `mesh_entry`."""
    mesh = Mesh(entry.arrays["vertices"], entry.arrays["faces"])
    return mesh, tuple(Finding(**said) for said in entry.data)


def _finished(digest: Any, how: tuple[object, ...]) -> str:
    digest.update(repr((CODE, how)).encode())
    return str(digest.hexdigest()[:32])


def _loaded(path: Path) -> Entry:
    with path.open("rb") as file, np.load(file, allow_pickle=False) as packed:
        arrays = {name: packed[name] for name in packed.files}
    return Entry(arrays, json.loads(bytes(arrays.pop("json"))))


def _packed(entry: Entry) -> bytes:
    buffer = io.BytesIO()
    text = json.dumps(entry.data).encode()
    arrays: dict[str, Any] = {**entry.arrays, "json": np.frombuffer(text, dtype=np.uint8)}
    np.savez(buffer, **arrays)
    return buffer.getvalue()
