# SPDX-License-Identifier: Apache-2.0
"""The numbers of a drawn pan, from the job to what the CAD kernel is given; or what is wrong."""

from collections.abc import Iterator

import numpy as np
from numpy.typing import NDArray

from sumpwright.errors import InputError, Problem, RangeError
from sumpwright.geometry.outline_side import crossing
from sumpwright.geometry.pan_form import BossForm, HoleForm, PanError, PanForm, ReliefForm
from sumpwright.geometry.profile import Profile
from sumpwright.geometry.rail_edge import flange_outline
from sumpwright.geometry.rim import Rim
from sumpwright.geometry.zone import Flaw, Slope, ZoneForm
from sumpwright.job.load import LoadedJob
from sumpwright.job.pan import Pan
from sumpwright.job.rail import Rail
from sumpwright.job.shape import Boss, Shape, Zone
from sumpwright.metal.clearance_hole import clearance_hole
from sumpwright.studies.drawn_outline import SAME, drawn_profile, rounded_outline
from sumpwright.studies.size_words import in_units

Floats = NDArray[np.float64]
Keys = tuple[str | int, ...]

CODES = {"crossing": "SHAP-502", "floor": "SHAP-503", "radius": "SHAP-504", "lean": "SHAP-505"}


def pan_form(loaded: LoadedJob, key: str) -> PanForm:
    """The drawn pan under `key` in numbers. Raises InputError with all that is wrong with them."""
    pan: Pan = getattr(loaded.job, key)
    assert pan.shape is not None
    reader = _Reader(loaded, key, pan.shape)
    zones = [reader.zone(k, z) for k, z in enumerate(pan.shape.zones)]
    edge = reader.edge()
    relief = reader.relief()
    if reader.problems or edge is None:
        raise InputError(reader.problems)
    floor = pan.shape.wall if pan.shape.floor is None else pan.shape.floor
    form = PanForm(
        zones=tuple(z for z in zones if z is not None),
        wall=pan.shape.wall,
        floor=floor,
        edge=edge,
        flange=pan.shape.flange.thickness,
        holes=hole_forms(loaded),
        bosses=tuple(_boss(b) for b in pan.shape.bosses),
        relief=relief,
    )
    problems = list(reader.grown_problems(form))
    if problems:
        raise InputError(problems)
    return form


def hole_forms(loaded: LoadedJob) -> tuple[HoleForm, ...]:
    """The rail's holes, each by its own diameter or its bolt's clearance hole."""
    rail = loaded.job.rail
    if rail is None:
        return ()
    usual = clearance_hole(rail.thread, rail.fit)
    return tuple(
        HoleForm(h.name, np.array(h.at), 0.5 * (usual if h.diameter is None else h.diameter))
        for h in rail.holes
    )


def placed_problems(loaded: LoadedJob, key: str, err: PanError) -> list[Problem]:
    """What the kernel found, at the keys of the job."""
    return [
        _problem(loaded, _job_keys(key, f.part), f.code, f.found, f.needed, f.do) for f in err.flaws
    ]


def _job_keys(key: str, part: Keys) -> Keys:
    return ("rail", *part) if part[0] == "holes" else (key, "shape", *part)


def boss_in_pickup(loaded: LoadedJob, key: str, rim: Rim) -> list[Problem]:
    """Bosses, or what is drilled through them, that stand where the pickup's inlet is."""
    pan: Pan = getattr(loaded.job, key)
    points = np.concatenate([rim.points(24), rim.points(24).mean(axis=0)[None]])
    problems = []
    for k, boss in enumerate(pan.shape.bosses if pan.shape is not None else ()):
        form = _boss(boss)
        deep = (form.at - points) @ form.out
        off = np.linalg.norm(points - form.at + deep[:, None] * form.out, axis=1)
        if ((deep > 0.0) & (deep < form.height) & (off < form.radius)).any():
            found = f"{boss.name} where the pickup's inlet is"
            needed = "the inlet clear of bosses"
            do = "move the boss, or make its `height` less"
            keys = (key, "shape", "bosses", k)
            problems.append(_problem(loaded, keys, "SHAP-511", found, needed, do))
    return problems


