# SPDX-License-Identifier: Apache-2.0
"""The job file as forms: every key of the schema, as typed, with its problem where it applies."""

import json
import re
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from sumpwright.job.manoeuvre_kind import TAKES
from sumpwright.job.schema import need_at, sections
from sumpwright.job.tree import Keys
from sumpwright.web.form import form
from sumpwright.web.typed import page_key
from tests.web.edit_case import TEXT, job

pytestmark = pytest.mark.slow

EXAMPLES = Path(__file__).parents[2] / "examples"
Shown = dict[str, Any]


def walk(found: Shown) -> Iterator[tuple[str, Shown, Shown]]:
    """Every section as ("section", it, it) and every field as ("field", it, its section)."""

    def inner(section: Shown) -> Iterator[tuple[str, Shown, Shown]]:
        yield "section", section, section
        for one in section["fields"]:
            yield "field", one, section
        blank = [section["blank"]] if section["blank"] else []
        for below in (*section["sections"], *(section["items"] or ()), *blank):
            yield from inner(below)

    for section in found["sections"]:
        yield from inner(section)


def fields(found: Shown) -> dict[str, Shown]:
    """The fields of what stands in the file, by key; those of new entries are left out."""

    def inner(section: Shown) -> Iterator[Shown]:
        yield from section["fields"]
        for below in (*section["sections"], *(section["items"] or ())):
            yield from inner(below)

    return {f["key"]: f for s in found["sections"] for f in inner(s)}


def section(found: Shown, key: str) -> Shown:
    return next(s for kind, s, _ in walk(found) if kind == "section" and s["key"] == key)


def paths(found: Shown) -> set[str]:
    """Every key that a person can fill in somewhere, entries left out of its path."""

    def inner(part: Shown, above: str) -> Iterator[str]:
        here = f"{above}.{part['name']}".strip(".")
        for one in part["fields"]:
            yield f"{here}.{one['name']}".lstrip(".")
        for below in part["sections"]:
            yield f"{here}.{below['name']}".lstrip(".")
            yield from inner(below, here)
        if part["blank"]:
            yield from inner({**part["blank"], "name": ""}, here)

    found_paths: set[str] = set()
    for part in found["sections"]:
        found_paths |= {part["name"], *inner(part, "")}
    return found_paths - {""}


@pytest.mark.parametrize(
    "text", [TEXT, "job: x\nnew: {cavity: geometry/new.step}\noil: {fill: 4 L}\n"]
)
def test_every_key_of_the_schema_can_be_filled_in(tmp_path: Path, text: str) -> None:
    wanted = {f"{path}.{name}".lstrip(".") for path, s in sections() for name in s.model_fields}
    assert wanted - paths(form(job(tmp_path, text))) == set()


def test_every_label_is_made_of_its_key_and_says_what_the_schema_says(tmp_path: Path) -> None:
    described = {
        (name, info.description) for _, s in sections() for name, info in s.model_fields.items()
    }
    for kind, one, _ in walk(form(job(tmp_path))):
        if kind == "field":
            assert (one["name"], one["says"]) in described
            assert one["label"].lower() == one["name"].replace("_", " ")


def test_a_field_shows_what_is_typed_what_is_needed_and_the_comment_beside_it(
    tmp_path: Path,
) -> None:
    found = fields(form(job(tmp_path)))
    fill, low, gap = (found[k] for k in ("oil.fill", "oil.low", "new.baffles.rear wall.gap"))
    assert (fill["typed"], fill["note"], fill["kind"]) == ("4.5 L", "as poured", "quantity")
    assert (fill["needed"], fill["units"][0]) == ("0.001 L to 100 L", "L")
    assert (low["typed"], low["default"], low["required"]) == (None, None, False)
    assert (gap["typed"], gap["default"], gap["note"]) == ("0.3 mm", "0 mm", "dressed")
    assert found["job"]["typed"] == "Bench engine"
    assert found["job"]["required"]
    assert found["units"]["words"] == ("metric", "us")
    assert found["new.cavity"]["kind"] == "file"
    assert found["new.cavity"]["files"] == "geometry"
    centre = found["new.pickup.centre"]
    assert [p["label"] for p in centre["parts"]] == ["x", "y", "z"]
    assert centre["parts"][2]["typed"] == "-100 mm"
    gears = found["driveline.gears"]
    assert (gears["typed"], gears["whole"]) == ("[3.2, 1.9, 1.3]", True)
    assert [e["key"] for e in gears["entries"]] == [f"driveline.gears.{i}" for i in range(3)]


