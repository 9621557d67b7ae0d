# SPDX-License-Identifier: Apache-2.0
"""Bolt holes read off a flange in the job's own geometry files."""

from collections.abc import Callable
from pathlib import Path

from sumpwright.errors import InputError, Problem, RangeError
from sumpwright.geometry.flat_section import FlangeHole, flange_cut
from sumpwright.geometry.mesh import Mesh
from sumpwright.job.load import LoadedJob, load_job
from sumpwright.studies.body_file import read_bodies
from sumpwright.studies.rail_scan import Found, FoundHole, laid_on, nothing_round, usual_sizes

Progress = Callable[[str, float], None]


def mesh_scan_of(
    folder: Path, sizes: tuple[float, float] | None = None, progress: Progress | None = None
) -> Found:
    """Round holes of the stock pan's flange, else of the new pan's; InputError where none is."""
    loaded = load_job(folder)
    low, high = sizes or usual_sizes(loaded)
    bodies = read_bodies(loaded, progress)
    tried: list[str] = []
    for key, mesh in (
        ("stock.outside", None if bodies.stock is None else bodies.stock.outside),
        ("stock.cavity", None if bodies.stock is None else bodies.stock.cavity),
        ("new.outside", bodies.new.outside),
    ):
        if mesh is None:
            continue
        tried.append(key)
        found = _found(loaded, key, mesh, low, high)
        if found is not None:
            return found
    if not tried:
        raise InputError([_no_flange(loaded, "no body of a pan with its flange")])
    raise InputError([nothing_round(f"{loaded.path.name}  {', '.join(tried)}", low, high)])


def _found(loaded: LoadedJob, key: str, mesh: Mesh, low: float, high: float) -> Found | None:
    try:
        cut = flange_cut(mesh, smallest=low, largest=high)
    except RangeError as err:
        raise InputError([_no_flange(loaded, f"{key}: {err}")]) from err
    if not cut.holes:
        return None
    holes, laid = laid_on(loaded, [_hole(k, hole) for k, hole in enumerate(cut.holes)])
    note = (
        f"Cut {1e3 * (mesh.bounds[1, 2] - cut.height):.3g} mm under the top of {key}, "
        f"{1e3 * cut.height:+.3g} mm from the rail."
    ).replace("-", "−")
    return Found(
        job=loaded.job.job,
        revision=loaded.job.revision,
        units=loaded.job.units,
        source=key,
        how="stock mesh",
        holes=holes,
        scale_m=0.0,
        scale_spread=0.0,
        laid=laid,
        designed=len(loaded.job.rail.holes) if loaded.job.rail is not None else 0,
        notes=(note, "A mesh's holes are as large as its corners say: it was drawn or scanned so."),
        picture=None,
        outlines=cut.outlines,
    )


def _hole(number: int, hole: FlangeHole) -> FoundHole:
    ragged = hole.rms / (0.5 * hole.diameter)
    return FoundHole(
        name=str(number + 1),
        at_m=(hole.x, hole.y),
        diameter_m=hole.diameter,
        spread_m=hole.rms / hole.corners**0.5,
        sure="sure" if ragged < 0.005 and hole.corners >= 12 else "fair",
        ring=(0.0, 0.0, 0.0),
    )


def _no_flange(loaded: LoadedJob, found: str) -> Problem:
    return Problem(
        "RAIL-511",
        loaded.where("stock", "outside"),
        found,
        "a closed body of the pan with its flange, flat on top: `stock.outside` or `new.outside`",
        "name one, or mend it (`repair: true` beside the file)",
    )
