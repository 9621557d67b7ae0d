# SPDX-License-Identifier: Apache-2.0
"""Solids to files that come out the same each time: no clock, no user, no random numbers."""

import re
from pathlib import Path
from typing import Any

import numpy as np
from demo_geometry.triangle import triangles

HEADER = (
    "FILE_NAME('{name}','2024-01-01T00:00:00',('invented for a demonstration'),(''),"
    "'make_demo_geometry.py','','');"
)


def write_step(solids: list[Any], path: Path) -> None:
    """STEP of one or several solids, in millimetres."""
    from OCP.IFSelect import IFSelect_ReturnStatus
    from OCP.Interface import Interface_Static
    from OCP.Message import Message
    from OCP.STEPControl import STEPControl_StepModelType, STEPControl_Writer

    Message.DefaultMessenger_s().ChangePrinters().Clear()
    writer = STEPControl_Writer()
    Interface_Static.SetCVal_s("write.step.unit", "MM")
    Interface_Static.SetCVal_s("write.step.product.name", path.stem)
    for solid in solids:
        writer.Transfer(solid, STEPControl_StepModelType.STEPControl_AsIs)
    if writer.Write(str(path)) != IFSelect_ReturnStatus.IFSelect_RetDone:
        raise OSError(f"{path} could not be written")
    text = path.read_text(encoding="utf-8")
    text = re.sub(r"FILE_NAME\(.*?\);", HEADER.format(name=path.name), text, flags=re.DOTALL)
    text = re.sub(rf"'{path.stem} \d+'", f"'{path.stem}'", text)  # the kernel counts what it writes
    path.write_text(text, encoding="utf-8")


def write_stl(solid: Any, path: Path) -> None:
    """Binary STL in millimetres; its numbers carry no unit, so the job file says it."""
    corners = triangles(solid)
    record = np.zeros(len(corners), dtype=[("n", "<3f4"), ("p", "<9f4"), ("a", "<u2")])
    normal = np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0])
    record["n"] = normal / np.linalg.norm(normal, axis=1, keepdims=True)
    record["p"] = corners.reshape(-1, 9)
    head = b"invented steering rack, millimetres".ljust(80)
    path.write_bytes(head + np.uint32(len(corners)).tobytes() + record.tobytes())
