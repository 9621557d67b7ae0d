# SPDX-License-Identifier: Apache-2.0
"""Make the geometry of the demo jobs, examples/demo-a and examples/demo-b, from their dimensions.

    python tools/make_demo_geometry.py [FOLDER]

FOLDER is where demo-a and demo-b are, examples/ if not said. The files come out the same each
time. Everything is invented; nothing was measured on a real car.
"""

import sys
from collections.abc import Iterator
from pathlib import Path
from typing import Any

from demo_geometry.block import Block
from demo_geometry.car import chassis_legs, crossmember, steering_rack
from demo_geometry.pan import PanShape, flange, pan_a, pan_b, stock_pan
from demo_geometry.pickup import housing, pickup_a, pickup_b, tube
from demo_geometry.solid import fused, rounded, volume
from demo_geometry.tray import tray_a, tray_b
from demo_geometry.triangle import measured
from demo_geometry.write import write_step, write_stl

EXAMPLES = Path(__file__).resolve().parents[1] / "examples"


def inside(pan: PanShape) -> Any:
    """The cavity, flat at the rail."""
    return _joined(pan.blocks)


def outside(pan: PanShape) -> Any:
    """The outer skin with the rail flange, closed at the rail."""
    return _joined((*(block.grown(pan.wall) for block in pan.blocks), flange()))


def _joined(blocks: tuple[Block, ...]) -> Any:
    solids = [rounded(block) for block in blocks]
    whole = fused(solids)
    sizes = [volume(s) for s in solids]
    if not max(sizes) < volume(whole) < sum(sizes):
        raise ValueError("a joined body must be larger than each part and less than their sum")
    return measured(whole, "joined body")


def demo_files() -> Iterator[tuple[str, list[Any]]]:
    """Each file's place below the examples, with its solids."""
    new = {"demo-a": (pan_a(), pickup_a(), tray_a), "demo-b": (pan_b(), pickup_b(), tray_b)}
    for job, (pan, pickup, tray) in new.items():
        yield f"{job}/geometry/new-cavity.step", [inside(pan)]
        yield f"{job}/geometry/new-outside.step", [outside(pan)]
        yield f"{job}/geometry/pickup-housing.step", [measured(housing(pickup), "housing")]
        yield f"{job}/geometry/pickup-tube.step", [measured(tube(pickup), "tube")]
        yield f"{job}/geometry/windage-tray.step", [measured(tray(), "tray")]
        yield f"{job}/geometry/stock-cavity.step", [inside(stock_pan())]
        yield f"{job}/geometry/stock-outside.step", [outside(stock_pan())]
        yield f"{job}/geometry/crossmember.step", [crossmember()]
        yield f"{job}/geometry/chassis-legs.step", chassis_legs()
        yield f"{job}/geometry/steering-rack.stl", [steering_rack()]


def main(folder: Path) -> None:
    """Write every file and say what it holds."""
    for name, solids in demo_files():
        path = folder / name
        path.parent.mkdir(parents=True, exist_ok=True)
        if path.suffix == ".stl":
            write_stl(solids[0], path)
        else:
            write_step(solids, path)
        litres = sum(volume(s) for s in solids) / 1e6
        print(f"{name:40} {litres:8.4f} L {path.stat().st_size / 1e3:7.1f} kB")


if __name__ == "__main__":
    main(Path(sys.argv[1]) if len(sys.argv) > 1 else EXAMPLES)
