# SPDX-License-Identifier: Apache-2.0
"""A new job: a commented job.yaml and made-up bodies, so that `check` runs at once.

There is one template. `minimal` leaves the sections that are not known yet commented out; `full`
takes the comment signs off, so every example in the template is one that runs; `drawn` is `minimal`
with the new pan, its rail and the shop from numbers. The bodies and lengths are scaled so that the
fill suits them.
"""

import json
import os
import re
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path

from sumpwright.atomic import write_atomic, write_problem
from sumpwright.errors import InputError, Problem
from sumpwright.job.load import JOB_FILE, load_job
from sumpwright.units import to_si

TEMPLATES = ("minimal", "full", "drawn")
_DRAWN_FOR = 4.5e-3
"""m^3: the fill that the template's lengths and volumes are drawn for."""
_PAN = "# The pan you are making, from numbers. They are made up; put your own in their place."
_COMMENTED = (
    "What is not known yet is commented out, with example values, in lines such as\n"
    "# `#note:` and `#  pickup:`. Take the '#' off, and off the heading above where that has one,\n"
    "# put your values in, and `check` answers more."
)
_HOW = {
    "minimal": _COMMENTED,
    "drawn": _COMMENTED,
    "full": "Every section is filled in with made-up values; put '#' before what is not known.",
}


@dataclass(frozen=True)
class Answers:
    """What a new job starts from."""

    name: str
    template: str = "minimal"
    units: str = "metric"
    fill: str = "4.5 L"


def new_job(folder: Path, answers: Answers) -> Path:
    """Write the job into `folder`, which is not there yet or empty; its job file's path."""
    refuse_used(folder)
    made: list[Path] = []
    try:
        for name, data in _files(answers).items():
            path = folder / name
            _make_folders(path.parent, made)
            made.append(path)
            write_atomic(path, data)
        return load_job(folder).path
    except BaseException as err:
        _unmake(made)
        if isinstance(err, OSError):
            raise InputError([write_problem(folder, err)]) from err
        raise


def job_text(answers: Answers) -> str:
    """The text of the new job's job.yaml."""
    text = _starter("job.yaml")
    us = answers.units == "us"
    if answers.template == "full":
        text = re.sub(r"^#(?! |$)|^#(?=  )", "", text, flags=re.MULTILINE)
    if answers.template == "drawn":
        text = _drawn(text)
    text = re.sub(r"<([^|<>\n]+)\|([^|<>\n]+)>", lambda m: m[2] if us else m[1], text)
    text = re.sub(r"~(-?[\d.]+)(mm|L)~", lambda m: _scaled(float(m[1]), m[2], answers), text)
    text = re.sub(r"~(-?[\d.]+)([+-][\d.]+)mm~", lambda m: _beside(m[1], m[2], answers), text)
    text = text.replace("{HOW}", _HOW[answers.template]).replace("@FILL@", answers.fill)
    return text.replace("@NAME@", json.dumps(answers.name, ensure_ascii=False))


def _drawn(text: str) -> str:
    """The template with pan, rail and shop from numbers."""
    new, rail, shop = re.split(r"^(?=rail:|shop:)", _starter("drawn.yaml"), flags=re.MULTILINE)
    files = re.compile(r"^# The pan you are making(.*\n)*?(?=# The pickup's)", re.MULTILINE)
    text = files.sub(f"{_PAN}\n{new}", text)
    for name, section in (("rail", rail), ("shop", shop)):
        text = re.sub(rf"^#{name}:\n(#  .*\n)+", section, text, flags=re.MULTILINE)
    return text


def _starter(name: str) -> str:
    return (Path(__file__).with_name("starter") / name).read_text(encoding="utf-8")


def _scale(answers: Answers) -> float:
    return float((to_si(answers.fill, "m^3") / _DRAWN_FOR) ** (1.0 / 3.0))


def _scaled(number: float, unit: str, answers: Answers) -> str:
    us, scale = answers.units == "us", _scale(answers)
    if unit == "mm":
        return f"{number * scale / 25.4:.2f} in" if us else f"{number * scale:.0f} mm"
    volume = number * scale**3
    return f"{volume * 1e-3 / to_si('1 qt', 'm^3'):.3g} qt" if us else f"{volume:.3g} L"


def _beside(number: str, more: str, answers: Answers) -> str:
    """A length that is scaled and one that is not: a bolt stands as far off a wall in any pan."""
    length = float(number) * _scale(answers) + float(more)
    return f"{length / 25.4:.2f} in" if answers.units == "us" else f"{length:.0f} mm"


def _files(answers: Answers) -> dict[str, bytes]:
    """Every file of the job by its path; the job file last, so that half a job is none."""
    from sumpwright.job.starter_body import box, stepped_pan, stl_bytes

    pan = {"length": 460.0, "well": 200.0, "half_width": 120.0, "shallow": 55.0, "deep": 115.0}
    stock = {"length": 460.0, "well": 190.0, "half_width": 95.0, "shallow": 60.0, "deep": 190.0}
    bodies = {} if answers.template == "drawn" else {"new-cavity": stepped_pan(**pan)}
    if answers.template == "full":
        bodies["new-outside"] = stepped_pan(**pan, wall=3.0)
        bodies["stock-cavity"] = stepped_pan(**stock)
        bodies["crossmember"] = box((240.0, -350.0, 130.0), (310.0, 350.0, 180.0))
    scale = _scale(answers) / (25.4 if answers.units == "us" else 1.0)
    files = {f"geometry/{name}.stl": stl_bytes(body, scale) for name, body in bodies.items()}
    return {**files, JOB_FILE: job_text(answers).encode("utf-8")}


def refuse_used(folder: Path) -> None:
    """InputError unless `folder` is not there yet, or empty."""
    try:
        if folder.exists() and not folder.is_dir():
            raise InputError([_used(folder, "a file of that name")])
        first = min(os.listdir(folder), default=None) if folder.exists() else None
    except OSError as err:
        raise InputError([write_problem(folder, err)]) from err
    if first is not None:
        raise InputError([_used(folder, f"a folder with something in it ({first})")])


def _used(folder: Path, found: str) -> Problem:
    return Problem(
        "SAVE-305",
        str(folder),
        found,
        "a folder that is not there yet, or empty",
        "choose another name; nothing was written",
    )


def _make_folders(folder: Path, made: list[Path]) -> None:
    missing = [p for p in (folder, *folder.parents) if not p.exists()]
    for path in reversed(missing):
        path.mkdir()
        made.append(path)


def _unmake(made: list[Path]) -> None:
    for path in reversed(made):
        with suppress(OSError):
            path.rmdir() if path.is_dir() else path.unlink(missing_ok=True)
