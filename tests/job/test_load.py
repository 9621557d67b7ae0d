# SPDX-License-Identifier: Apache-2.0
"""Every way a job file can be wrong, and what is then said."""

import os
from pathlib import Path

import pytest

from sumpwright.errors import InputError, Problem
from sumpwright.job.load import load_job


def problems(path: Path) -> tuple[Problem, ...]:
    with pytest.raises(InputError) as caught:
        load_job(path)
    return caught.value.problems


def only(path: Path) -> Problem:
    (problem,) = problems(path)
    return problem


NEW = "  cavity: {file: geometry/new.stl, unit: mm}\n"


def test_loads_the_smallest_job_and_knows_its_places(make_job, small) -> None:
    loaded = load_job(make_job(small))
    assert loaded.job.oil.fill == pytest.approx(4.6e-3, rel=1e-15)
    assert loaded.where("oil", "fill") == "job.yaml:6  oil.fill"
    assert loaded.where("new", "cavity", "cap_at") == "job.yaml:4  new.cavity.cap_at"
    assert loaded.typed("oil", "fill") == "4.6 L"
    assert loaded.typed("oil", "low") == "nothing"
    assert loaded.folder == loaded.path.parent
    assert loaded.file("geometry/new.stl").is_file()


def test_takes_the_file_for_the_folder(make_job, small) -> None:
    folder = make_job(small)
    assert load_job(folder / "job.yaml") == load_job(folder)


def test_takes_spaces_and_other_alphabets_in_the_path(tmp_path: Path, small) -> None:
    folder = tmp_path / "Ölwanne für  Jiří — 車"
    (folder / "geometry").mkdir(parents=True)
    (folder / "geometry" / "new.stl").touch()
    (folder / "job.yaml").write_text(small.replace("Bench engine", "Jiří 車"), encoding="utf-8")
    assert load_job(folder).job.job == "Jiří 車"


def test_says_all_problems_at_once_in_the_order_of_the_file(make_job) -> None:
    text = (
        "job: Bench engine\n"
        "units: imperial\n"
        "new:\n"
        "  cavity: {file: geometry/nwe.stl, unit: mm}\n"
        "  pickup:\n"
        "    centre: [10 mm, 0 mm]\n"
        "    diametr: 40 mm\n"
        "oil:\n"
        "  fill: 4.60\n"
        "  low: 900 L\n"
    )
    with pytest.raises(InputError) as caught:
        load_job(make_job(text))
    assert str(caught.value) == (
        "job.yaml:2  units  [JOB-107]\n"
        "  found   imperial\n"
        "  needed  metric or us\n"
        "  do      write metric or us\n"
        "\n"
        "job.yaml:4  new.cavity.file  [JOB-121]\n"
        "  found   geometry/nwe.stl, which is not there\n"
        "  needed  this file in job\n"
        "  do      did you mean geometry/new.stl?\n"
        "\n"
        "job.yaml:6  new.pickup.centre  [JOB-106]\n"
        "  found   [10 mm, 0 mm]\n"
        "  needed  [x, y, z], each -10 m to 10 m\n"
        "  do      give 3 entries\n"
        "\n"
        "job.yaml:7  new.pickup.diametr  [JOB-103]\n"
        "  found   diametr: 40 mm\n"
        "  needed  a key that `new.pickup` knows: centre, diameter, facing, rim, place\n"
        "  do      did you mean `diameter`?\n"
        "\n"
        "job.yaml:9  oil.fill  [JOB-101]\n"
        "  found   4.60\n"
        "  needed  0.001 L to 100 L\n"
        "  do      write its unit behind the number, as in '4.60 L'\n"
        "\n"
        "job.yaml:10  oil.low  [JOB-102]\n"
        "  found   900 L\n"
        "  needed  0.001 L to 100 L\n"
        "  do      change the value, or check its unit"
    )


PICKUP = "new:\n" + NEW + "  pickup: {centre: [0 m, 0 m, 0 m], diameter: 4 cm, "


