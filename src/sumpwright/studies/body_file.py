# SPDX-License-Identifier: Apache-2.0
"""From the files a job names to its bodies: read, judged, mended where allowed, placed."""

from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import numpy as np

from sumpwright.errors import Finding, InputError, Problem
from sumpwright.geometry.cavity import capped, with_crankcase
from sumpwright.geometry.crank_sweep import CrankSweep
from sumpwright.geometry.file_limit import check_file_size
from sumpwright.geometry.frame import Pose
from sumpwright.geometry.mesh import Mesh
from sumpwright.job.load import LoadedJob
from sumpwright.job.model import Body, Job, Obstacle, Pan
from sumpwright.studies.bodies import Bodies, ObstacleBody, PanBodies
from sumpwright.studies.cache import Entry, entry_mesh, file_key, kept, mesh_entry, mesh_key
from sumpwright.studies.housing_place import NAME, housing_body, placed_housing
from sumpwright.studies.housing_shape import HousingShape
from sumpwright.studies.inner_file import read_baffles, read_room
from sumpwright.studies.pickup import rim_of, rim_outside
from sumpwright.studies.shape_body import drawn_meshes
from sumpwright.studies.shape_form import boss_in_pickup
from sumpwright.units import shown, to_si

Progress = Callable[[str, float], None]
Keys = tuple[str | int, ...]

_MEND = {"GEO-312": "correct the unit beside the file, or export it again"}
_SHELL = "; or, for a shell that is open only at the rail, write `cap_at: 0 mm` beside the file"


def read_bodies(loaded: LoadedJob, progress: Progress | None = None) -> Bodies:
    """Every body of the job. Raises InputError with all that is wrong with any of them."""
    return _Reader(loaded, progress).bodies()


