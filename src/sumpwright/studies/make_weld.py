# SPDX-License-Identifier: Apache-2.0
"""The weld list: what is joined, how long, how it is prepared."""

from collections.abc import Iterator

from sumpwright.job.load import LoadedJob
from sumpwright.studies.halves import Halved
from sumpwright.studies.make_result import WeldLine
from sumpwright.units import shown


def welds_of(loaded: LoadedJob, halved: Halved | None) -> tuple[WeldLine, ...]:
    """Every weld of the pan that the job knows of."""
    return tuple(_joint(loaded, halved)) if halved is not None else ()


def _joint(loaded: LoadedJob, halved: Halved) -> Iterator[WeldLine]:
    joint, units = halved.result.joint, loaded.job.units

    def mm(value: float) -> str:
        return shown(value, "length", units)

    angle = f"{joint.groove_angle * 57.29577951308232:.0f} deg"
    groove = (
        f"groove {mm(joint.groove_depth_m)} deep, {angle}, root face {mm(joint.root_face_m)}, "
        f"gap {mm(joint.gap_m)}"
    )
    lip = f"; lip {mm(joint.lip_height_m)} high" if joint.lip_height_m else ""
    said = "in the solids" if joint.modelled else "not in the solids: prepare by hand"
    least, most = (shown(v, "length", units, digits=2) for v in joint.draw_m)
    draw = f"draws the flange down {least} to {most}"
    yield WeldLine(
        name="W1",
        where=f"outside, all round at the split, {mm(-joint.height_m)} below the rail",
        length_m=joint.weld_m,
        prepared=f"{groove}{lip} ({said})",
        note=f"{1e3 * joint.deposit_kg:.0f} g laid; {draw}; then skim the flange",
    )
