# SPDX-License-Identifier: Apache-2.0
"""A minute of manoeuvre in the demo's pan, six compartments and three doors, on one core.

The peers are scipy's general solvers for stiff problems on the same equations: our compiled rates
called from Python, relative tolerance 1e-4, a level's error of 0.02 mm as absolute: at ten times
that they end by up to six hundredths of a compartment elsewhere. They are given the pan with its
doors stuck open: doors that slam are events, past which they hardly get. What they end with must be
ours, or there is nothing to compare.
"""

import shutil
import tempfile
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from time import perf_counter

import numpy as np
from numpy.typing import NDArray

from bench.table import Row, seconds
from sumpwright.job.load import LoadedJob, load_job
from sumpwright.oil.network import run
from sumpwright.oil.network_array import Forcing
from sumpwright.oil.network_march import Marched
from sumpwright.oil.network_rate import rates
from sumpwright.oil.network_solve import bench_of
from sumpwright.oil.network_surface import drive_at
from sumpwright.studies.asked import Asked, Driven, driven
from sumpwright.studies.bodies import Bodies
from sumpwright.studies.body_file import read_bodies
from sumpwright.studies.compartment import parted
from sumpwright.studies.drive import Run, driven_run
from sumpwright.studies.motion_result import Doors
from sumpwright.studies.network import Ready, ready

Floats = NDArray[np.float64]

DEMO = Path(__file__).parent.parent / "examples" / "demo-b"
MINUTE = 60.0
TIGHT = 2e-5
"""m; a tenth of what our steps may be off, of a level."""
CLOSE = 0.005
"""Of a compartment: how far from the answer at a tight tolerance a solver may end."""


def rows() -> list[Row]:
    """Figure-eights, a long circle and a slalom; the eights beside two solvers, for 5 s of them."""
    eights = demo_run("eight", laps="4")
    circle = demo_run("left circle", duration="57 s")
    slalom = demo_run("six-pace slalom", cones="50")
    promised = seconds(lambda: ours(eights), times=9) * MINUTE / eights.driven.motion.duration
    short = demo_run("eight", "stuck open", laps="1")
    end = 5.0
    mine = seconds(lambda: ours(short, end), times=9)
    steps = ours(eights).steps
    told = f"{len(eights.ready.bodies)} compartments"
    return [
        Row(
            f"60 s of figure-eights, {told}, {steps} steps in "
            f"{eights.driven.motion.duration:.0f} s; 1,000 and 5,000 times real time",
            promised,
            must=0.06,
            aim=0.012,
        ),
        *(
            Row(f"  60 s of {name}", seconds(lambda r=r: ours(r), times=9) * MINUTE / length(r))
            for name, r in (("a steady circle", circle), ("slalom", slalom))
        ),
        *(
            Row(
                f"  5 s of eight, doors stuck open; peer: scipy's {method}",
                mine,
                peer(short, end, method),
            )
            for method in ("Radau", "BDF")
        ),
    ]


def length(done: Run) -> float:
    return done.driven.motion.duration


@dataclass(frozen=True, eq=False)
class Parts:
    """The demo's pan and a manoeuvre, everything made ready."""

    loaded: LoadedJob
    bodies: Bodies
    made: Ready
    todo: Driven
    doors: Doors


def demo_parts(name: str, doors: Doors = "working", **options: str) -> Parts:
    """The demo's job read from a scratch copy."""
    with tempfile.TemporaryDirectory() as scratch:
        job = Path(scratch) / "job"
        shutil.copytree(DEMO, job, ignore=shutil.ignore_patterns("out"))
        loaded = load_job(job)
        bodies = read_bodies(loaded)
        todo = driven(loaded, Asked(name, options))
        found = parted(loaded.job, bodies, folder=loaded.folder)
        made = ready(loaded, bodies, found, todo.temperature, doors)
    return Parts(loaded, bodies, made, todo, doors)


def drive_parts(parts: Parts) -> Run:
    return driven_run(parts.loaded, parts.bodies, parts.made, parts.todo, parts.doors)


def demo_run(name: str, doors: Doors = "working", **options: str) -> Run:
    """The demo's pan driven once."""
    return drive_parts(demo_parts(name, doors, **options))


def ours(done: Run, end: float | None = None) -> Marched:
    """What the integrator says of a run, nothing kept on the way."""
    forcing = done.forcing if end is None else _until(done, end)
    return run(done.ready.net, forcing, done.start.state, [])[0].marched


def _until(done: Run, end: float) -> Forcing:
    count = int(np.searchsorted(done.forcing.time, end)) + 1
    forcing = done.forcing
    cut = [part[:count] for part in (forcing.time, forcing.force, forcing.flow, forcing.rate)]
    return Forcing(*cut, forcing.stops[forcing.stops < cut[0][-1]])


def peer(done: Run, end: float, method: str) -> float:
    """Seconds that a general solver takes for the same."""
    from scipy.integrate import solve_ivp

    forcing = _until(done, end)
    until = float(forcing.time[-1])
    start = done.start.state
    best = run(done.ready.net, forcing, start, [], level=1e-6)[1]
    begun = perf_counter()
    found = solve_ivp(
        right_side(done, forcing),
        (0.0, until),
        start,
        method,
        rtol=1e-4,
        atol=allowed(done),
        first_step=1e-3,
        max_step=0.25,
    )
    taken = perf_counter() - begun
    assert found.success, found.message
    n, room = len(done.ready.bodies), done.ready.net.pools.capacity
    apart = np.abs(found.y[:n, -1] - best[:n]) / room
    assert apart.max() < CLOSE, f"{method} ends elsewhere: {apart}"
    plain = run(done.ready.net, forcing, start, [])[1]
    assert (np.abs(plain[:n] - best[:n]) / room).max() < CLOSE
    return taken


def right_side(done: Run, forcing: Forcing) -> Callable[[float, Floats], Floats]:
    """Our compiled rates as a general solver wants them."""
    net = done.ready.net
    bench, none = bench_of(len(done.ready.bodies)), np.zeros((1, 1))
    nodes = forcing.time

    def rate(time: float, y: Floats) -> Floats:
        out = np.zeros(len(y))
        drive_at(forcing, int(np.searchsorted(nodes, time)), time, bench)
        rates(net, y, out, none, bench, False)
        return out

    return rate


def allowed(done: Run) -> Floats:
    """Absolute tolerances: 0.02 mm of each surface, and as much at the end of its tilt."""
    pools = done.ready.net.pools
    tilt = np.repeat(TIGHT / pools.lever, 3)
    area = 10.0 * pools.least_area
    return np.concatenate([TIGHT * area, [1e-7, 1e-7], tilt, 10.0 * tilt])
