# SPDX-License-Identifier: Apache-2.0
"""Write the page of docs/ that comes from the code: docs/job-file.md, from the schema."""

import inspect
from collections.abc import Iterator
from pathlib import Path

from pydantic.fields import FieldInfo

from sumpwright.job.default import default_text
from sumpwright.job.manoeuvre import Manoeuvre
from sumpwright.job.manoeuvre_kind import TAKES
from sumpwright.job.schema import Need, Section, fields_of, sections
from sumpwright.units import names_of

DOCS = Path(__file__).parents[1] / "docs"
KIND = {
    "m": "length", "m^3": "volume", "rad": "angle", "rad/s": "engine speed", "K": "temperature",
    "kg/m^3": "density", "m^2/s": "viscosity", "m^3/s": "flow", "m/s^2": "acceleration",
    "m^2": "area", "m/s": "road speed", "s": "time", "Hz": "frequency", "m/s^3": "jerk",
    "Pa": "pressure", "kg": "mass", "N m": "moment", "N m/rad": "moment over angle",
    "dimensionless": "share",
}  # fmt: skip
FIRST = ("name", "file")
"""Inherited keys would come before these."""
HEAD = """\
<!-- Written by tools/write_docs.py from src/sumpwright/job/model.py: do not edit. -->
# The job file

`job.yaml` in a job folder holds everything that is typed by hand. It is YAML 1.2: `key: value`,
sections indented by spaces, comments behind `#`. `sumpwright new DIR` writes one with comments.

- A quantity carries its unit in the text: `4.6 L`, `4.9 qt`, `12 mm`, `0.5 in`, `90 degC`. A bare
  number where a unit is needed is an error, and so is a comma for the point.
- A place is `[x, y, z]`, each with its unit. A direction is three plain numbers.
- A key left out, or with nothing behind its colon, takes its default.
- Files are named by their path from the job folder, with forward slashes, and lie inside it.
- Axes are those of ISO 8855: x forward, y left, z up. Geometry is in the engine frame (x = 0 at the
  rear face of the block, y = 0 on the crank centreline, z = 0 at the pan rail) unless `frame` says
  `car` (z = 0 on the ground). Obstacles are in the car frame unless `frame` says `engine`.

A job needs `job`, `new` with a `cavity`, and a fill. Every further section switches on what it
makes possible; `sumpwright check` says what is not judged for lack of data.
"""


def job_file_page() -> str:
    """The text of docs/job-file.md."""
    parts = [HEAD, "## Units\n\n" + "\n".join(_unit_rows()) + "\n"]
    done: dict[Section, str] = {}
    for path, section in sections():
        if section in done:
            if not path.count("."):
                parts.append(
                    f"## `{path}`\n\nThe same keys as [`{done[section]}`](#{done[section]}).\n"
                )
            continue
        done[section] = path
        title = f"## `{path}`" if path else "## The top of the file"
        kinds = ["", *_kind_rows()] if section is Manoeuvre else []
        parts.append(
            f"{title}\n\n{_about(section)}\n\n" + "\n".join([*_rows(section), *kinds]) + "\n"
        )
    return "\n".join(parts)


def _unit_rows() -> Iterator[str]:
    yield "| quantity | unit names |"
    yield "| --- | --- |"
    for unit, kind in KIND.items():
        yield f"| {kind} | {', '.join(f'`{n}`' for n in names_of(unit))} |"
    yield ""
    yield "`qt`, `pt`, `gal` and `fl oz` are those of the US. `g` is the acceleration; in a mass,"
    yield "where that cannot be, it is grams. A share is always in percent: `95 %`, not 0.95."


def _kind_rows() -> Iterator[str]:
    yield "Every kind takes `name`, `kind`, `oil` and `rpm`, and besides:"
    yield ""
    yield "| kind | what it is | needs | may have |"
    yield "| --- | --- | --- | --- |"
    for kind, takes in TAKES.items():
        pairs = [f"`{a}` or `{b}`" for a, b in takes.one_of]
        needs = ", ".join([*(f"`{key}`" for key in takes.needs), *pairs])
        yield f"| `{kind}` | {takes.about} | {needs} | {', '.join(f'`{k}`' for k in takes.may)} |"


def _about(section: Section) -> str:
    return " ".join(inspect.cleandoc(section.__doc__ or "").split())


def _rows(section: Section) -> Iterator[str]:
    yield "| key | what may stand there | default | meaning |"
    yield "| --- | --- | --- | --- |"
    for name, field, need in sorted(fields_of(section), key=lambda row: row[0] not in FIRST):
        cells = (f"`{name}`", _needed(need), _default(field, need), field.description or "")
        yield "| " + " | ".join(c.replace("|", "\\|") for c in cells) + " |"


def _needed(need: Need) -> str:
    if need.kind == "section":
        return "a section, or a file's path" if need.short else "a section"
    if need.kind == "list" and need.item and need.item.kind == "section":
        return f"a list of {need.length} sections" if need.length else "a list of sections"
    if need.kind == "list" and need.item and need.item.kind == "list":
        return f"a list of places {need.item.needed}"
    return need.needed


def _default(field: FieldInfo, need: Need) -> str:
    if field.is_required():
        return "**needed**"
    text = default_text(field, need)
    if text is None:
        of_keys = field.get_default(call_default_factory=True) not in (None, ())
        return "its keys' defaults" if of_keys else "none"
    return f"`{text}`"


def main() -> None:
    page = DOCS / "job-file.md"
    page.write_text(job_file_page(), encoding="utf-8")
    print(page)


if __name__ == "__main__":
    main()