WRONG = {
    "a comma for the point": ("oil:\n  fill: 4,6 L\n", "JOB-101", "oil.fill", "'4.6 L'"),
    "grams for litres": ("oil:\n  fill: 4600 gram\n", "JOB-101", "oil.fill", "use L or qt"),
    "a list for a quantity": ("oil:\n  fill: [4.6 L]\n", "JOB-105", "oil.fill", "one number"),
    "a section for a quantity": ("oil:\n  fill: {a: 1}\n", "JOB-105", "oil.fill", "one number"),
    "text for a section": ("oil: 4.6 L\n", "JOB-105", "oil", "below `oil:`, indented"),
    "a section for a list": ("movement: {roll: 3 deg}\n", "JOB-105", "movement", "brackets"),
    "a unit on a direction": (
        PICKUP + "facing: [0 m, 0, 1]}\n",
        "JOB-105", "new.pickup.facing.0", "no unit",
    ),
    "a direction that is not finite": (
        PICKUP + "facing: [.inf, 0, 1]}\n",
        "JOB-105", "new.pickup.facing.0", "write a number",
    ),
    "a direction of nothing": (
        PICKUP + "facing: [0, 0, 0]}\n",
        "JOB-108", "new.pickup", "[0, 0, -1]",
    ),
    "a place of four": (
        "new:\n" + NEW + "  dipstick: {start: [0 m, 0 m, 0 m, 0 m]}\n",
        "JOB-106", "new.dipstick.start", "3 entries",
    ),
    "a rim of two": (
        "new:\n" + NEW + "  pickup: {rim: [[0 m, 0 m, 0 m], [1 mm, 0 m, 0 m]]}\n",
        "JOB-106", "new.pickup.rim", "3 entries",
    ),
    "an empty name": ("job: ''\n", "JOB-105", "job", "text"),
    "an empty list entry": ("movement: [ , ]\n", "JOB-116", "", "comma"),
    "an entry of nothing": ("movement:\n  -\n", "JOB-105", "movement.0", "delete the entry"),
    "a word that is none": ("units: metrik\n", "JOB-107", "units", "did you mean metric?"),
    "a switch that is none": (
        "new:\n  cavity: {file: geometry/new.step, repair: maybe}\n",
        "JOB-105", "new.cavity.repair", "true or false",
    ),
    "a newer schema": ("sumpwright: 2\n", "JOB-107", "sumpwright", "write 1"),
    "a limit that is no word": (
        "requirements: {hold_left: fast}\n", "JOB-101", "requirements.hold_left", "number, point",
    ),
    "a wall and a file": (
        "new:\n  outside: geometry/new.step\n  cavity: {file: geometry/new.step, wall: 3 mm}\n",
        "JOB-108", "new.cavity", "the wall that leaves it",
    ),
    "a key of another section": ("oil: {fill: 4 L, crank_sweep: 3 mm}\n",
                                 "JOB-103", "oil.crank_sweep", "belongs in `engine`"),
    "a key that belongs at the top": ("oil: {fill: 4 L, units: us}\n",
                                      "JOB-103", "oil.units", "belongs in the top of the file"),
    "a key of nowhere": ("colour: red\n", "JOB-103", "colour", "delete the key"),
    "a misspelt key of a deeper section": ("oil: {fill: 4 L, bump_travl: 3 mm}\n",
                                           "JOB-103", "oil.bump_travl", "`ride.bump_travel`"),
    "a revision that leaves the folder": ("revision: ../A\n", "JOB-105", "revision", "file's name"),
    "an alias to itself": ("oil: &a {fill: 4 L, low: *a}\n", "JOB-119", "", "write the values out"),
    "a tag that builds objects": (
        "note: !!python/object/apply:os.system ['true']\n", "JOB-116", "note", "'!'",
    ),
    "a list for a key": ("[a, b]: 3\n", "JOB-116", "", "brackets off"),
    "a tab": ("oil:\n\tfill: 4 L\n", "JOB-116", "", "tab"),
    "two colons": ("note: said: so\n", "JOB-116", "", "quotes"),
    "an open quote": ("note: 'abc\njob2: x\n", "JOB-116", "", "close the quote"),
    "an open bracket": ("obstacles: [\n", "JOB-116", "", "close the bracket"),
    "a wrong indentation": ("oil:\n   fill: 4 L\n  low: 2 L\n", "JOB-116", "", "indentation"),
    "a missing colon": ("oil:\n  fill: 4 L\nengine\npose: {}\n", "JOB-116", "", "colon"),
    "a special character": ("note: %x\n", "JOB-116", "", "in quotes"),
    "a second document": ("---\njob: two\n", "JOB-116", "", "---"),
    "an unknown alias": ("note: *x\n", "JOB-116", "", "quotes"),
}  # fmt: skip


@pytest.mark.parametrize("name", WRONG)
def test_names_the_place_and_the_mend_of(name: str, make_job) -> None:
    spoilt, code, key, do = WRONG[name]
    parts = {"job": "job: Bench engine\n", "new": "new:\n" + NEW, "oil": "oil:\n  fill: 4.6 L\n"}
    first = spoilt.split(":")[0]
    folder = make_job("".join(t for k, t in parts.items() if k != first) + spoilt)
    found = [p for p in problems(folder) if p.code == code]
    assert len(found) == 1, [str(p) for p in problems(folder)]
    where, _, place = found[0].where.partition("  ")
    assert place == key
    assert where.startswith("job.yaml:")
    assert do in found[0].do
    assert "Input should" not in str(found[0])


def test_points_at_the_line_that_has_to_change(make_job, small) -> None:
    assert only(make_job(small + "note: 'abc\nx: 3\n")).where == "job.yaml:7"  # where it opens
    assert only(make_job(small + "pose:\n  roll: 3\n")).where == "job.yaml:8  pose.roll"
    assert only(make_job(small + "ride: {}\n")).where == "job.yaml:7  ride.bump_travel"


def test_says_a_missing_section_and_how_it_starts(make_job) -> None:
    missing = problems(make_job("note: nothing here yet\n"))
    assert [(p.code, p.where) for p in missing] == [
        ("JOB-104", "job.yaml:1  job"),
        ("JOB-104", "job.yaml:1  new"),
    ]
    assert missing[1].do == "add `new:` with its keys indented below it"