class _Reader:
    """Reads the bodies one by one, collecting what is wrong instead of stopping at the first."""

    def __init__(self, loaded: LoadedJob, progress: Progress | None) -> None:
        self.loaded, self.job = loaded, loaded.job
        self.say = progress or (lambda _text, _share: None)
        self.problems: list[Problem] = []
        self.findings: list[Finding] = []
        self.pose = _pose(loaded.job)

    def bodies(self) -> Bodies:
        """All of them, or InputError."""
        new = self._pan(("new",), self.job.new)
        stock = self._pan(("stock",), self.job.stock) if self.job.stock is not None else None
        obstacles = [self._obstacle(k, o) for k, o in enumerate(self.job.obstacles)]
        sweep = self._crank_sweep()
        if self.problems or new is None:
            raise InputError(self.problems)
        return Bodies(
            new=new,
            stock=stock,
            obstacles=tuple(o for o in obstacles if o is not None),
            crank_sweep=sweep,
            pose=self.pose,
            findings=tuple(self.findings),
            where=self.loaded.where,
        )

    def _pan(self, keys: Keys, pan: Pan) -> PanBodies | None:
        cavity, outside = self._skins(keys, pan)
        if cavity is None:
            return None
        try:
            housing = placed_housing(self.loaded, str(keys[0]), cavity)
        except InputError as err:
            self.problems += err.problems
            return None
        rim = housing.rim if housing else None if pan.pickup is None else rim_of(pan.pickup)
        if rim is not None:
            place = self.loaded.where(*keys, "pickup" if housing is None else "housing")
            struck = boss_in_pickup(self.loaded, str(keys[0]), rim)
            self.problems += struck or rim_outside(place, cavity, rim, self.job.units)
        height = self.job.engine.crankcase_height
        key = str(keys[0])
        body = PanBodies(
            key=key,
            name=pan.name or f"{key} pan",
            cavity=cavity,
            oil_space=with_crankcase(cavity, height) if height > 0.0 else cavity,
            outside=outside,
            rim=rim,
        )
        furnished = pan.displacing or pan.baffles or housing
        return self._furnished(key, pan, body, housing) if furnished else body

    def _skins(self, keys: Keys, pan: Pan) -> tuple[Mesh | None, Mesh | None]:
        """Inside and outside, from files or drawn from numbers."""
        if pan.shape is not None:
            try:
                return drawn_meshes(self.loaded, str(keys[0]), self.say)
            except InputError as err:
                self.problems += err.problems
                return None, None
        outside = None
        if pan.outside is not None:
            outside = self._file((*keys, "outside"), pan.outside, pan.outside.file)
        return self._cavity(keys, pan, outside), outside

    def _furnished(
        self, key: str, pan: Pan, body: PanBodies, housing: HousingShape | None
    ) -> PanBodies | None:
        """The pan with what stands in it; None, with problems noted, where that is unusable."""
        files = [(key, "displacing", k) for k in range(len(pan.displacing))]
        read = [self._file(f, d, d.file) for f, d in zip(files, pan.displacing, strict=True)]
        solids = tuple(mesh for mesh in read if mesh is not None)
        names = [d.name for d in pan.displacing]
        baffles = read_baffles(self.loaded, key, self.pose, body.oil_space)
        self.problems += baffles.problems
        self.findings += baffles.findings
        if baffles.problems or len(solids) < len(read):
            return None
        if housing is not None:
            solids, names = (*solids, housing_body(housing)), [*names, NAME]
        self.say("taking off what stands in the pan", 0.3)
        less, notes = read_room(self.loaded, key, body.oil_space, baffles.panels, solids)
        self.findings += notes
        return replace(
            body,
            displacing=solids,
            displacing_names=tuple(names),
            panels=baffles.panels,
            less=less,
        )

    def _cavity(self, keys: Keys, pan: Pan, outside: Mesh | None) -> Mesh | None:
        place = (*keys, "cavity")
        assert pan.cavity is not None, "the job was loaded"
        if pan.cavity.file is not None:
            return self._file(place, pan.cavity, pan.cavity.file, cap_at=pan.cavity.cap_at)
        assert pan.cavity.wall is not None
        return None if outside is None else self._hollowed(place, outside, pan.cavity.wall)

    def _hollowed(self, keys: Keys, outside: Mesh, wall: float) -> Mesh | None:

        def make() -> Entry:
            self.say("taking the wall off the outside", 0.2)
            return _hollow(outside, wall, self.job.units)

        try:
            key = mesh_key(outside, how=("hollowed", wall, self.job.units))
            mesh, findings = entry_mesh(kept(self.loaded.folder, key, make))
        except InputError as err:
            self.problems.extend(err.placed(self.loaded.where(*keys)).problems)
            return None
        self.findings += findings
        return mesh

    def _obstacle(self, number: int, obstacle: Obstacle) -> ObstacleBody | None:
        keys = ("obstacles", number)
        if obstacle.frame == "car" and self.job.pose.height is None:
            self.problems.append(_no_height(self.loaded.where(*keys), obstacle.name))
            return None
        mesh = self._file(keys, obstacle, obstacle.file, closed=False)
        if mesh is None:
            return None
        asked = self.job.requirements.clearance
        needed = asked if isinstance(asked, float) else None
        return ObstacleBody(
            name=obstacle.name,
            mesh=mesh,
            needed=obstacle.clearance if obstacle.clearance is not None else needed,
            guard=obstacle.guard,
        )

    def _crank_sweep(self) -> CrankSweep | None:
        sweep = self.job.engine.crank_sweep
        if sweep is None:
            return None
        if sweep.body is not None:
            body = self._file(("engine", "crank_sweep", "body"), sweep.body, sweep.body.file)
            return None if body is None else CrankSweep.of_body(body)
        front, rear = (
            np.array([x, sweep.side, sweep.height], dtype=float) for x in (sweep.front, sweep.rear)
        )
        try:
            return CrankSweep.between(rear, front, radius=sweep.radius or 0.0)
        except InputError as err:
            self.problems.extend(err.placed(self.loaded.where("engine", "crank_sweep")).problems)
            return None

    def _file(
        self, keys: Keys, how: Body, file: str, *, closed: bool = True, cap_at: float | None = None
    ) -> Mesh | None:
        """A file's body in the frame its role needs; None, with problems noted, where unusable."""
        path = self.loaded.folder / file
        unit = None if how.unit is None else to_si(f"1 {how.unit}", "m")

        def read() -> Entry:
            self.say(f"reading {file}", 0.1)
            return _read_judged(path, unit, repair=how.repair, closed=closed, cap_at=cap_at)

        try:
            check_file_size(path)  # a fingerprint of gigabytes takes half a minute
            key = file_key(path, unit, how.repair, closed, cap_at)
            mesh, findings = entry_mesh(kept(self.loaded.folder, key, read))
        except InputError as err:
            self.problems += [self._named(p, keys, file) for p in err.problems]
            return None
        self.findings += [replace(f, place=f"{file}: {f.place}") for f in findings]
        return self._placed(mesh, how, to_car=isinstance(how, Obstacle))

    def _named(self, problem: Problem, keys: Keys, file: str) -> Problem:
        """The problem of a file under the name that the job gives it, behind the key it is at."""
        own = (str(self.loaded.folder / file), Path(file).name)
        inner = "" if problem.where in own else f": {problem.where}"
        shell = _SHELL if (problem.code, keys[-1]) == ("GEO-301", "cavity") else ""
        where = f"{self.loaded.where(*keys)} -> {file}{inner}"
        return replace(problem, where=where, do=problem.do + shell)

    def _placed(self, mesh: Mesh, how: Body, *, to_car: bool) -> Mesh:
        if (how.frame == "car") == to_car:
            return mesh
        move = self.pose.to_car if to_car else self.pose.to_engine
        return Mesh(move(mesh.vertices), mesh.faces)


