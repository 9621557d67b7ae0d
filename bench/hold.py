# SPDX-License-Identifier: Apache-2.0
"""The whole static hold map of two 100k-triangle pans, beside the same map by a mesh library.

The peer is the same search with the level found by bisection on manifold3d's trim: one level is
timed, and multiplied by the number of levels that the map asks for.
"""

import numpy as np

from bench.level import FILL, _bisected, _manifold
from bench.table import Row, seconds
from sumpwright.geometry.frame import Pose
from sumpwright.geometry.level import level_body
from sumpwright.geometry.mesh import Mesh
from sumpwright.geometry.rim import Rim
from sumpwright.job.model import Job
from sumpwright.studies import hold as study
from sumpwright.studies.bodies import Bodies, PanBodies
from tests.geometry.bodies import rippled_pan


def rows() -> list[Row]:
    """New and stock to the limit in 72 directions, with crank-free slopes and the low mark."""
    mesh = rippled_pan(158)
    pans = [_pan(key, mesh) for key in ("new", "stock")]
    job, bodies = _job(mesh, pans), Bodies(pans[0], pans[1], (), None, Pose(), ())
    for pan in pans:
        assert pan.level.volume > 0.0  # made ready beforehand, as a check does for the fill
    asked = _levels_asked(job, bodies)
    whole = seconds(lambda: study.hold(job, bodies), times=5)
    up = np.array([0.0, 0.0, 1.0])
    body = level_body(mesh)
    trim = _manifold(mesh, up)
    one = seconds(lambda: _bisected(trim, body, up, FILL * body.volume), times=1)
    size = f"{len(mesh.faces):,} triangles each"
    return [
        Row(f"static hold map, stock and new, {size}", whole, must=3.0, aim=1.0),
        Row(f"  peer: {asked:,} levels by bisection of a trim, one timed", whole, one * asked),
    ]


def _pan(key: str, mesh: Mesh) -> PanBodies:
    low, high = mesh.bounds
    centre = np.array([*(0.5 * (low + high))[:2], low[2] + 0.2 * (high[2] - low[2])])
    return PanBodies(key, key, mesh, mesh, None, Rim.circle(centre, (0, 0, -1), radius=0.02))


def _job(mesh: Mesh, pans: list[PanBodies]) -> Job:
    pan = {"cavity": "a.step", "pickup": {"centre": ["0 mm"] * 3, "diameter": "40 mm"}}
    litres = 1e3 * mesh.volume
    return Job.model_validate(
        {
            "job": "bench",
            "new": pan,
            "stock": pan,
            "oil": {"fill": f"{FILL * litres:.6f} L", "low": f"{0.8 * FILL * litres:.6f} L"},
            "engine": {
                "flow": [
                    {"rpm": "0 rpm", "flow": "0 L/min"},
                    {"rpm": "6500 rpm", "flow": "30 L/min"},
                ]
            },
        }
    )


def _levels_asked(job: Job, bodies: Bodies) -> int:
    """How many levels the map needs, counted by looking over its shoulder."""
    count, plain = 0, study.levels_of

    def counting(body, up, volume):  # type: ignore[no-untyped-def]
        nonlocal count
        count += len(np.atleast_2d(up))
        return plain(body, up, volume)

    study.levels_of = counting
    try:
        study.hold(job, bodies)
    finally:
        study.levels_of = plain
    return count