def test_says_a_key_given_twice_with_both_lines(make_job, small) -> None:
    problem = only(make_job(small + "  fill: 4 L\n"))
    assert (problem.code, problem.where) == ("JOB-117", "job.yaml:7  oil.fill")
    assert "already on line 6" in problem.found


def test_takes_a_section_whose_keys_are_all_commented_out(make_job, small) -> None:
    loaded = load_job(make_job(small + "engine:\n#  rpm: 3 rpm\nnote:\n"))
    assert loaded.job.engine.rpm is None
    assert loaded.job.note is None


def test_takes_text_that_looks_like_a_number(make_job, small) -> None:
    text = small.replace("Bench engine", "2024") + "revision: 1.10\nsumpwright: 1\n"
    loaded = load_job(make_job(text))
    assert (loaded.job.job, loaded.job.revision) == ("2024", "1.10")


def test_takes_windows_line_ends_and_a_byte_order_mark(make_job, small) -> None:
    loaded = load_job(make_job("\ufeff" + small.replace("\n", "\r\n")))
    assert loaded.where("oil", "fill") == "job.yaml:6  oil.fill"


def test_takes_aliases_that_stay_small(make_job, small) -> None:
    more = "obstacles:\n  - &a {name: rack, file: geometry/new.step}\n"
    assert load_job(make_job(small + more)).job.obstacles[0].name == "rack"


def test_refuses_aliases_that_grow_without_growing_itself(make_job) -> None:
    lines = ["a0: &a0 [x, x, x, x, x, x, x, x, x, x]"]
    lines += [f"a{i}: &a{i} [{', '.join([f'*a{i - 1}'] * 10)}]" for i in range(1, 12)]
    found = problems(make_job("\n".join(lines) + "\n"))
    assert [p.code for p in found] == ["JOB-119"]


@pytest.mark.slow
def test_refuses_brackets_nested_beyond_any_job(make_job) -> None:
    assert only(make_job("[" * 1500)).code == "JOB-116"


# -- the file itself -------------------------------------------------------------------------------


def test_says_a_folder_that_is_not_there_and_the_near_name(tmp_path: Path) -> None:
    (tmp_path / "my-pan").mkdir()
    problem = only(tmp_path / "my-pna")
    assert problem.code == "JOB-110"
    assert f"did you mean {tmp_path / 'my-pan'}?" in problem.do


def test_says_a_folder_without_a_job_file(tmp_path: Path) -> None:
    assert only(tmp_path).found == "an empty folder"
    (tmp_path / "jobb.yml").touch()
    problem = only(tmp_path)
    assert (problem.code, problem.found) == ("JOB-111", "a folder without a job file")
    assert problem.do == "rename jobb.yml to job.yaml, if that is the job"


def test_sends_a_geometry_file_to_measure(tmp_path: Path) -> None:
    (tmp_path / "pan.step").touch()
    problem = only(tmp_path / "pan.step")
    assert problem.code == "JOB-111"
    assert f"sumpwright measure {tmp_path / 'pan.step'}" in problem.do


@pytest.mark.parametrize("text", ["", "# only a comment\n", "---\n"])
def test_says_an_empty_file(make_job, text: str) -> None:
    assert only(make_job(text)).code == "JOB-115"


@pytest.mark.parametrize("text", ["- a\n- b\n", "just words\n", "42\n"])
def test_says_a_file_that_is_no_job(make_job, text: str) -> None:
    assert only(make_job(text)).code == "JOB-118"


def test_says_bytes_that_are_not_utf8_with_their_line(make_job, small) -> None:
    folder = make_job(small)
    (folder / "job.yaml").write_bytes(b"job: x\nnote: caf\xe9\n")
    problem = only(folder)
    assert (problem.code, problem.where) == ("JOB-113", "job.yaml:2")
    (folder / "job.yaml").write_bytes(small.encode("utf-16"))
    assert only(folder).found == "UTF-16 text"


def test_refuses_a_control_character(make_job, small) -> None:
    problem = only(make_job(small + "note: a\x00b\n"))
    assert (problem.code, problem.where) == ("JOB-116", "job.yaml:7")


def test_refuses_a_file_over_a_mebibyte_unread(make_job, small) -> None:
    folder = make_job(small)
    with (folder / "job.yaml").open("ab") as stream:
        stream.truncate(3 << 30)  # sparse: reading it whole would take 3 GB
    assert only(folder).code == "JOB-114"


def test_refuses_what_is_not_a_file(tmp_path: Path) -> None:
    os.mkfifo(tmp_path / "job.yaml")  # opening it would wait for ever
    assert only(tmp_path).code == "JOB-112"


def test_says_a_file_that_may_not_be_read(make_job, small, bound) -> None:
    folder = make_job(small)
    (folder / "job.yaml").chmod(0)
    said = bound(f"from sumpwright.job.load import load_job; load_job(Path({str(folder)!r}))")
    assert "[JOB-112]" in said
    assert "Permission denied" in said