def _pose(job: Job) -> Pose:
    p = job.pose
    return Pose(x=p.x, y=p.y, z=p.height or 0.0, roll=p.roll, pitch=p.pitch, yaw=p.yaw)


def _hollow(outside: Mesh, wall: float, units: str) -> Entry:
    """The cavity inside an outside, and a note of the flange that was read off it."""
    from sumpwright.geometry.wall import flange_thickness, from_outside

    flange = flange_thickness(outside)
    cavity = from_outside(outside, wall, flange=flange)
    note = Finding(
        code="GEO-260",
        place="cavity from the outside",
        found=f"a wall of {shown(wall, 'length', units)} taken off, and under a flange of "
        f"{shown(flange, 'length', units)} nothing",
        repair="",
        severity="note",
    )
    return mesh_entry(cavity, (note,))


def _read_judged(
    path: Path, unit: float | None, *, repair: bool, closed: bool, cap_at: float | None
) -> Entry:
    """Read, cap, judge, and where the job allows it mend."""
    from sumpwright.geometry.mesh_file import read_mesh
    from sumpwright.geometry.soundness import soundness

    read = read_mesh(path, unit)
    mesh, said = read.mesh, read.findings
    if cap_at is not None:
        mesh = capped(mesh, height=cap_at)
    found = soundness(mesh).findings
    if repair and any(f.severity == "error" for f in found):
        from sumpwright.geometry.repair import repaired

        mesh, done = repaired(mesh)
        said += done
        found = soundness(mesh).findings
    bad = [f for f in found if f.severity == "error"]
    if bad and closed:
        raise InputError([_unsound(path, f, mended=repair) for f in bad])
    return mesh_entry(mesh, said + tuple(replace(f, severity="note") for f in found))


def _unsound(path: Path, finding: Finding, *, mended: bool) -> Problem:
    offer = f"write `repair: true` beside the file, and the repair will {finding.repair}; or "
    mend = _MEND.get(finding.code, "mend it in the CAD program")
    return Problem(
        code=finding.code,
        where=path.name,
        found=finding.found + (f": {finding.place}" if finding.place else ""),
        needed="a closed body, faces outward, that does not overlap itself",
        do=(offer if finding.repair and not mended else "") + mend,
    )


def _no_height(where: str, name: str) -> Problem:
    return Problem(
        code="JOB-154",
        where=where,
        found=f"the {name} in the car's frame, and no height of the engine in the car",
        needed="`pose.height`, the pan rail over the ground",
        do="add `height:` with its unit under `pose`, or give the obstacle in the engine's frame",
    )