def test_an_entry_is_named_so_that_it_stays_the_same_when_others_go(tmp_path: Path) -> None:
    text = TEXT.replace("name: left wall", 'name: "2"').replace("name: beam", "name: a.b")
    keys = set(fields(form(job(tmp_path, text))))
    assert {"new.baffles.rear wall.gap", "new.baffles.1.gap"} <= keys
    assert {"obstacles.rack.file", "obstacles.1.file", "new.suction.tubes.1.bore"} <= keys


def test_every_key_of_a_field_is_one_that_set_takes(tmp_path: Path) -> None:
    from sumpwright.job.load import read_text
    from sumpwright.job.tree import read_tree
    from sumpwright.web.edit_job import known_keys
    from sumpwright.web.typed import typed_at

    folder = job(tmp_path)
    tree = read_tree(read_text(folder / "job.yaml"), "job.yaml")
    for key, one in fields(form(folder)).items():
        keys: Keys = known_keys(tree, key)
        assert need_at(keys) is not None
        assert typed_at(tree, keys) == one["typed"]


def test_a_manoeuvre_s_field_says_which_kinds_take_it(tmp_path: Path) -> None:
    found = fields(form(job(tmp_path)))
    radius, name = (found[f"manoeuvres.left circle.{k}"] for k in ("radius", "name"))
    assert name["kinds"] is None
    assert radius["kinds"]["circle"] == "needed"
    assert found["manoeuvres.left circle.accel"]["kinds"]["circle"] == "either"
    assert "brake" not in radius["kinds"]
    taken = {
        kind: {
            n for n, one in _blank(tmp_path).items() if one["kinds"] is None or kind in one["kinds"]
        }
        for kind in TAKES
    }
    assert taken == {kind: set(takes.keys) for kind, takes in TAKES.items()}


def _blank(folder: Path) -> dict[str, Shown]:
    blank = section(form(folder), "manoeuvres")["blank"]
    return {f["name"]: f for f in blank["fields"]}


def test_examples_and_hints_are_those_of_the_file_that_a_new_job_starts_from(
    tmp_path: Path,
) -> None:
    found = form(job(tmp_path))
    blank = {f["key"]: f for f in section(found, "new.baffles")["blank"]["fields"]}
    assert (blank["name"]["example"], blank["thickness"]["example"]) == ("left wall", "1.5 mm")
    assert "It switches on: where the marks go." in section(found, "new.dipstick")["more"]
    us = form(job(tmp_path, TEXT.replace("new:", "units: us\nnew:", 1)))
    blank = {f["key"]: f for f in section(us, "new.baffles")["blank"]["fields"]}
    assert blank["thickness"]["example"] == "0.06 in"
    assert fields(us)["requirements.clearance"]["default"] == "0.393701 in"  # 10 mm over 25.4


def test_no_hint_speaks_of_the_file_s_own_signs(tmp_path: Path) -> None:
    for _, one, _ in walk(form(job(tmp_path))):
        assert not re.search(r"docs/|\.md\b|#|: \{", one["more"]), one["key"]


@pytest.mark.parametrize(
    ("old", "new", "key", "code"),
    [
        ("fill: 4.5 L", "fill: 4,5 L", "oil.fill", "JOB-101"),
        ("fill: 4.5 L", "fill: 4.5", "oil.fill", "JOB-101"),
        ("  fill: 4.5 L  # as poured\n", "", "oil.fill", "JOB-130"),
        ("thickness: 1 mm\n      gap", "gap", "new.baffles.rear wall.thickness", "JOB-104"),
        ("60 mm, 0 mm]", "60, 0 mm]", "new.baffles.left wall.at", "JOB-101"),
        ("geometry/new.step", "geometry/gone.step", "new.cavity", "JOB-121"),
        ("clearance: 12 mm", "clearance: 12 L", "obstacles.rack.clearance", "JOB-101"),
        ("grade: 10W-40", "grade: 11W-41", "oil.grade", "JOB-134"),
    ],
)
def test_a_problem_stands_at_its_field(
    tmp_path: Path, old: str, new: str, key: str, code: str
) -> None:
    found = form(job(tmp_path, TEXT.replace(old, new, 1)))
    assert fields(found)[key]["problem"]["code"] == code
    assert found["problems"][0] == fields(found)[key]["problem"]


