# SPDX-License-Identifier: Apache-2.0
"""From a pan's baffles to the flat metal of each: clipped to the cavity, less gap and openings."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

import numpy as np

from sumpwright.errors import Finding, Problem
from sumpwright.geometry.mesh import Mesh
from sumpwright.geometry.panel import Panel
from sumpwright.geometry.region import Region, inset, outlines_of
from sumpwright.geometry.section import CutPlane, section_outlines
from sumpwright.geometry.sheet import sheets_of
from sumpwright.job.baffle import Baffle
from sumpwright.job.load import LoadedJob
from sumpwright.job.shop import BendTest, Shop
from sumpwright.metal.bend import LEAST_K, MOST_K, strip_k
from sumpwright.metal.bend_table import K, table_k
from sumpwright.metal.flat_pattern import Polygon
from sumpwright.studies.bodies import Bodies
from sumpwright.studies.sheet_part_result import StripResult
from sumpwright.studies.size_words import in_units, nominal
from sumpwright.units import shown

ROOM = 5e-4
"""m left round a body that goes through a sheet, where the sheet's own gap is less;
[common-practice]."""
_THROUGH = tuple(np.linspace(-0.5, 0.5, 17).tolist())
"""Of the thickness, where one looks at what goes through a sheet."""
_FIN = 5.0
"""Thicknesses; metal that would stand narrower than twice that into such a hole is cut away."""
_SPECK = 1e-7
"""m^2; a smaller piece of a baffle is none."""
_SAME = 0.05
"""Of a thickness, within which two sheets are of one thickness."""
_FAMILY = {"aluminium": "aluminium 5052-H32"}
_FAR = 0.08
"""K that a strip may differ from the table by before that is said; [common-practice]."""


@dataclass(frozen=True, eq=False)
class Web:
    """The flat metal of a baffle, before joins and tabs."""

    number: int
    baffle: Baffle
    panel: Panel
    region: Polygon
    """Along and up [m]"""
    metal: str


def webs_of(loaded: LoadedJob, bodies: Bodies) -> tuple[list[Web], list[Problem], list[Finding]]:
    """The metal of every baffle of the new pan, what is wrong, and what to know."""
    body, job = bodies.new, loaded.job
    regions = _regions(body.panels, body.oil_space)
    through = list(_displacing(loaded, body.displacing))
    webs, problems, findings = [], list[Problem](), list[Finding]()
    for number, (baffle, panel) in enumerate(zip(job.new.baffles, body.panels, strict=True)):
        region = regions[panel.name]
        if region.area < _SPECK:
            problems.append(_nothing_left(loaded.where("new", "baffles", number)))
            continue
        for name, mesh in through:
            region, cut = _around(region, panel, mesh)
            findings += [_hole_for(panel, name, job.units)] if cut else []
        parts = [p for p in getattr(region, "geoms", [region]) if p.area > _SPECK]
        if len(parts) > 1:
            findings.append(_in_pieces(panel, len(parts)))
        largest = max(parts, key=lambda p: p.area)
        metal = metal_of(baffle.material, baffle.thickness, job.shop or Shop())
        webs.append(Web(number, baffle, panel, largest, metal))
    return webs, problems, findings


def _displacing(loaded: LoadedJob, solids: Sequence[Mesh]) -> Iterator[tuple[str, Mesh]]:
    """Bodies with the names they have in the job; one that the job draws itself has none there."""
    names = [d.name for d in loaded.job.new.displacing]
    names += ["pickup housing"] * (len(solids) - len(names))
    return zip(names, solids, strict=False)


def _regions(panels: Sequence[Panel], space: Mesh) -> dict[str, Polygon]:
    found = {}
    for sheet in sheets_of(panels, space):
        for panel, metal in zip(sheet.panels, sheet.metal, strict=True):
            room = inset(sheet.section, panel.gap) if panel.gap else sheet.section
            loops = [panel.flat(sheet.lead.space(loop)) for loop in outlines_of(room ^ metal)]
            found[panel.name] = polygon_of_loops(loops)
    return found


def polygon_of_loops(loops: Sequence[Region]) -> Polygon:
    """What lies within an odd number of loops."""
    from shapely import Polygon as Ring
    from shapely import make_valid

    whole = Ring()
    for loop in loops:
        whole = whole.symmetric_difference(make_valid(Ring(loop)))
    return whole


def _around(region: Polygon, panel: Panel, mesh: Mesh) -> tuple[Polygon, bool]:
    """The metal less the room that a body through it needs, from face to face: one that goes
    through aslant needs more than where it meets the middle."""
    from shapely import union_all

    off = (mesh.vertices - panel.point) @ panel.normal
    cuts = []
    for share in _THROUGH:
        at = share * panel.thickness
        if off.min() < at < off.max():
            plane = CutPlane(panel.point + at * panel.normal, panel.normal, panel.basis[0])
            cuts.append(polygon_of_loops(section_outlines(mesh, plane)))
    room, fin = max(panel.gap, ROOM), _FIN * panel.thickness
    cut = union_all(cuts).buffer(room + fin, quad_segs=16).buffer(-fin, quad_segs=16)
    cut = cut.simplify(2e-6)
    if cut.intersection(region).area < _SPECK:
        return region, False
    return region.difference(cut), True


def metal_of(family: str, thickness: float, shop: Shop) -> str:
    """The shop's name of a baffle's material: of aluminium, the alloy of a sheet that is there."""
    if family != "aluminium":
        return family
    alloys = [s.material for s in shop.sheets if s.material.startswith(family)
              and abs(s.thickness - thickness) <= _SAME * thickness]  # fmt: skip
    usual = _FAMILY[family]
    return usual if usual in alloys or not alloys else alloys[0]


def same_thickness(a: float, b: float) -> bool:
    """Whether two sheets are of one thickness, as far as a bend or a nest is concerned."""
    return abs(a - b) <= _SAME * max(a, b)


def k_of(metal: str, thickness: float, radius: float, strips: Sequence[StripResult]) -> K:
    """K of a bend: by the table, off by as much as the strip nearest in radius of the same sheet.

    A strip settles K at its own radius; K grows with the radius over the thickness.
    """
    table = table_k(metal, radius / thickness)
    own = [s for s in strips if s.material == metal and same_thickness(s.thickness, thickness)]
    if not own:
        return table
    near = min(own, key=lambda s: abs(s.radius - radius))
    return K(min(max(near.k + (table.value - near.table), LEAST_K), MOST_K), "test strip")


def strips_of(loaded: LoadedJob) -> tuple[list[StripResult], list[Problem], list[Finding]]:
    """What the shop's bent strips say."""
    strips, problems, findings = [], list[Problem](), list[Finding]()
    for number, test in enumerate((loaded.job.shop or Shop()).bends):
        where = loaded.where("shop", "bends", number)
        try:
            k = strip_k(test.angle, test.radius, test.thickness, test.flat, sum(test.legs))
        except ValueError as err:
            problems.append(_bad_strip(where, in_units(str(err), loaded.job.units)))
            continue
        table = table_k(test.material, test.radius / test.thickness).value
        strip = StripResult(test.material, test.thickness, test.radius, k, table)
        strips.append(strip)
        if abs(k - table) > _FAR:
            findings.append(_far_strip(where, strip, test, loaded.job.units))
    return strips, problems, findings


