# SPDX-License-Identifier: Apache-2.0
"""Solids to STEP text that comes out the same each time: no clock, no user, no running number."""

import re
import tempfile
from collections.abc import Sequence
from pathlib import Path

from sumpwright.geometry.cad import silence
from sumpwright.geometry.cad_measure import Solid

_HEADER = "FILE_NAME('{name}','{made}',(''),(''),'Sumpwright','','');"
_FIRST = "1970-01-01T00:00:00"


def step_bytes(solids: Sequence[Solid], name: str, *, made: str = _FIRST) -> bytes:
    """STEP (AP214) of one or several solids, in millimetres.

    Parameters
    ----------
    solids : sequence of Solid [mm]
        The kernel's.
    name : str [-]
        Of the product: letters, digits, '.', '-' and '_'.
    made : str [-]
        Time in the header, ISO 8601; the same each time unless said.

    Returns
    -------
    text : bytes [-]

    Raises
    ------
    OSError
        Where the kernel could not write.
    """
    from OCP.IFSelect import IFSelect_ReturnStatus
    from OCP.Interface import Interface_Static
    from OCP.STEPControl import STEPControl_StepModelType, STEPControl_Writer

    silence()
    writer = STEPControl_Writer()
    Interface_Static.SetCVal_s("write.step.unit", "MM")
    Interface_Static.SetCVal_s("write.step.product.name", name)
    for solid in solids:
        writer.Transfer(solid, STEPControl_StepModelType.STEPControl_AsIs)
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "body.step"
        if writer.Write(str(path)) != IFSelect_ReturnStatus.IFSelect_RetDone:
            raise OSError(f"the CAD kernel could not write {name}")
        text = path.read_text(encoding="utf-8")
    head = _HEADER.format(name=f"{name}.step", made=made)
    text = re.sub(r"FILE_NAME\(.*?\);", lambda _: head, text, count=1, flags=re.DOTALL)
    return re.sub(rf"'{re.escape(name)} \d+'", f"'{name}'", text).encode()