@pytest.mark.parametrize(
    ("old", "new", "key", "code"),
    [
        ("diameter: 40 mm", "place: floor", "new.pickup", "JOB-108"),
        ("  fill: 4.5 L", "  fil: 4.5 L\n  fill: 4.5 L", "oil", "JOB-103"),
    ],
)
def test_a_problem_of_no_field_stands_at_its_section(
    tmp_path: Path, old: str, new: str, key: str, code: str
) -> None:
    found = form(job(tmp_path, TEXT.replace(old, new, 1)))
    assert section(found, key)["problem"]["code"] == code


@pytest.mark.parametrize(
    ("old", "new", "line"),
    [
        ("oil:\n", "oil: [1, 2\n", 24),
        ("  fill: 4.5 L", "\tfill: 4.5 L", 25),
        ('"Bench engine"', '"Bench engine', 2),
        ("  fill: 4.5 L", "  fill: 4.5 L\n  fill: 5 L", 26),
    ],
)
def test_a_file_that_is_no_yaml_shows_its_problem_and_the_lines_round_it(
    tmp_path: Path, old: str, new: str, line: int
) -> None:
    text = TEXT.replace(old, new, 1)
    found = form(job(tmp_path, text))
    assert found["sections"] == []
    assert found["problems"][0]["where"].startswith(f"job.yaml:{line}")
    assert found["broken"]["line"] == line
    assert (line, text.split("\n")[line - 1]) in found["broken"]["lines"]
    assert found["text_hash"]


SPOILT = [
    "new: 5",
    "new: [1, 2]",
    "new:",
    "oil: geometry/new.step",
    "oil: {fill: {a: b}}",
    "oil: {fill: [4 L]}",
    "obstacles: {a: b}",
    "obstacles: text",
    "obstacles: [1, null, [2], {name: }, {name: [a]}, {name: a}, {name: a}]",
    "manoeuvres: [{kind: [circle]}, {name: {a: b}}]",
    "driveline: {gears: 3}",
    "driveline: {gears: {a: b}}",
    "driveline: {gears: [[1], {a: b}, null]}",
    "new: {pickup: {centre: [1 mm], rim: [1 mm, [2 mm], null]}}",
    "new: {cavity: [a, b], baffles: [{openings: {a: b}}, {openings: [text]}]}",
    "stock: &s {cavity: geometry/new.step}\nnew: *s",
    "base: &b {fill: 4 L}\noil: {<<: *b}",
    "units: [us]",
    "units: us\noil: {fill: 4.5}",
    "requirements: off",
    "logs: {columns: {time: {a: b}}}",
    "viscosity: [1]",
]


@pytest.mark.parametrize("text", SPOILT)
def test_whatever_shape_the_file_is_in_its_forms_and_problems_are_shown(
    tmp_path: Path, text: str
) -> None:
    found = form(job(tmp_path, text + "\njob: x\n"))
    assert found["problems"]
    assert fields(found)["job"]["typed"] == "x"
    json.dumps(found, allow_nan=False)


def test_a_file_that_is_gone_or_no_text_shows_its_problem(tmp_path: Path) -> None:
    folder = job(tmp_path, b"job: \xff\xfe")
    assert form(folder)["problems"][0]["code"] == "JOB-113"
    (folder / "job.yaml").unlink()
    found = form(folder)
    assert (found["problems"][0]["code"], found["text_hash"]) == ("JOB-111", None)


def test_windows_line_ends_and_a_byte_order_mark_change_nothing(tmp_path: Path) -> None:
    plain = form(job(tmp_path))
    marked = form(job(tmp_path, "\ufeff" + TEXT.replace("\n", "\r\n")))
    assert marked["sections"] == plain["sections"]


@pytest.mark.parametrize("name", ["demo-a", "demo-b"])
def test_the_demo_jobs_have_no_problem_and_show_every_value_they_have(name: str) -> None:
    from sumpwright.job.load import load_job

    found = form(EXAMPLES / name)
    assert found["problems"] == []
    tree = load_job(EXAMPLES / name).tree
    typed = {f["key"] for f in fields(found).values() if f["typed"] is not None}
    for keys in [k for k, m in tree.marks.items() if m.shape == "text"]:
        above = {page_key(tree.data, keys[:end]) for end in range(1, len(keys) + 1)}
        assert above & typed, keys


def test_making_forms_loads_neither_arrays_nor_the_units_library() -> None:
    code = (
        "import sys; from pathlib import Path; from sumpwright.web.form import form; "
        f"form(Path({str(EXAMPLES / 'demo-b')!r})); "
        "print([m for m in ('pint', 'scipy', 'numba', 'OCP', 'igl') if m in sys.modules])"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "[]"
