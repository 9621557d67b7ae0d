# SPDX-License-Identifier: Apache-2.0
"""From the ways between compartments to passages and doors that oil and its pressure know."""

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass, field, replace

import numpy as np
from numpy.typing import NDArray

from sumpwright.errors import Finding
from sumpwright.geometry.chain import thinned, thinned_loop
from sumpwright.geometry.compartment import Compartments
from sumpwright.geometry.link import Link
from sumpwright.geometry.panel import Opening, Panel
from sumpwright.geometry.region import region_area, region_of
from sumpwright.job.baffle import Baffle
from sumpwright.oil.door import Door
from sumpwright.oil.opening import SHARP
from sumpwright.oil.opening_shape import gap, slots, window
from sumpwright.oil.passage import Passage
from sumpwright.studies.baffle import door_of

Floats = NDArray[np.float64]

SLACK = 2e-3
"""m; a gap's corner that turns by less is left out: heads differ by less than that over it."""
_ROUND = 0.02
"""Of the root of an opening's area: corners of a curve that turn by less cost time only."""
_OBLONG = 1e-3  # of a door's area that its outline may differ from a rectangle by


@dataclass
class Passages:
    """The ways of a parted pan; filled link by link."""

    passages: list[Passage] = field(default_factory=list)
    labels: list[tuple[str, str]] = field(default_factory=list)
    """Panel of each passage, and its window or door; empty for gaps and what is left open"""
    doors: list[Door] = field(default_factory=list)
    door_names: list[str] = field(default_factory=list)
    findings: list[Finding] = field(default_factory=list)

    def add(self, passage: Passage, link: Link) -> None:
        """A passage through or past the panel of a link."""
        self.passages.append(passage)
        self.labels.append((link.panel, link.opening))


def passages_of(
    parts: Compartments, panels: Sequence[Panel], baffles: Sequence[Baffle]
) -> Passages:
    """Every way of `parts` as a passage, and the doors over some of them.

    A door's passage goes from behind it to where it swings. Round a door that is shut oil leaks
    both ways. A door that leads to several compartments becomes as many, each its part of it.
    """
    panel_by = {panel.name: panel for panel in panels}
    baffle_by = {baffle.name: baffle for baffle in baffles}
    found = Passages()
    whole: defaultdict[tuple[str, str], float] = defaultdict(float)
    for link in parts.links:
        if link.door is not None:
            whole[link.panel, link.opening] += link.area
    for link in parts.links:
        panel, baffle = panel_by[link.panel], baffle_by[link.panel]
        if link.door is None:
            found.add(_passage(link, panel, baffle), link)
        else:
            share = link.area / whole[link.panel, link.opening]
            _add_door(found, link, panel, baffle, share)
    return found


def _passage(link: Link, panel: Panel, baffle: Baffle) -> Passage:
    """A window, a gap, or what a panel leaves open."""
    if link.kind == "gap":
        assert link.edge is not None
        runs = thinned(link.edge, slack=SLACK)
        opening = slots(runs, height=panel.gap, thickness=panel.thickness)
    else:
        slack = _ROUND * float(np.sqrt(link.area))
        opening = window(thinned_loop(link.polygon, slack=slack), thickness=panel.thickness)
    return Passage(
        name=f"{link.panel}, {link.opening or link.kind}",
        behind=link.behind,
        ahead=link.ahead,
        opening=opening,
        spot=link.centroid,
        kind=link.kind,
        discharge=_discharge(baffle, link.opening),
    )


def _discharge(baffle: Baffle, name: str) -> float:
    return next((o.discharge for o in baffle.openings if o.name == name), SHARP)


def _add_door(found: Passages, link: Link, panel: Panel, baffle: Baffle, share: float) -> None:
    """The door of a link, its passage, and the leak round it."""
    assert link.door is not None
    given = next(o.door for o in baffle.openings if o.name == link.opening)
    assert given is not None
    opening = next(o for o in panel.openings if o.name == link.opening)
    name = f"{link.panel}, {link.opening}"
    ends = (link.behind, link.ahead) if link.door.side > 0 else (link.ahead, link.behind)
    through = window(link.polygon, thickness=panel.thickness)
    discharge, number = _discharge(baffle, link.opening), len(found.doors)
    door = door_of(baffle, panel, opening)
    found.findings += _said(name, door, opening, share)
    found.doors.append(_part(door, link.centroid, share))
    found.door_names.append(name)
    found.add(Passage(name, *ends, through, link.centroid, "door", number, discharge), link)
    if given.gap > 0.0:
        rim = np.concatenate([link.polygon, link.polygon[:1]])
        leak = gap(rim, height=given.gap, thickness=door.thickness)
        found.add(Passage(f"{name}, leak", *ends, leak, link.centroid, "leak"), link)


def _part(door: Door, middle: Floats, share: float) -> Door:
    """The part of a door that belongs to one of several ways through it."""
    if share > 1.0 - _OBLONG:
        return door
    along = np.cross(door.reach, door.swing)
    return replace(
        door,
        hinge=door.hinge + (middle - door.hinge) @ along * along,
        width=share * door.width,
        mass=share * door.mass,
        preload=share * door.preload,
        rate=share * door.rate,
    )


def _said(name: str, door: Door, opening: Opening, share: float) -> list[Finding]:
    """What is not true to the drawing in how a door is taken."""
    said = []
    assert opening.door is not None
    side = np.roll(opening.outline, -1, axis=0) - opening.outline
    hinge = side[opening.door.hinge] / np.linalg.norm(side[opening.door.hinge])
    box = float(np.ptp(opening.outline @ hinge)) * door.length
    area = region_area(region_of([opening.outline], even_odd=True))
    if abs(box - area) > _OBLONG * area:
        size = f"{1e3 * door.width:.1f} mm wide and {1e3 * door.length:.1f} mm from its hinge"
        text = f"its outline is no rectangle; the door counts as one of its area, {size}"
        said.append(Finding("GEO-422", f"door '{name}'", text, "", "note"))
    if share <= 1.0 - _OBLONG:
        text = "it leads to several compartments; each part of it moves as a door of its own"
        said.append(Finding("GEO-423", f"door '{name}'", text, "", "note"))
    return said
