# SPDX-License-Identifier: Apache-2.0
"""Code that is kept is made again once anything that went into it has changed."""

from pathlib import Path

import sumpwright
from sumpwright.geometry import kernel_stamp as stamps
from sumpwright.geometry.kernel_stamp import kernel_stamp
from sumpwright.oil import network_march

FILES = {
    "oil/march.py": "import numpy\nfrom sumpwright.oil.step import step\n",
    "oil/step.py": "def lazy():\n    from sumpwright.geometry.level import FINE\n",
    "geometry/level.py": "from sumpwright.oil.step import step\nFINE = 256\n",
    "geometry/other.py": "COARSE = 3\n",
}


def stamp_of(root: Path, **changed: str) -> str:
    for name, text in FILES.items():
        path = root / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(changed.get(path.stem, text))
    stamps._text.cache_clear()  # once a process: what is loaded does not change
    return kernel_stamp(root / "oil" / "march.py", root)


def test_changes_with_every_file_that_it_builds_on_and_no_other(tmp_path: Path) -> None:
    first = stamp_of(tmp_path)
    assert stamp_of(tmp_path) == first
    assert stamp_of(tmp_path, march="x = 1\n" + FILES["oil/march.py"]) != first
    assert stamp_of(tmp_path, step="x = 1\n" + FILES["oil/step.py"]) != first
    assert stamp_of(tmp_path, level=FILES["geometry/level.py"].replace("256", "128")) != first
    assert stamp_of(tmp_path, other="COARSE = 4\n") == first


def test_the_integrator_s_code_is_kept_under_the_stamp_of_all_its_parts() -> None:
    root = Path(sumpwright.__file__).parent
    path = Path(network_march.__file__)
    built = stamps._built_on(path, root)
    for name in ("oil/network_rate", "oil/rosenbrock", "oil/opening_shape", "geometry/level_grid"):
        assert (root / f"{name}.py" in built) == (name != "geometry/level_grid")
    kept = network_march.march._cache._cache_file._source_stamp  # type: ignore[attr-defined]
    assert kept == kernel_stamp(path, root)