class _Reader:
    """Reads zone by zone, collecting what is wrong."""

    def __init__(self, loaded: LoadedJob, key: str, shape: Shape) -> None:
        self.loaded, self.key, self.shape = loaded, key, shape
        self.problems: list[Problem] = []

    def zone(self, k: int, zone: Zone) -> ZoneForm | None:
        """One zone; None, with a problem noted, where it cannot be."""
        keys = (self.key, "shape", "zones", k)
        try:
            outline, drafts, radii = _outline(zone, self.shape)
        except RangeError as err:
            do = "move a side of the box, the corner, or the point of `through`"
            self._note(
                keys, "SHAP-502", f"{zone.name}: {err}", "corners apart, and arcs that bend", do
            )
            return None
        rounding = self.shape.floor_radius
        rounding = self.shape.corner_radius if rounding is None else rounding
        top = 0.0 if zone.top is None else -zone.top
        points = outline.polygon()
        form = ZoneForm(
            name=zone.name,
            outline=outline,
            level=top if zone.drawn_at is None else -zone.drawn_at,
            leans=drafts,
            radii=radii,
            floor=_plane(zone.slope, -zone.depth, points, lowest=True),
            roof=None if zone.top is None else _plane(zone.top_slope, top, points, lowest=False),
            floor_radius=rounding if zone.floor_radius is None else zone.floor_radius,
        )
        flaw = form.flaw()
        if flaw is not None:
            self._note_flaw(keys, zone.name, flaw)
            return None
        return form

    def edge(self) -> Profile | None:
        """The flange's outer edge; None, with a problem noted, where there is none."""
        rail = self.loaded.job.rail
        if rail is None or (rail.outline is None and not rail.holes):
            needed = "`rail.holes` or `rail.outline`: the flange's edge comes from them"
            do = "add `rail:` with its `holes`, or with the flange's `outline`"
            self._note(("rail",), "SHAP-507", "no flange to draw", needed, do)
            return None
        try:
            edge = _edge(rail)
        except RangeError as err:
            do = "mend the corners, or make the radii smaller"
            self._note(("rail", "outline"), "SHAP-507", str(err), "an edge that closes", do)
            return None
        place = crossing(edge)
        if place is None:
            return edge if edge.area > 0.0 else edge.reversed()
        x, y = 1e3 * place
        found = f"an edge that crosses itself at x {x:.1f} mm, y {y:.1f} mm"
        do = "mend the corners round there"
        self._note(("rail", "outline"), "SHAP-507", found, "an edge that does not", do)
        return None

    def relief(self) -> ReliefForm | None:
        """Crank and rods with their clearance."""
        asked, sweep = self.shape.relief, self.loaded.job.engine.crank_sweep
        if asked is None:
            return None
        if sweep is None or sweep.radius is None or sweep.height is None:
            found = "room for crank and rods, and no sweep in numbers"
            needed = "`engine.crank_sweep` with height, radius, front and rear"
            do = "add it, or delete `relief`"
            self._note((self.key, "shape", "relief"), "SHAP-512", found, needed, do)
            return None
        ends = [np.array([x, sweep.side, sweep.height]) for x in (sweep.rear, sweep.front)]
        bare = ReliefForm(ends[0], ends[1], sweep.radius)
        return bare.grown(asked.clearance)

    def grown_problems(self, form: PanForm) -> Iterator[Problem]:
        """What is wrong with a zone only once its wall is round it."""
        for k, zone in enumerate(form.zones):
            keys = (self.key, "shape", "zones", k)
            try:
                flaw = zone.grown(form.wall, form.floor).flaw()
            except RangeError as err:
                do = "make the re-entrant corner wider, or the wall thinner"
                flaw = Flaw("lean", f"no room for its wall: {err}", "sides further apart", do)
            if flaw is not None:
                found = f"{zone.name} with the wall round it: {flaw.found}"
                yield _problem(self.loaded, keys, CODES[flaw.kind], found, flaw.needed, flaw.do)

    def _note_flaw(self, keys: Keys, name: str, flaw: Flaw) -> None:
        self._note(keys, CODES[flaw.kind], f"{name}: {flaw.found}", flaw.needed, flaw.do)

    def _note(self, keys: Keys, code: str, found: str, needed: str, do: str) -> None:
        self.problems.append(_problem(self.loaded, keys, code, found, needed, do))


def _problem(loaded: LoadedJob, keys: Keys, code: str, found: str, needed: str, do: str) -> Problem:
    units = loaded.job.units
    said, wanted = (in_units(words, units) for words in (found, needed))
    return Problem(code, loaded.where(*keys), said, wanted, do)


def _outline(zone: Zone, shape: Shape) -> tuple[Profile, Floats, Floats]:
    """Outline, lean of each side and radius of each corner, counter-clockwise."""
    draft = shape.draft if zone.draft is None else zone.draft
    radius = shape.corner_radius if zone.radius is None else zone.radius
    if zone.box is not None:
        rear, front, right, left = zone.box
        rear, front, right, left = min(rear, front), max(rear, front), *sorted((right, left))
        if min(front - rear, left - right) < SAME:
            raise RangeError("a box without length or width")
        corners = np.array([[rear, right], [front, right], [front, left], [rear, left]])
        drafts = zone.drafts or (draft,) * 4
        sides = np.array([drafts[2], drafts[1], drafts[3], drafts[0]])
        return Profile(corners, np.zeros(4)), sides, np.full(4, radius)
    assert zone.outline is not None
    profile = drawn_profile(zone.outline)
    own = [draft if c.draft is None else c.draft for c in zone.outline]
    drafts_of = np.roll(np.array(own), -1)  # a corner says it of the side before it
    radii = np.array([radius if c.radius is None else c.radius for c in zone.outline])
    if profile.area < 0.0:
        return profile.reversed(), np.roll(drafts_of[::-1], -1), radii[::-1]
    return profile, drafts_of, radii


def _plane(slope: tuple[float, float], height: float, points: Floats, *, lowest: bool) -> Slope:
    """A floor whose lowest point under the outline is at `height`, or a roof by its highest."""
    ahead, left = slope
    rise = points @ np.array([ahead, left])
    return Slope(height - float(rise.min() if lowest else rise.max()), ahead, left)


def _edge(rail: Rail) -> Profile:
    if rail.outline is None:
        return flange_outline([h.at for h in rail.holes], rail.margin)
    return rounded_outline(rail.outline, rail.radius)


def _boss(boss: Boss) -> BossForm:
    out = np.array(boss.facing, dtype=float)
    bore = boss.bore if boss.bore is not None else tapping_bore(boss.thread or "")
    unit = out / np.linalg.norm(out)
    return BossForm(
        boss.name, np.array(boss.at), unit, 0.5 * boss.diameter, boss.height, 0.5 * bore
    )


def tapping_bore(thread: str) -> float:
    """Of a hole to be tapped [m]: the thread's diameter less its pitch; common practice."""
    diameter, pitch = thread.removeprefix("M").split("x")
    return 1e-3 * (float(diameter) - float(pitch))
