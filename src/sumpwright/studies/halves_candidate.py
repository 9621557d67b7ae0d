# SPDX-License-Identifier: Apache-2.0
"""Heights looked at for the split, and which of them is proposed.

In this order: one plain ring of wall with room for the joint; both halves on the machine; least
that no cutter reaches; a torch that gets at the weld; fewest blocks to buy; a weld over the oil;
least metal in; the shortest weld; most room for the torch.
"""

from collections.abc import Callable
from dataclasses import replace

import numpy as np

from sumpwright.metal.weld_access import CONE
from sumpwright.studies.halves_cut import THICK, MeshCut
from sumpwright.studies.halves_making import Making, round_mm
from sumpwright.studies.halves_problem import no_height
from sumpwright.studies.halves_reach import COARSE, missed_of, views_of
from sumpwright.studies.halves_result import Candidate
from sumpwright.units import shown

Progress = Callable[[str, float], None]

MOST = 16
"""Heights looked at."""
STEP = 0.004
"""m; least between them."""
FROM_FLANGE, FROM_FLOOR = 0.006, 0.006
"""m; no nearer to the flange's underside, or to the inside's lowest point."""
SAME_AREA = 3e-4
"""m^2; what no cutter reaches is told apart in steps of this: the grid is coarse."""
SAME_METAL = 0.5
"""kg; and metal in by this."""
SAME_WELD = 2e-3
"""m; and the weld by this: it runs on chords here."""


def candidates(made: Making, say: Progress) -> tuple[Candidate, ...]:
    """Every height looked at, from the top; the best is marked. InputError where none will do."""
    top = made.metal.flange - FROM_FLANGE
    low = made.metal.floor + FROM_FLOOR
    step = max(STEP, (top - low) / MOST)
    heights = [round_mm(h) for h in np.arange(top, low - 1e-9, -step).tolist()]
    looked = []
    for k, height in enumerate(dict.fromkeys(heights)):
        say(f"looking at a split at {shown(height, 'length', made.units)}", k / len(heights))
        looked.append(_candidate(made, height))
    able = [c for c in looked if c.ring]
    if not able:
        raise no_height(made.loaded, len(looked))
    best = min(able, key=_rank)
    return tuple(replace(c, chosen=c is best) for c in looked)


def why(best: Candidate, looked: tuple[Candidate, ...], units: str) -> str:
    """Why this height, in a sentence or two."""
    rings = [c for c in looked if c.ring]
    said = f"{len(rings)} of {len(looked)} heights give two halves with one ring of wall"
    others = sorted((c for c in rings if c is not best), key=_rank)
    if not others:
        return f"{said}: this is the only one."
    return f"{said}; {_reason(best, others, units)}"


def _reason(best: Candidate, others: list[Candidate], units: str) -> str:
    """The first thing by which the best differs from the next best."""
    second = others[0]
    at = shown(second.height_m, "length", units)
    names = (
        "only it fits the machine with both halves",
        f"least is out of the cutters' reach, {shown(best.missed_m2, 'area', units)}",
        "a torch gets at the weld",
        "fewer blocks have to be bought",
        "less of the weld is under oil",
        "less metal goes in",
        "the weld is shorter",
        "the torch has more room",
    )
    for name, a, b in zip(names, _rank(best), _rank(second), strict=True):
        if a != b:
            return f"of these {name}. The next best is {at}."
    return f"of these it is as good as {at}."


def _rank(c: Candidate) -> tuple[float, ...]:
    return (
        not c.machine,
        round(c.missed_m2 / SAME_AREA),
        c.cone < CONE,
        c.bought,
        round(c.wet or 0.0, 1),
        round(c.mass_in_kg / SAME_METAL),
        round(c.weld_m / SAME_WELD),
        -c.cone,
    )


def _candidate(made: Making, height: float) -> Candidate:
    cut = made.cut(height)
    if not cut.outer:
        return _none(height)
    setups = made.split.setups
    views = [views_of(mesh, made.tools, COARSE, setups) for mesh in (cut.upper, cut.lower)]
    missed = sum(
        missed_of(mesh, made.tools, COARSE, seen, made.metal.drilled).area
        for mesh, seen in zip((cut.upper, cut.lower), views, strict=True)
    )
    blanks = made.blanks(cut)
    blocks = made.cut_from(blanks)
    wall = cut.wall
    over = made.over_weld(cut)
    bought = sum(
        float(np.prod(blank))
        for blank, block in zip(blanks, blocks.blocks, strict=True)
        if block is None
    )
    return Candidate(
        height_m=height,
        ring=cut.ring and _plain(made, cut),
        machine=all(made.held(blank).fits for blank in blanks),
        missed_m2=missed,
        bought=blocks.blocks.count(None),
        weld_m=cut.weld,
        cone=float(made.access(cut, views[0][1].seen, views[1][0].seen).cone.min()),
        wall_least_m=float(wall.min()),
        wet=None if over is None else float((over > 0.0).mean()),
        mass_in_kg=made.material.density * (blocks.volume + bought),
    )


def _plain(made: Making, cut: MeshCut) -> bool:
    """A wall with room for the joint, of about one thickness all round."""
    lip = made.split.lip
    taken = 0.0 if lip is None else lip.thickness + lip.clearance
    wall = cut.wall
    return bool(wall.min() > taken + 1e-4 and wall.max() < THICK * np.median(wall))


def _none(height: float) -> Candidate:
    return Candidate(height, False, False, 0.0, 2, 0.0, 0.0, 0.0, None, 0.0)
