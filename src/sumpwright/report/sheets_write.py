# SPDX-License-Identifier: Apache-2.0
"""Write the sheet parts of a job into out/sheets/: DXF and picture of each part and nest."""

from collections.abc import Callable
from pathlib import Path

from sumpwright.atomic import write_atomic, write_problem
from sumpwright.errors import InputError
from sumpwright.report.flat_dxf import nest_dxf, part_dxf
from sumpwright.report.flat_view import nest_view, part_view
from sumpwright.studies.sheet_part_result import SheetsResult

Progress = Callable[[str, float], None]
FOLDER = "sheets"


def write_sheets(
    result: SheetsResult, folder: Path, progress: Progress | None = None
) -> tuple[Path, ...]:
    """The paths written in `folder`'s out/sheets/; nothing is written unless all can be drawn."""
    say = progress or (lambda _text, _share: None)
    files = sheet_files(result, say)
    out = folder / "out" / FOLDER
    try:
        out.mkdir(parents=True, exist_ok=True)
    except OSError as err:
        raise InputError([write_problem(out, err)]) from err
    for name, data in files.items():
        write_atomic(out / name, data)
    _clear(out, set(files))
    return tuple(out / name for name in files)


def sheet_files(result: SheetsResult, progress: Progress | None = None) -> dict[str, bytes]:
    """Every file by its name."""
    say = progress or (lambda _text, _share: None)
    files: dict[str, bytes] = {}
    for sheet in result.sheets:
        files[f"{sheet.key}.dxf"] = nest_dxf(result, sheet)
        files[f"{sheet.key}.svg"] = nest_view(result, sheet)
    for number, item in enumerate(result.items):
        say("drawing flat patterns", 0.9 + 0.1 * number / len(result.items))
        files[f"{item.key}.dxf"] = part_dxf(item, result.units)
        files[f"{item.key}.svg"] = part_view(item, result.units)
    return files


def _clear(out: Path, kept: set[str]) -> None:
    """Drawings of parts that there no longer are: a cutter must not find them."""
    for path in sorted(out.iterdir()):
        if path.suffix in (".dxf", ".svg") and path.name not in kept and path.is_file():
            try:
                path.unlink()
            except OSError as err:
                raise InputError([write_problem(path, err)]) from err