def _bad_strip(where: str, found: str) -> Problem:
    needed = "a length before bending and both outside legs after it that go together"
    do = "measure again: the legs to the crossing of the outer faces, the radius inside"
    return Problem("SHEE-507", where, found, needed, do)


def _far_strip(where: str, strip: StripResult, test: BendTest, units: str) -> Finding:
    off = 1e-4 if units == "metric" else 0.005 * 0.0254
    worth = off / (test.angle * test.thickness)
    much = nominal(off, units)
    found = (
        f"a strip of K {strip.k:.3f} where the table has {strip.table:.3f}; it counts. {much} "
        f"wrong in its lengths puts K off by {worth:.2f}"
    )
    return Finding("SHEE-523", where, found, "bend a second strip", "note")


def _nothing_left(where: str) -> Problem:
    needed = "a baffle of which something lies in the pan once its gap is taken off"
    return Problem("SHEE-508", where, "a baffle outside the cavity", needed, "move it or drop it")


def _hole_for(panel: Panel, name: str, units: str) -> Finding:
    room = shown(max(panel.gap, ROOM), "length", units)
    found = f"{name} goes through it: a hole {room} clear of it all round"
    mend = "slit the sheet to the edge with a window where the body is there first"
    return Finding("SHEE-520", f"baffle '{panel.name}'", found, mend, "note")


def _in_pieces(panel: Panel, count: int) -> Finding:
    found = f"it falls into {count} pieces; the largest is drawn"
    mend = "draw an outline that stays in one piece, or make a baffle of each"
    return Finding("SHEE-521", f"baffle '{panel.name}'", found, mend, "error")


def with_region(web: Web, region: Polygon) -> Web:
    """The same baffle of other metal; of several pieces, the largest."""
    parts = list(getattr(region, "geoms", [region]))
    return replace(web, region=max(parts, key=lambda p: float(np.asarray(p.area))))
