# SPDX-License-Identifier: Apache-2.0
"""The demo's geometry against the CAD kernel: volumes, hold limits, and the script that made it.

Source of the reference values: Open CASCADE Technology 8, which integrates over the exact surfaces
and cuts solids with planes; our own code only ever sees triangles.
"""

import shutil
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from sumpwright.geometry.cad import TOLERANCE, read_step
from sumpwright.geometry.level import level_body, volume_below
from sumpwright.geometry.mesh_file import read_mesh
from sumpwright.job.load import load_job
from sumpwright.studies.body_file import read_bodies
from sumpwright.studies.hold import hold
from sumpwright.studies.result import PanHold

ROOT = Path(__file__).resolve().parents[1]
EXAMPLES = ROOT / "examples"
JOBS = ("demo-a", "demo-b")
UP = np.array([0.0, 0.0, 1.0])

pytestmark = pytest.mark.slow  # cuts STEP bodies into triangles, and solids with planes


@pytest.mark.parametrize(
    "name",
    ["demo-a/geometry/new-cavity", "demo-b/geometry/new-cavity", "demo-b/geometry/stock-cavity"],
)
def test_cavity_volume_agrees_with_the_cad_kernels_own_integral(name: str) -> None:
    path = EXAMPLES / f"{name}.step"
    solid = kernel_solid(path)
    body = level_body(read_step(path).mesh)
    full = float(volume_below(body, UP, 0.0)[0])
    assert full == pytest.approx(body.volume, rel=1e-12)  # the top is the rail plane
    assert abs(full - kernel_volume(solid)) <= chord_error(solid)


@pytest.fixture(scope="module")
def holds(
    warm: Callable[[str], Path], tmp_path_factory: pytest.TempPathFactory
) -> dict[str, PanHold | None]:
    folder = tmp_path_factory.mktemp("demo")
    for job in JOBS:
        shutil.copytree(warm(job), folder / job)
        text = (folder / job / "job.yaml").read_text(encoding="utf-8")
        before, _, after = text.partition("  baffles:")
        # without baffles: what the kernel then takes off are the bodies of the files alone
        bare = f"{before}  suction:{after.partition('  suction:')[2]}"
        (folder / job / "job.yaml").write_text(bare, encoding="utf-8")
    return {job: hold_of(folder / job) for job in JOBS}


def hold_of(folder: Path) -> PanHold | None:
    loaded = load_job(folder)
    return hold(loaded.job, read_bodies(loaded))


@pytest.mark.parametrize(
    ("job", "way", "centre"),
    [
        ("demo-a", "right", (0.155, -0.115, -0.115)),
        ("demo-b", "left", (0.166, -0.005, -0.117)),
        ("demo-b", "brake", (0.166, -0.005, -0.117)),
    ],
)
def test_at_the_hold_limit_the_kernel_finds_the_oil_just_over_the_rim(
    job: str, way: str, centre: tuple[float, float, float], holds: dict[str, PanHold | None]
) -> None:
    found = holds[job]
    assert found is not None
    size = getattr(found, f"{way}_g")
    toward = {"right": (0.0, -size), "left": (0.0, size), "brake": (-size, 0.0)}[way]
    up = up_in_the_engine((*toward, 0.0), pitch=np.radians(-2.0))  # the job's pose
    reach = 0.023 * np.sqrt(1.0 - up[2] ** 2)  # of a level 46 mm rim's highest point
    gravity = 9.80665 * np.hypot(1.0, size)
    drawdown = 1.25 * (2.0 / (2.0 * np.pi) ** 2) ** 0.2 * (0.036 / 60.0) ** 0.4 / gravity**0.2
    solid = with_crankcase(kernel_solid(EXAMPLES / job / "geometry" / "new-cavity.step"), 0.070)
    for part in ("pickup-housing", "pickup-tube"):
        solid = less(solid, kernel_solid(EXAMPLES / job / "geometry" / f"{part}.step"))
    oil = kernel_volume(below(solid, up, float(up @ centre + reach + drawdown)))
    # chords, and the limit's own last halving: 1.2e-5 g turns a 0.1 m^2 surface by 2e-7 m^3
    assert abs(oil - found.oil_m3) <= chord_error(solid) + 2e-7
    assert chord_error(solid) < 0.002 * found.oil_m3  # or this would show little


def test_the_committed_geometry_is_what_its_script_makes(tmp_path: Path) -> None:
    script = ROOT / "tools" / "make_demo_geometry.py"
    subprocess.run([sys.executable, str(script), str(tmp_path)], check=True, capture_output=True)
    made = sorted(p.relative_to(tmp_path) for p in tmp_path.rglob("*.st*"))
    kept = sorted(
        p.relative_to(EXAMPLES) for job in JOBS for p in (EXAMPLES / job / "geometry").iterdir()
    )
    assert made == kept
    for name in made:
        new, old = (read_mesh(folder / name, unit=1e-3).mesh for folder in (tmp_path, EXAMPLES))
        # equal to what a file's digits keep; another build of the kernel may cut other chords
        assert new.volume == pytest.approx(old.volume, rel=1e-5), name
        np.testing.assert_allclose(
            new.bounds, old.bounds, rtol=0, atol=TOLERANCE, err_msg=str(name)
        )


