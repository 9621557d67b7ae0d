# SPDX-License-Identifier: Apache-2.0
"""Write the page, the film and the PDF of a drive to a job's out/, each whole or not at all."""

import json
from collections.abc import Callable
from datetime import datetime
from pathlib import Path

from sumpwright.atomic import write_atomic, write_problem
from sumpwright.errors import InputError
from sumpwright.report.block import (
    cautions_of,
    ledger_of,
    listed,
    page_of,
    pictures_of,
    provenance_of,
    still_open,
    tables_of,
    top,
)
from sumpwright.report.content import Content
from sumpwright.report.drive_content import drive_content
from sumpwright.report.film_gif import Reel, gif_of, reel_of
from sumpwright.report.film_player import player_of, script_of, style_of
from sumpwright.report.moment_view import moment_view
from sumpwright.report.pdf import pdf_of
from sumpwright.report.slug import slug
from sumpwright.report.strip_view import strip_view
from sumpwright.report.time_view import time_view
from sumpwright.studies.motion_result import DriveResult
from sumpwright.studies.motion_scene import MotionScene

Progress = Callable[[str, float], None]
PAINTED = 0.75
"""Share of the work when all frames are painted."""


def write_drive(
    result: DriveResult, scene: MotionScene, folder: Path, progress: Progress | None = None
) -> tuple[Path, ...]:
    """Paths of the page, the film, the PDF and the numbers of a drive, in `folder`'s out/."""
    say = progress or (lambda _text, _share: None)
    made = datetime.now().astimezone().replace(microsecond=0)
    content = drive_content(result, made=made)
    reel = reel_of(result, scene, lambda share: say("drawing the oil", PAINTED * share))
    pictures = drive_pictures(result, scene, reel)
    say("setting the pages", 0.8)
    data = json.dumps(result.as_json(), indent=1, ensure_ascii=False, allow_nan=False) + "\n"
    files = {
        "html": drive_html(content, pictures, player_of(result, reel)),
        "gif": gif_of(reel),
        "pdf": pdf_of(content, pictures, made=made, order="drive.typ"),
        "json": data.encode("utf-8"),
    }
    say("saving the pages", 0.95)
    paths = saved(folder, f"drive-{slug(result.manoeuvre)}", files)
    say("saving the pages", 1.0)
    return paths


def drive_pictures(result: DriveResult, scene: MotionScene, reel: Reel) -> dict[str, bytes]:
    """The pictures that paper can hold too."""
    return {
        "strip": strip_view(result, scene),
        "time": time_view(result),
        "moments": moment_view(result, reel),
    }


def drive_html(content: Content, pictures: dict[str, bytes], player: str) -> bytes:
    """The page as UTF-8."""
    parts = [
        top(content),
        player,
        pictures_of(content, pictures, ("strip", "time")),
        still_open(content),
        ledger_of(content),
        pictures_of(content, pictures, ("moments",)),
        tables_of(content, ("chances", "compartments", "doors")),
        listed("Assumptions", content.assumptions),
        tables_of(content, ("errors",)),
        cautions_of(content),
        provenance_of(content),
    ]
    return page_of(content, parts, script=script_of(), styles=style_of())


def saved(folder: Path, name: str, files: dict[str, bytes]) -> tuple[Path, ...]:
    """Paths of `files` by their endings, written as `name` in `folder`'s out/."""
    out = folder / "out"
    try:
        out.mkdir(exist_ok=True)
    except OSError as err:
        raise InputError([write_problem(out, err)]) from err
    paths = tuple(out / f"{name}.{ending}" for ending in files)
    for path, data in zip(paths, files.values(), strict=True):
        write_atomic(path, data)
    return paths
