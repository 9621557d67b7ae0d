# SPDX-License-Identifier: Apache-2.0
"""Write out/housing/ of a job: a STEP file a solid and a picture, each whole or not at all."""

from pathlib import Path

from sumpwright.atomic import write_atomic, write_problem
from sumpwright.errors import InputError
from sumpwright.geometry.cad_write import step_bytes
from sumpwright.report.housing_view import housing_view
from sumpwright.studies.housing_part import FOLDER
from sumpwright.studies.housing_result import HousingResult

PICTURE = "housing.svg"


def write_housing(result: HousingResult, folder: Path) -> tuple[Path, ...]:
    """The paths of the files, in `folder`'s out/housing/."""
    out = folder / "out" / FOLDER
    texts = [(out / f"{s.key}.step", step_bytes([s.body], s.key)) for s in result.solids]
    if result.scene is not None:
        texts.append((out / PICTURE, housing_view(result, result.scene)))
    try:
        out.mkdir(parents=True, exist_ok=True)
    except OSError as err:
        raise InputError([write_problem(out, err)]) from err
    for path, text in texts:
        write_atomic(path, text)
    return tuple(path for path, _ in texts)