def test_geometry_files_stay_small() -> None:
    sizes = {p.name: p.stat().st_size for job in JOBS for p in (EXAMPLES / job).rglob("*.st*")}
    assert max(sizes.values()) < 400_000, sizes  # bytes; a clone should stay quick


def up_in_the_engine(accel: tuple[float, float, float], *, pitch: float) -> np.ndarray:
    """Unit vector against (0, 0, -1) g less the body's acceleration; positive pitch lowers x."""
    x, y, z = np.array([0.0, 0.0, 1.0]) + accel
    turned = np.array(
        [x * np.cos(pitch) - z * np.sin(pitch), y, x * np.sin(pitch) + z * np.cos(pitch)]
    )
    return turned / np.linalg.norm(turned)


def kernel_solid(path: Path) -> Any:
    from OCP.STEPControl import STEPControl_Reader

    reader = STEPControl_Reader()
    reader.ReadFile(str(path))
    reader.TransferRoots()
    return reader.OneShape()


def kernel_volume(shape: Any) -> float:
    """Integrated over the exact surfaces [m^3]."""
    from OCP.BRepGProp import BRepGProp
    from OCP.GProp import GProp_GProps

    found = GProp_GProps()
    BRepGProp.VolumeProperties_s(shape, found, 1e-9, False, False)
    return float(found.Mass()) * 1e-9


def chord_error(shape: Any) -> float:
    """What chords up to TOLERANCE off the curved faces can do to a volume at most [m^3]."""
    from OCP.BRepAdaptor import BRepAdaptor_Surface
    from OCP.BRepGProp import BRepGProp
    from OCP.GeomAbs import GeomAbs_SurfaceType
    from OCP.GProp import GProp_GProps

    area = 0.0
    for face in kernel_faces(shape):
        if BRepAdaptor_Surface(face).GetType() != GeomAbs_SurfaceType.GeomAbs_Plane:
            found = GProp_GProps()
            BRepGProp.SurfaceProperties_s(face, found, 1e-6, False)
            area += found.Mass() * 1e-6
    return TOLERANCE * area


def kernel_faces(shape: Any) -> list[Any]:
    from OCP.TopAbs import TopAbs_ShapeEnum
    from OCP.TopExp import TopExp_Explorer
    from OCP.TopoDS import TopoDS

    found, faces = TopExp_Explorer(shape, TopAbs_ShapeEnum.TopAbs_FACE), []
    while found.More():
        faces.append(TopoDS.Face(found.Current()))
        found.Next()
    return faces


def with_crankcase(shape: Any, height: float) -> Any:
    """The cavity with its flat top carried straight up, by the kernel."""
    from OCP.Bnd import Bnd_Box
    from OCP.BRepAlgoAPI import BRepAlgoAPI_Fuse
    from OCP.BRepBndLib import BRepBndLib
    from OCP.BRepPrimAPI import BRepPrimAPI_MakePrism
    from OCP.gp import gp_Vec

    def lowest(face: Any) -> float:
        box = Bnd_Box()
        BRepBndLib.Add_s(face, box)
        return float(box.CornerMin().Z())

    top = max(kernel_faces(shape), key=lowest)
    crankcase = BRepPrimAPI_MakePrism(top, gp_Vec(0.0, 0.0, height * 1e3)).Shape()
    return BRepAlgoAPI_Fuse(shape, crankcase).Shape()


def less(shape: Any, other: Any) -> Any:
    """A shape without another, by the kernel."""
    from OCP.BRepAlgoAPI import BRepAlgoAPI_Cut

    return BRepAlgoAPI_Cut(shape, other).Shape()


def below(shape: Any, up: np.ndarray, height: float) -> Any:
    """The part of a shape below a plane, by the kernel."""
    from OCP.BRepAlgoAPI import BRepAlgoAPI_Common
    from OCP.BRepBuilderAPI import BRepBuilderAPI_MakeFace
    from OCP.BRepPrimAPI import BRepPrimAPI_MakePrism
    from OCP.gp import gp_Dir, gp_Pln, gp_Pnt, gp_Vec

    normal = [float(c) for c in up]
    plane = gp_Pln(gp_Pnt(*(height * 1e3 * up).tolist()), gp_Dir(*normal))
    sheet = BRepBuilderAPI_MakeFace(plane, -1e3, 1e3, -1e3, 1e3).Face()
    half = BRepPrimAPI_MakePrism(sheet, gp_Vec(*(-1e3 * up).tolist())).Shape()
    return BRepAlgoAPI_Common(shape, half).Shape()
