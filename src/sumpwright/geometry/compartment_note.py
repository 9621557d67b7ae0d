# SPDX-License-Identifier: Apache-2.0
"""What a person should know of panels that do not do what they look like."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import combinations

import numpy as np
from numpy.typing import NDArray

from sumpwright.geometry.link import Link, spans_along
from sumpwright.geometry.panel import Panel
from sumpwright.geometry.region import (
    SPECK,
    Region,
    inset,
    outlines_of,
    region_area,
    spans_within,
)
from sumpwright.geometry.sheet import Sheet

Floats = NDArray[np.float64]

_CLIPPED = 1e-3  # of an opening's area that may hang over the wall unmentioned
_WIDE_SLIT = 1e-6  # m^2; slits of less are a hundredth of a millimetre wide


@dataclass(frozen=True)
class Note:
    """One thing noticed; not an error."""

    kind: str
    """``outside``, ``loose``, ``parts nothing``, ``slit``, ``overlap``, ``clipped``, ``leads
    nowhere``, ``no way out``, ``cut off``, ``wrong way``, ``above the level``"""
    text: str
    """A sentence for the person"""
    panel: str = ""
    opening: str = ""
    compartment: str = ""


@dataclass(frozen=True, eq=False)
class Idle:
    """A sheet that parts nothing."""

    sheet: Sheet
    share: float | None
    """Most that it covers of a face; None where oil gets round it by open faces"""
    meets: bool
    """Whether its plane meets the cavity"""


def notes_of(
    sheets: Sequence[Sheet],
    idle: Sequence[Idle],
    links: Sequence[Link],
    slits: Mapping[str, float],
    names: Sequence[str],
    *,
    slit: float,
) -> Iterator[Note]:
    """Everything worth saying of how panels part a cavity.

    Parameters
    ----------
    sheets : sequence of Sheet [m]
        All.
    idle : sequence of Idle [m]
        Those that part nothing.
    links : sequence of Link [m]
        The ways between compartments.
    slits : mapping of panel's name to float [m^2]
        What panels leave open that is too narrow to count.
    names : sequence of str [-]
        Of the compartments.
    slit : float [m]
        Within which panels touch.

    Returns
    -------
    notes : iterator of Note [-]
    """
    out = {p.name for s in sheets for p in _outside(s)}
    touching = _touching(sheets, slit)
    for sheet in sheets:
        yield from _overlaps(sheet)
        for panel in sheet.panels:
            if panel.name in out:
                text = f"panel '{panel.name}' does not reach into the cavity"
                yield Note("outside", text, panel.name)
            elif panel.name not in touching:
                text = f"panel '{panel.name}' touches neither the wall nor another panel"
                yield Note("loose", text, panel.name)
            yield from _openings(sheet, panel, links, outside=panel.name in out)
    yield from (n for i in idle for n in _idle(i) if n.panel not in out)
    yield from _slits(slits, links)
    used = {k for link in links for k in (link.behind, link.ahead)}
    for k, name in enumerate(names):
        if k not in used and len(names) > 1:
            text = f"compartment {name} has no way out: no window, door, gap or open edge"
            yield Note("no way out", text, compartment=name)


def _outside(sheet: Sheet) -> list[Panel]:
    pairs = zip(sheet.panels, sheet.outlines, strict=True)
    return [panel for panel, o in pairs if region_area(o ^ sheet.section) <= SPECK]


def _idle(idle: Idle) -> Iterator[Note]:
    why = "oil gets round it, both sides are one compartment"
    if not idle.meets:
        why = "it lies on the cavity's wall"
    elif idle.share is not None:
        why = f"it covers {100 * idle.share:.2g} % of the face it stands in"
    for panel in idle.sheet.panels:
        text = f"panel '{panel.name}' parts nothing: {why}; it only displaces oil"
        yield Note("parts nothing", text, panel.name)


def _slits(slits: Mapping[str, float], links: Sequence[Link]) -> Iterator[Note]:
    gapped = {link.panel for link in links if link.kind == "gap"}
    for name, area in slits.items():
        if area > _WIDE_SLIT and name not in gapped:
            text = (
                f"panel '{name}' stops short of what it stands against and leaves slits of "
                f"{1e6 * area:.2g} mm^2 that do not count; give it a gap if oil should pass"
            )
            yield Note("slit", text, name)


def _overlaps(sheet: Sheet) -> Iterator[Note]:
    for (p, a), (q, b) in combinations(zip(sheet.panels, sheet.outlines, strict=True), 2):
        if region_area(a ^ b) > SPECK:
            text = f"panels '{p.name}' and '{q.name}' lie on one plane and overlap"
            yield Note("overlap", text, p.name)


def _openings(
    sheet: Sheet, panel: Panel, links: Sequence[Link], *, outside: bool
) -> Iterator[Note]:
    used = {link.opening for link in links if link.panel == panel.name}
    for opening in panel.openings:
        region = sheet.opening(panel, opening)
        lost = 1.0 - region_area(region ^ sheet.section) / region_area(region)
        head = f"{opening.kind} '{opening.name}' of panel '{panel.name}'"
        if lost > _CLIPPED and not outside:
            text = f"{head}: {100 * lost:.3g} % of it lies outside the cavity and does not count"
            yield Note("clipped", text, panel.name, opening.name)
        if opening.name not in used and not outside and lost < 1.0 - _CLIPPED:
            text = f"{head} does not lead from one compartment to another"
            yield Note("leads nowhere", text, panel.name, opening.name)


def _touching(sheets: Sequence[Sheet], slit: float) -> set[str]:
    """Names of panels that touch the wall or another panel."""
    found = set()
    items = [(s, p, o) for s in sheets for p, o in zip(s.panels, s.outlines, strict=True)]
    for sheet, panel, outline in items:
        rings = outlines_of(sheet.section)
        wall = [np.stack([ring, np.roll(ring, -1, axis=0)], axis=1) for ring in rings]
        if wall and len(spans_along(outline, np.concatenate(wall), slit)):
            found.add(panel.name)
    for (s, p, a), (t, q, b) in combinations(items, 2):
        if not {p.name, q.name} <= found and _meet(s, a, t, b, slit):
            found |= {p.name, q.name}
    return found


def _meet(one: Sheet, a: Region, other: Sheet, b: Region, slit: float) -> bool:
    """Whether two outlines come within a slit's width on the line where their planes cross."""
    if one is other:
        return region_area(inset(a, -slit) ^ b) > SPECK
    m, n = one.lead.normal, other.lead.normal
    way = np.cross(m, n)
    size = float(np.linalg.norm(way))
    if size < 1e-6:  # as good as parallel: they cross nowhere near
        return False
    way /= size
    at = np.linalg.lstsq(np.stack([m, n]), [one.height, other.height], rcond=None)[0]
    at += (one.cavity.bounds.mean(axis=0) - at) @ way * way
    reach = np.ptp(one.cavity.bounds, axis=0).sum() * np.array([[-1.0], [1.0]])
    starts, ends = [], []
    for sheet, outline in ((one, a), (other, b)):
        span = sheet.lead.flat(at + reach * way)
        pieces = spans_within(span[None], inset(outline, -slit))[0] - sheet.lead.flat(at)
        along = pieces @ (sheet.lead.basis @ way)
        starts.append(along[:, 0])
        ends.append(along[:, 1])
    low, high = np.maximum.outer(*starts), np.minimum.outer(*ends)
    return bool((low <= high).any())
