# SPDX-License-Identifier: Apache-2.0
"""How large a geometry file may be, and how a reader says what is wrong with one."""

from pathlib import Path

from sumpwright.errors import InputError, Problem

MAX_BYTES = 2**30
"""Largest file read, 1 GiB: above what a scanner writes for a pan, below what fills a laptop."""
MAX_STEP_BYTES = 2**28
"""Largest STEP file read, 256 MiB: the CAD kernel needs some twenty times that in memory."""
MAX_TRIANGLES = 5_000_000
"""Most triangles read; a finer scan of a pan says nothing more."""


def bad_file(code: str, path: Path, *, found: str, needed: str, do: str) -> InputError:
    """An `InputError` of one problem with a file.

    Parameters
    ----------
    code : str [-]
        Stable, with a heading in docs/problems.md.
    path : Path [-]
        The file, shown as given.
    found : str [-]
        What is wrong.
    needed : str [-]
        What would be right.
    do : str [-]
        The mend.

    Returns
    -------
    error : InputError
        To be raised by the caller.
    """
    return InputError([Problem(code, str(path), found, needed, do)])


def too_large(path: Path, found: str) -> InputError:
    """The error for a file over a stated limit.

    Parameters
    ----------
    path : Path [-]
        The file.
    found : str [-]
        Its size, with unit.

    Returns
    -------
    error : InputError
        To be raised by the caller.
    """
    return bad_file(
        "GEO-207",
        path,
        found=found,
        needed=f"at most {MAX_TRIANGLES / 1e6:.0f} million triangles, {MAX_BYTES / 2**30:.0f} GiB"
        f" ({MAX_STEP_BYTES / 2**20:.0f} MiB for STEP)",
        do="thin the mesh in the scanner's or CAD program's export; 0.1 mm detail is enough",
    )


def check_file_size(path: Path) -> None:
    """Raise where a file is over the size that is read, before anything looks into it.

    Parameters
    ----------
    path : Path [-]
        The file, which is there.

    Raises
    ------
    InputError
        GEO-207.
    """
    size = path.stat().st_size
    if size > MAX_BYTES:
        raise too_large(path, f"a file of {size / 2**20:,.0f} MiB")


def check_triangle_count(path: Path, count: int) -> None:
    """Raise where a file holds more triangles than are read.

    Parameters
    ----------
    path : Path [-]
        The file.
    count : int [-]
        What its header promises, or what was counted.

    Raises
    ------
    InputError
        GEO-207.
    """
    if count > MAX_TRIANGLES:
        raise too_large(path, f"{count:,} triangles")
