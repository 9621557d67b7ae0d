# SPDX-License-Identifier: Apache-2.0
"""Put holes that were found, and looked at, into the job file: once, and only when asked."""

from dataclasses import replace
from pathlib import Path

import numpy as np

from sumpwright.errors import InputError, Problem
from sumpwright.job.entry import Part, with_part
from sumpwright.job.load import job_path, load_job, read_bytes
from sumpwright.job.save import save_text
from sumpwright.studies.rail_scan import Found, FoundHole


def keep_found(folder: Path, found: Found, name: str, leave: tuple[str, ...] = ()) -> str:
    """Write the holes as `rail.measured`, or as `rail.holes` where the job has none; what was done.

    Refused, with nothing written, where they lie on the design in no way or in more than one.
    Holes that `leave` names, as the marked picture has them, are left out.
    """
    found = _without(found, leave)
    loaded = load_job(folder)
    rail = loaded.job.rail
    path = job_path(folder)
    before = read_bytes(path)
    if rail is None or not rail.holes:
        part: Part = [_entry(hole, at) for hole, at in _aligned(found)]
        new = with_part(before.decode("utf-8"), ("rail", "holes"), part)
        save_text(path, before, new)
        return f"{len(found.holes)} holes written as rail.holes, with axes of the pattern's own"
    if any(measured.name == name for measured in rail.measured):
        raise InputError([_name_taken(loaded.where("rail", "measured"), name)])
    if found.laid is None or found.laid.others:
        raise InputError([_unclear(found)])
    kept = [h for h in found.holes if not h.name.startswith("extra ")]
    measured: Part = {
        "name": name,
        "how": found.how,
        "seen": "below" if found.laid.mirrored else "above",
        "holes": [_entry(hole, hole.at_m) for hole in kept],
    }
    keys = ("rail", "measured", len(rail.measured))
    save_text(path, before, with_part(before.decode("utf-8"), keys, measured))
    return f"{len(kept)} holes written as rail.measured, {name}"


def _without(found: Found, leave: tuple[str, ...]) -> Found:
    names = [hole.name for hole in found.holes]
    strange = [name for name in leave if name not in names]
    if strange or len(leave) >= len(names):
        said = strange[0] if strange else f"all {len(names)} holes"
        needed = f"names from the marked picture: {', '.join(names[:40])}"
        raise InputError([Problem("RAIL-510", "--leave", said, needed, "correct the name")])
    return replace(found, holes=tuple(hole for hole in found.holes if hole.name not in leave))


def _aligned(found: Found) -> list[tuple[FoundHole, tuple[float, float]]]:
    """Holes in axes along the pattern: the long way along x from its rear hole, y about the middle.

    A mesh has the engine's axes already.
    """
    if found.how == "stock mesh":
        return [(hole, hole.at_m) for hole in found.holes]
    p = np.array([hole.at_m for hole in found.holes])
    away = p - p.mean(axis=0)
    axes = np.linalg.svd(away, full_matrices=False)[2] if len(p) > 1 else np.eye(2)
    long = axes[0] * (1.0 if axes[0][0] >= 0.0 else -1.0)
    q = np.column_stack([away @ long, away @ np.array([-long[1], long[0]])])
    q -= [q[:, 0].min(), 0.5 * (q[:, 1].min() + q[:, 1].max())]
    spots = [(float(x), float(y)) for x, y in q]
    order = sorted(range(len(spots)), key=lambda k: (round(spots[k][0], 2), spots[k][1]))
    return [(found.holes[k], spots[k]) for k in order]


def _entry(hole: FoundHole, at: tuple[float, float]) -> dict[str, Part]:
    return {"name": hole.name, "at": [f"{1e3 * c:.3f} mm" for c in at]}


def _name_taken(where: str, name: str) -> Problem:
    return Problem(
        "RAIL-510",
        where,
        f"a measurement called {name} already",
        "a name of its own",
        "give another with --name",
    )


def _unclear(found: Found) -> Problem:
    if found.laid is None:
        said = f"{len(found.holes)} holes that do not lie on rail.holes"
        do = "look at the marked picture: check the scale, or type them in under rail.measured"
    else:
        said = f"{found.laid.others + 1} ways of laying the holes found on rail.holes"
        do = "the pattern is symmetric: type them in under rail.measured, each by its name"
    needed = "one way in which each hole found is one of the design's"
    return Problem("RAIL-510", found.source, said, needed, do)
