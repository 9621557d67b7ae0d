# SPDX-License-Identifier: Apache-2.0
"""What a person should know of a parted pan: panels, ways and the pickup, each with its code."""

from collections.abc import Iterator, Sequence

import numpy as np
from numpy.typing import NDArray

from sumpwright.errors import Finding, Problem
from sumpwright.geometry.compartment import Compartments
from sumpwright.geometry.compartment_note import Note
from sumpwright.geometry.compartment_watch import openings_above, ways_to_pickup
from sumpwright.geometry.panel import Panel
from sumpwright.job.model import Job, Pickup
from sumpwright.studies.bodies import PanBodies
from sumpwright.units import shown

Floats = NDArray[np.float64]

CODES = {
    "outside": "GEO-410",
    "loose": "GEO-411",
    "parts nothing": "GEO-412",
    "slit": "GEO-413",
    "overlap": "GEO-414",
    "clipped": "GEO-415",
    "leads nowhere": "GEO-416",
    "no way out": "GEO-417",
    "cut off": "GEO-418",
    "wrong way": "GEO-419",
    "above the level": "GEO-420",
}
_STEEP = 0.5
"""Part of a panel's up that is vertical, from which it is a wall and not a tray."""
BEFORE = (1e-3, 1e-4, 0.0)
"""m before the mouth where its compartment is looked for: a rim may lie in its housing's face."""
RIM_POINTS = 16


def noted(notes: Sequence[Note]) -> tuple[Finding, ...]:
    """Notes of the geometry as findings."""
    return tuple(Finding(CODES[n.kind], _place(n), _said(n), "", "note") for n in notes)


def _said(note: Note) -> str:
    """Its text without what its place says already; the job file's word for a panel is baffle."""
    text, own = note.text, f"panel '{note.panel}'"
    for twice in (f" of {own}", f"{own}: ", f"{own} ", f"compartment {note.compartment} "):
        text = text.replace(twice, "", 1)
    return text.replace("another panel", "another baffle").replace("panels '", "baffles '", 1)


def _place(note: Note) -> str:
    if note.compartment:
        return f"compartment {note.compartment}"
    return f"baffle '{note.panel}'" if note.panel else "pickup"


def pickup_findings(parts: Compartments, body: PanBodies, pickup: Pickup) -> Iterator[Finding]:
    """Ways that work against the pickup, and a mouth that more than one compartment reaches."""
    home, spot = home_of(parts, body, pickup)
    if home is None or body.rim is None:
        return
    yield from noted(ways_to_pickup(parts, spot))
    before = body.rim.points(RIM_POINTS) + BEFORE[0] * _facing(pickup)
    others = {k for k in map(parts.holding, before) if k is not None} - {home}
    for k in sorted(others):
        text = (
            f"its mouth reaches from compartment {parts.names[home]} into {parts.names[k]}; all "
            f"oil is drawn from {parts.names[home]}"
        )
        yield Finding("GEO-424", "pickup", text, "", "note")


def home_of(parts: Compartments, body: PanBodies, pickup: Pickup) -> tuple[int | None, Floats]:
    """Number of the compartment the pickup draws from, and the place before its mouth [m]."""
    assert body.rim is not None
    centre, facing = body.rim.centre, _facing(pickup)
    spots = [centre + before * facing for before in BEFORE]
    found = ((parts.holding(spot), spot) for spot in spots)
    return next((f for f in found if f[0] is not None), (None, centre))


def _facing(pickup: Pickup) -> Floats:
    way = np.array(pickup.facing, dtype=float)
    return np.asarray(way / np.linalg.norm(way))


def dry_openings(
    parts: Compartments, panels: Sequence[Panel], up: Floats, height: float, units: str
) -> Iterator[Finding]:
    """Windows and doors of walls that lie wholly above the oil; a tray's slots always do."""
    walls = {p.name for p in panels if p.basis[1, 2] > _STEEP}
    for note in openings_above(parts, up, height):
        if note.panel in walls:
            low = min(
                float((k.polygon @ up).min())
                for k in parts.links
                if (k.panel, k.opening) == (note.panel, note.opening)
            )
            over = shown(low - height, "length", units)
            text = f"'{note.opening}' starts {over} above the oil at rest, hot, at the full mark"
            yield Finding(CODES[note.kind], _place(note), text, "", "note")


def pickup_out_of_oil(where: str, job: Job, body: PanBodies) -> Problem:
    """A pickup whose mouth no compartment holds."""
    assert body.rim is not None
    x, y, z = (shown(c, "length", job.units) for c in body.rim.centre)
    return Problem(
        code="GEO-421",
        where=where,
        found=f"the middle of the mouth, x {x}, y {y}, z {z}, and what lies just before it are "
        "inside a displacing body or a baffle",
        needed="a mouth that opens into the oil space",
        do="end the displacing body at the mouth, or hollow it there; or check `facing`",
    )
