# SPDX-License-Identifier: Apache-2.0
"""Does the bolt pattern go onto the engine? Holes, pitch, heat, and what was measured of it."""

from collections.abc import Callable, Iterator, Sequence
from itertools import combinations, pairwise
from pathlib import Path

import numpy as np

from sumpwright import __version__
from sumpwright.errors import InputError, Problem
from sumpwright.geometry.ring_order import ring_order
from sumpwright.job.load import LoadedJob, load_job
from sumpwright.job.rail import Rail
from sumpwright.job.revision import input_hash
from sumpwright.metal.clearance_hole import bolt_diameter, clearance_hole, fixed_tolerance
from sumpwright.metal.thermal_growth import growth_apart, pattern_growth
from sumpwright.studies.rail_edge_drawn import rail_outlines
from sumpwright.studies.rail_fit import measured_fit
from sumpwright.studies.rail_result import Growth, HoleLine, Pitch, RailResult, Usual
from sumpwright.studies.rail_words import cautions_of, summary_of, verdict_of

Progress = Callable[[str, float], None]

USUAL = {"M6": (0.040, 0.060), "M8": (0.060, 0.080)}
"""m; pitch of a pan's bolts, [common-practice]."""


def rail_of(folder: Path, progress: Progress | None = None) -> RailResult:
    """The rail of the job in `folder`; InputError where it has no holes. Writes nothing."""
    loaded = load_job(folder)
    return rail_with(loaded, progress)


def rail_with(loaded: LoadedJob, progress: Progress | None = None) -> RailResult:
    """The rail of a job that is loaded; it needs none of its bodies."""
    say = progress or (lambda _text, _share: None)
    rail = loaded.job.rail
    if rail is None or not rail.holes:
        raise InputError([no_pattern(loaded)])
    say("laying measured holes over the design", 0.3)
    bolt = bolt_diameter(rail.thread)
    metal = metal_of(loaded)
    holes = tuple(_holes(rail, bolt, metal))
    edge, opening = rail_outlines(loaded, rail, holes, bolt)
    sets = tuple(measured_fit(holes, bolt, measured) for measured in rail.measured)
    pitches, growth = tuple(_pitches(rail)), _growth(rail, metal)
    verdict = verdict_of(holes, sets)
    return RailResult(
        job=loaded.job.job,
        revision=loaded.job.revision,
        input_hash=input_hash(loaded),
        code_version=__version__,
        units=loaded.job.units,
        verdict=verdict,
        summary=summary_of(verdict, holes, sets, loaded.job.units),
        thread=rail.thread,
        fit=rail.fit,
        bolt_m=bolt,
        holes=holes,
        pitches=pitches,
        growth=growth,
        sets=sets,
        edge=edge,
        opening=opening,
        cautions=tuple(cautions_of(rail, holes, pitches, growth, sets, loaded.job.units)),
    )


def no_pattern(loaded: LoadedJob) -> Problem:
    """What a job without a bolt pattern lacks."""
    return Problem(
        "RAIL-505",
        loaded.where("rail", "holes"),
        "no bolt pattern",
        "`rail.holes`: the name and place of every hole",
        "type them in, or find them: --scan with a picture of the gasket, --mesh in the stock pan",
    )


def metal_of(loaded: LoadedJob) -> str:
    """What the pan is made of."""
    rail, split = loaded.job.rail, loaded.job.new.split
    if rail is not None and rail.metal is not None:
        return rail.metal
    return split.material if split is not None else "aluminium"


def hole_diameter(rail: Rail, own: float | None) -> float:
    """Of a hole in the pan's flange, its own or that of the thread and fit [m]."""
    return own if own is not None else clearance_hole(rail.thread, rail.fit)


def _holes(rail: Rail, bolt: float, metal: str) -> Iterator[HoleLine]:
    spots = np.array([hole.at for hole in rail.holes])
    moved = pattern_growth(spots, metal, rail.block, rail.hot - rail.cold)
    for hole, grows in zip(rail.holes, np.linalg.norm(moved, axis=1), strict=True):
        diameter = hole_diameter(rail, hole.diameter)
        own = fixed_tolerance(diameter, bolt) if rail.position is None else rail.position
        left = fixed_tolerance(diameter, bolt, own)
        yield HoleLine(
            name=hole.name,
            at_m=hole.at,
            diameter_m=diameter,
            own_m=own,
            left_m=left,
            grows_m=float(grows),
            left_hot_m=left - 2.0 * float(grows),
        )


def _pitches(rail: Rail) -> Iterator[Pitch]:
    spots = np.array([hole.at for hole in rail.holes])
    order = [int(k) for k in ring_order(spots)]
    steps: Sequence[tuple[int, int]] = list(pairwise(order))
    if len(order) > 2:
        steps = [*steps, (order[-1], order[0])]
    for a, b in steps:
        apart = float(np.linalg.norm(spots[a] - spots[b]))
        yield Pitch(rail.holes[a].name, rail.holes[b].name, apart, _usual(rail.thread, apart))


def _usual(thread: str, pitch: float) -> Usual:
    if thread not in USUAL:
        return ""
    low, high = USUAL[thread]
    return "close" if pitch < low - 1e-6 else "wide" if pitch > high + 1e-6 else "usual"


def _growth(rail: Rail, metal: str) -> Growth:
    pairs = list(combinations(rail.holes, 2)) or [(rail.holes[0], rail.holes[0])]
    a, b = max(pairs, key=lambda p: float(np.hypot(*np.subtract(p[0].at, p[1].at))))
    longest = float(np.hypot(*np.subtract(a.at, b.at)))
    rise = rail.hot - rail.cold
    return Growth(
        pan=metal,
        block=rail.block,
        rise_k=rise,
        longest_m=longest,
        between=(a.name, b.name),
        growth_m=growth_apart(metal, rail.block, longest, rise),
    )
