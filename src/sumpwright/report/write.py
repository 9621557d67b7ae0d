# SPDX-License-Identifier: Apache-2.0
"""Write out/report.html, out/report.pdf and out/result.json of a job, each whole or not at all."""

import json
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from datetime import datetime
from pathlib import Path

from sumpwright.atomic import write_atomic, write_problem
from sumpwright.errors import InputError
from sumpwright.geometry.kernel import thread_count
from sumpwright.report.content import content_of
from sumpwright.report.draw import PICTURES, drawn
from sumpwright.report.html import html_of
from sumpwright.report.pdf import pdf_of
from sumpwright.studies.result import CheckResult
from sumpwright.studies.scene import Scene

Progress = Callable[[str, float], None]


def write_report(
    result: CheckResult, scene: Scene, folder: Path, progress: Progress | None = None
) -> tuple[Path, Path]:
    """The paths of the HTML and the PDF in `folder`'s out/."""
    said = progress or (lambda text, share: None)
    out = folder / "out"
    made = datetime.now().astimezone().replace(microsecond=0)
    pictures = _pictures(result, scene, said)
    content = content_of(result, made=made)
    said("setting the pages", 0.8)
    page, pdf = html_of(content, pictures), pdf_of(content, pictures, made=made)
    data = json.dumps(result.as_json(), indent=1, ensure_ascii=False, allow_nan=False) + "\n"
    said("saving the report", 0.95)
    try:
        out.mkdir(exist_ok=True)
    except OSError as err:
        raise InputError([write_problem(out, err)]) from err
    write_atomic(out / "result.json", data.encode("utf-8"))
    write_atomic(out / "report.html", page)
    write_atomic(out / "report.pdf", pdf)
    said("saving the report", 1.0)
    return out / "report.html", out / "report.pdf"


def _pictures(result: CheckResult, scene: Scene, said: Progress) -> dict[str, bytes]:
    """All pictures; threads help, because the painters and the packers of bitmaps run free."""
    pictures: dict[str, bytes] = {}
    with ThreadPoolExecutor(min(thread_count(), 2)) as pool:
        tasks = {key: pool.submit(drawn, key, result, scene) for key in PICTURES}
        for number, (key, task) in enumerate(tasks.items()):
            said("drawing the report", 0.8 * number / len(PICTURES))
            if (svg := task.result()) is not None:
                pictures[key] = svg
    return pictures
