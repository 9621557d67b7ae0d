# SPDX-License-Identifier: Apache-2.0
"""Changes through forms: only what was asked, never over somebody else's, never half."""

import os
import stat
import threading
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from typer.testing import CliRunner

from sumpwright.cli.main import app
from sumpwright.errors import InputError
from sumpwright.job.load import load_job
from sumpwright.web import edit_job
from sumpwright.web.form import form
from tests.web.edit_case import TEXT, ask, job, lines, set_, text_of

pytestmark = pytest.mark.slow


def refused(folder: Path, verb: str = "set", **body: Any) -> InputError:
    """The problems of a change that must write nothing."""
    before = text_of(folder)
    with pytest.raises(InputError) as caught:
        ask(folder, verb, **body)
    assert text_of(folder) == before
    return caught.value


def values(folder: Path) -> list[dict[str, Any]]:
    """Every field of the page's form, those in lists among them."""

    def inner(section: dict[str, Any]) -> list[dict[str, Any]]:
        own = [f for field in section["fields"] for f in (field, *(field["entries"] or ()))]
        below = (*section["sections"], *(section["items"] or ()))
        return [*own, *(f for s in below for f in inner(s))]

    return [f for s in form(folder)["sections"] for f in inner(s)]


def test_a_value_is_set_and_every_other_byte_stays(tmp_path: Path) -> None:
    folder = job(tmp_path)
    said = set_(folder, "oil.fill", "4.9 qt", "4.5 L")
    assert text_of(folder) == TEXT.replace("4.5 L", "4.9 qt")
    assert (said["status"], said["typed"]) == (200, "4.9 qt")
    assert said["says"] == "oil.fill: 4.5 L -> 4.9 qt"
    assert (said["can_undo"], said["can_redo"]) == (True, False)


@pytest.mark.parametrize(
    "text", ["\ufeff" + TEXT.replace("\n", "\r\n"), TEXT.replace("\n", "\r\n", 20), TEXT[:-1]]
)
def test_line_ends_and_the_byte_order_mark_stay_as_they_are(tmp_path: Path, text: str) -> None:
    folder = job(tmp_path, text)
    set_(folder, "obstacles.beam.clearance", "14 mm", None)
    set_(folder, "oil.fill", "4.6 L", "4.5 L")
    rows = lines(text, text_of(folder))
    assert [r.rstrip("\r") for r in rows if not r.startswith("?")] == [
        "-   fill: 4.5 L  # as poured",
        "+   fill: 4.6 L  # as poured",
        "+     clearance: 14 mm",
    ]


@pytest.mark.parametrize(
    ("key", "value", "before"),
    [
        ("oil.fill", "4,9 L", "4.5 L"),
        ("oil.fill", "4.9", "4.5 L"),
        ("oil.fill", "", "4.5 L"),
        ("oil.fill", "   ", "4.5 L"),
        ("oil.fill", "9e999 L", "4.5 L"),
        ("oil.fill", "500 L", "4.5 L"),
        ("oil.fill", "L", "4.5 L"),
        ("oil.low", "5 L", None),
        ("oil.grade", "11W-41", "10W-40"),
        ("oil.fil", "4 L", None),
        ("oil", "4 L", None),
        ("new.cavity", "../outside.step", "geometry/new.step"),
        ("new.cavity", "geometry/gone.step", "geometry/new.step"),
        ("new.baffles.rear wall.thickness", None, "1 mm"),
        ("units", "imperial", None),
        ("driveline.gears", "[3.2, x]", "[3.2, 1.9, 1.3]"),
        ("revision", "a b", None),
    ],
)
def test_a_refused_value_writes_nothing_and_says_what_the_command_says(
    tmp_path: Path, key: str, value: str | None, before: str | None
) -> None:
    folder = job(tmp_path)
    told = refused(folder, key=key, value=value, before=before)
    done = CliRunner().invoke(app, ["set", str(folder), key, "null" if value is None else value])
    assert done.exit_code == 2
    assert str(told) in done.output


@pytest.mark.parametrize(
    "value",
    [
        "4.5 L\nrevision: Z",
        "4.5 L # poured",
        "{fill: 4 L}",
        "[4 L]",
        "!!python/object:os.system 4 L",
        "&a 4 L",
        "*a",
        "4.5 L: 4",
        "- 4.5 L",
        '"4.5 L',
        "| 4.5 L",
        "4.5 L\x00",
        "4.5 L\u2028low: 1 L",
        "\ud800",
        "9" * 20_000 + " L",
    ],
)
def test_no_value_of_a_number_can_reach_beyond_its_key(tmp_path: Path, value: str) -> None:
    refused(job(tmp_path), key="oil.fill", value=value, before="4.5 L")


TEXTS = [
    "x: {a: b}",
    "two\nlines",
    "!tag",
    "&a b",
    "*a",
    "# no comment",
    "a # b",
    "null",
    "~",
    "true",
    '"quoted"',
    "'",
    "[a]",
    "{a: b}",
    "- a",
    "%YAML 1.2",
    "---",
    "1.0",
    "tab\there",
    "größer als 12 µm",
    "a\\nb",
]


@pytest.mark.parametrize("value", TEXTS)
def test_a_text_is_whatever_was_typed(tmp_path: Path, value: str) -> None:
    folder = job(tmp_path)
    assert set_(folder, "note", value, None)["typed"] == value
    assert set_(folder, "new.baffles.rear wall.name", value, "rear wall")["status"] == 200
    loaded = load_job(folder).job
    assert (loaded.note, loaded.new.baffles[0].name) == (value, value)
    assert loaded.new.baffles[1].name == "left wall"


@given(st.text(st.characters(exclude_categories=["Cs", "Cc"]), min_size=1, max_size=60))
@settings(max_examples=60, suppress_health_check=[HealthCheck.function_scoped_fixture])
def test_any_text_at_all_is_read_back_and_undone(tmp_path: Path, value: str) -> None:
    folder = job(tmp_path, "job: x\nnew: {cavity: geometry/new.step}\noil: {fill: 4 L}\n")
    before = text_of(folder)
    said = set_(folder, "job", value, "x")
    if not value.strip():
        return
    if value.strip() != "x":
        assert said["typed"] == value.strip() == load_job(folder).job.job
        assert ask(folder, "undo")["status"] == 200
    assert text_of(folder) == before


def test_a_value_is_taken_out_and_its_line_stays(tmp_path: Path) -> None:
    folder = job(tmp_path)
    said = set_(folder, "oil.grade", None, "10W-40")
    assert (said["typed"], text_of(folder)) == (None, TEXT.replace("10W-40", "null"))


def test_what_somebody_else_put_there_is_not_overwritten(tmp_path: Path) -> None:
    folder = job(tmp_path)
    set_(folder, "oil.fill", "4.6 L", "4.5 L", window="two")
    said = set_(folder, "oil.fill", "4.7 L", "4.5 L")
    assert (said["status"], said["conflict"]) == (409, {"key": "oil.fill", "theirs": "4.6 L"})
    assert "it is now 4.6 L" in said["error"]
    assert text_of(folder) == TEXT.replace("4.5 L", "4.6 L")


def test_what_somebody_left_out_or_put_in_meanwhile_is_a_conflict_too(tmp_path: Path) -> None:
    folder = job(tmp_path)
    assert set_(folder, "oil.low", "3 L", "3.6 L")["conflict"]["theirs"] is None
    assert set_(folder, "oil.fill", "4 L", None)["conflict"]["theirs"] == "4.5 L"


def test_the_same_value_by_both_is_no_conflict(tmp_path: Path) -> None:
    folder = job(tmp_path)
    set_(folder, "oil.fill", "4.6 L", "4.5 L", window="two")
    said = set_(folder, "oil.fill", "4.6 L", "4.5 L")
    assert (said["status"], said["key"]) == (200, "")


def test_other_keys_may_have_changed_meanwhile(tmp_path: Path) -> None:
    folder = job(tmp_path)
    path = folder / "job.yaml"
    path.write_text(TEXT.replace("bump_travel: 60 mm", "bump_travel: 70 mm # new"), "utf-8")
    assert set_(folder, "oil.fill", "4.6 L", "4.5 L")["status"] == 200
    assert "bump_travel: 70 mm # new" in text_of(folder)


def test_a_value_of_an_entry_that_is_gone_is_a_conflict_not_another_entry_s(
    tmp_path: Path,
) -> None:
    folder = job(tmp_path)
    ask(folder, "take", key="obstacles.rack", window="two")
    said = set_(folder, "obstacles.rack.clearance", "9 mm", "12 mm")
    assert (said["status"], said["conflict"]["theirs"]) == (409, None)


def test_several_values_are_set_at_one_stroke_or_none(tmp_path: Path) -> None:
    folder = job(tmp_path)
    change = {"key": "oil.low", "value": "3.6 L", "before": None}
    bad = {"key": "oil.beyond_pan", "value": "1", "before": None}
    refused(folder, changes=[change, bad])
    stick = [
        {"key": "new.dipstick.start", "value": "[1 mm, 2 mm, 3 mm]", "before": None},
        {"key": "new.dipstick.length", "value": "300 mm", "before": None},
    ]
    said = ask(folder, "set", changes=stick)
    assert said["says"].endswith("and 1 more")
    assert [r for r in lines(TEXT, text_of(folder)) if r[0] != "?"] == [
        "+   dipstick:", "+     start: [1 mm, 2 mm, 3 mm]", "+     length: 300 mm",
    ]  # fmt: skip
    ask(folder, "undo")
    assert text_of(folder) == TEXT


def test_one_conflict_among_several_values_writes_none(tmp_path: Path) -> None:
    folder = job(tmp_path)
    rows = [
        {"key": "oil.fill", "value": "4 L", "before": "4.5 L"},
        {"key": "oil.grade", "value": "5W-30", "before": "0W-20"},
    ]
    assert ask(folder, "set", changes=rows)["status"] == 409
    assert text_of(folder) == TEXT


def test_a_problem_that_was_there_before_does_not_stand_in_the_way(tmp_path: Path) -> None:
    folder = job(tmp_path, TEXT.replace("60 mm\n# What", "60\n# What"))
    said = set_(folder, "oil.fill", "4.6 L", "4.5 L")
    assert [p["code"] for p in said["problems"]] == ["JOB-101"]


def test_a_file_that_is_no_yaml_is_not_edited(tmp_path: Path) -> None:
    folder = job(tmp_path, TEXT.replace("oil:\n", "oil: [\n"))
    assert (
        refused(folder, key="oil.fill", value="4 L", before="4.5 L").problems[0].code == "JOB-116"
    )


def test_a_job_file_that_is_gone_is_not_made_anew(tmp_path: Path) -> None:
    folder = job(tmp_path)
    (folder / "job.yaml").unlink()
    with pytest.raises(InputError, match="JOB-111"):
        set_(folder, "oil.fill", "4 L", "4.5 L")
    assert not (folder / "job.yaml").exists()


def test_a_protected_job_file_is_not_edited(tmp_path: Path, bound: Any) -> None:
    folder = job(tmp_path)
    os.chmod(folder / "job.yaml", stat.S_IRUSR)
    told = bound(
        "from tests.web.edit_case import ask\n"
        f"    ask(Path({str(folder)!r}), 'set', key='oil.fill', value='4 L', before='4.5 L')"
    )
    assert "[SAVE-301]" in told
    assert text_of(folder) == TEXT


def test_a_file_grown_beyond_what_is_read_back_is_not_written(tmp_path: Path) -> None:
    folder = job(tmp_path, TEXT + "# " + "x" * ((1 << 20) - len(TEXT) - 10) + "\n")
    assert refused(folder, key="note", value="y" * 100, before=None).problems[0].code == "JOB-114"


def test_a_job_file_that_is_a_link_out_of_the_folder_is_not_edited(tmp_path: Path) -> None:
    folder = job(tmp_path / "job")
    outside = tmp_path / "outside.yaml"
    (folder / "job.yaml").rename(outside)
    (folder / "job.yaml").symlink_to(outside)
    said = set_(folder, "oil.fill", "4 L", "4.5 L")
    assert (said["status"], "leads out of the folder" in said["error"]) == (422, True)
    assert outside.read_text("utf-8") == TEXT


def test_entries_are_added_from_the_starter_s_example_under_a_name_of_their_own(
    tmp_path: Path,
) -> None:
    folder = job(tmp_path)
    for name in ("left wall 2", "left wall 3"):
        assert ask(folder, "add", key="new.baffles", values=None)["key"] == f"new.baffles.{name}"
    said = ask(folder, "add", key="manoeuvres", values=None)
    assert said["key"] == "manoeuvres.left circle 2"
    loaded = load_job(folder).job
    assert [b.name for b in loaded.new.baffles][2:] == ["left wall 2", "left wall 3"]
    assert loaded.new.baffles[2].openings[1].door is not None
    assert text_of(folder).startswith(TEXT[: TEXT.index("  suction:")])


def test_an_entry_is_added_as_its_form_was_filled_in(tmp_path: Path) -> None:
    folder = job(tmp_path)
    values = {
        "name": "tray: upper",
        "at": "[1 mm, 2 mm, -30 mm]",
        "normal": "[0, 0, 1]",
        "thickness": "1 mm",
        "gap": "",
        "openings.0.name": "slot",
        "openings.0.centre": "[0 mm, 0 mm]",
        "openings.0.width": "10 mm",
        "openings.0.height": "9 mm",
        "openings.0.door.hinge": "top",
        "openings.0.door.opens": "ahead",
    }
    said = ask(folder, "add", key="new.baffles", values=values)
    assert said["key"] == "new.baffles.tray: upper"
    tray = load_job(folder).job.new.baffles[2]
    assert (tray.name, tray.at, tray.gap) == ("tray: upper", (0.001, 0.002, -0.03), 0.0)
    assert tray.openings[0].door is not None
    ask(folder, "undo")
    assert text_of(folder) == TEXT


@pytest.mark.parametrize(
    ("key", "values", "code"),
    [
        ("obstacles", None, "JOB-121"),
        ("obstacles", {"name": "a", "file": "geometry/beam.step", "clearance": "1"}, "JOB-101"),
        ("new.baffles", {"name": "x", "top": "1 mm"}, "JOB-104"),
        ("new.displacing", None, "SAVE-309"),
        ("driveline.gears", "9999", "JOB-102"),
        ("new.pickup.centre", "1 mm", "JOB-106"),
        ("oil.fill", "1 L", "JOB-103"),
        ("nowhere", None, "JOB-103"),
        ("manoeuvres", {"name": "a", "name.b": "c"}, "JOB-105"),
    ],
)
def test_an_entry_with_a_problem_is_not_added(
    tmp_path: Path, key: str, values: Any, code: str
) -> None:
    assert code in str(refused(job(tmp_path), "add", key=key, values=values))


def test_a_section_is_added_and_taken_out(tmp_path: Path) -> None:
    folder = job(tmp_path)
    assert ask(folder, "add", key="new.dipstick", values=None)["status"] == 200
    assert ask(folder, "add", key="new.dipstick", values=None)["status"] == 409
    assert ask(folder, "take", key="new.dipstick")["status"] == 200
    assert text_of(folder) == TEXT
    assert ask(folder, "take", key="new.dipstick")["status"] == 409


def test_what_is_needed_is_not_taken_out(tmp_path: Path) -> None:
    folder = job(tmp_path)
    assert "JOB-104" in str(refused(folder, "take", key="new.cavity"))


def test_an_entry_that_changed_since_it_was_seen_is_not_taken_out(tmp_path: Path) -> None:
    from sumpwright.web.form import form
    from tests.web.test_form import section

    folder = job(tmp_path)
    seen = section(form(folder), "obstacles.rack")["seen"]
    set_(folder, "obstacles.rack.clearance", "9 mm", "12 mm", window="two")
    assert ask(folder, "take", key="obstacles.rack", seen=seen)["status"] == 409
    seen = section(form(folder), "obstacles.rack")["seen"]
    assert ask(folder, "take", key="obstacles.rack", seen=seen)["status"] == 200


def test_a_value_is_added_to_a_list_and_taken_out(tmp_path: Path) -> None:
    folder = job(tmp_path)
    said = ask(folder, "add", key="driveline.gears", values="1.0")
    assert (said["key"], said["typed"]) == ("driveline.gears.3", "1.0")
    assert "gears: [3.2, 1.9, 1.3, 1.0]" in text_of(folder)
    ask(folder, "take", key="driveline.gears.3")
    assert text_of(folder) == TEXT


def test_two_windows_at_once_lose_nothing(tmp_path: Path) -> None:
    folder = job(tmp_path)
    keys = {"one": "oil.fill", "two": "ride.bump_travel", "three": "obstacles.rack.clearance"}
    start = {"one": "4.5 L", "two": "60 mm", "three": "12 mm"}
    ready = threading.Barrier(len(keys))

    def many(window: str) -> list[int]:
        before, found = start[window], []
        unit = before.partition(" ")[2]
        ready.wait()
        for i in range(8):
            value = f"4.{i} L" if unit == "L" else f"{20 + i} mm"
            found.append(set_(folder, keys[window], value, before, window=window)["status"])
            before = value
        return found

    with ThreadPoolExecutor() as pool:
        found = list(pool.map(many, keys))
    assert found == [[200] * 8] * 3
    expected = TEXT.replace("4.5 L", "4.7 L").replace("60 mm\n#", "27 mm\n#")
    assert text_of(folder) == expected.replace("12 mm", "27 mm")
    for _ in range(24):
        assert ask(folder, "undo")["status"] == 200
    assert text_of(folder) == TEXT


def test_a_save_from_outside_in_between_is_kept_too(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    folder, saved = job(tmp_path), edit_job.save_text

    def interrupted(path: Path, before: bytes, new: str, checks: Any) -> Any:
        monkeypatch.setattr(edit_job, "save_text", saved)
        path.write_bytes(before.replace(b"60 mm\n#", b"65 mm\n#"))  # an editor, just now
        return saved(path, before, new, checks)

    monkeypatch.setattr(edit_job, "save_text", interrupted)
    assert set_(folder, "oil.fill", "4.6 L", "4.5 L")["status"] == 200
    expected = TEXT.replace("4.5 L", "4.6 L").replace("60 mm\n#", "65 mm\n#")
    assert text_of(folder) == expected


def test_without_a_folder_for_the_history_edits_go_on(tmp_path: Path) -> None:
    folder = job(tmp_path)
    (folder / "out").write_text("a file in its place", "utf-8")
    said = set_(folder, "oil.fill", "4.6 L", "4.5 L")
    assert (said["status"], said["can_undo"]) == (200, False)
    assert "4.6 L" in text_of(folder)


def test_a_history_folder_that_leads_outside_is_not_written_to(tmp_path: Path) -> None:
    folder = job(tmp_path / "job")
    (tmp_path / "elsewhere").mkdir()
    (folder / "out").symlink_to(tmp_path / "elsewhere")
    said = set_(folder, "oil.fill", "4.6 L", "4.5 L")
    assert (said["status"], said["can_undo"]) == (200, False)
    assert list((tmp_path / "elsewhere").iterdir()) == []


def test_a_value_of_an_unnamed_entry_follows_the_entry_not_its_number(tmp_path: Path) -> None:
    """Both tubes have the same bore; the first goes while another window has them on its screen."""
    folder = job(tmp_path)
    bore = {f["key"]: f for f in values(folder)}["new.suction.tubes.1.bore"]
    assert bore["typed"] == "18 mm"
    assert ask(folder, "take", key="new.suction.tubes.0", seen=None)["status"] == 200
    said = set_(folder, bore["key"], "20 mm", "18 mm", within=bore["within"])
    assert said["status"] == 200
    assert "      - bore: 20 mm\n        length: 55 mm" in text_of(folder)


def test_the_neighbour_of_an_unnamed_entry_is_never_hit(tmp_path: Path) -> None:
    folder = job(tmp_path)
    bore = {f["key"]: f for f in values(folder)}["new.suction.tubes.0.bore"]
    assert ask(folder, "take", key="new.suction.tubes.0", seen=None)["status"] == 200
    before = text_of(folder)
    said = set_(folder, bore["key"], "20 mm", "18 mm", within=bore["within"])
    assert (said["status"], said["conflict"]["theirs"]) == (409, "18 mm")
    assert text_of(folder) == before
    now = said["conflict"]["within"]  # looked at, and meant all the same
    assert set_(folder, bore["key"], "20 mm", "18 mm", within=now)["status"] == 200
    assert "      - bore: 20 mm\n        length: 55 mm" in text_of(folder)


def test_a_window_s_own_changes_of_one_entry_are_no_conflict(tmp_path: Path) -> None:
    folder = job(tmp_path)
    shown = {f["key"]: f for f in values(folder)}
    bore, length = (shown[f"new.suction.tubes.1.{name}"] for name in ("bore", "length"))
    said = set_(folder, bore["key"], "20 mm", "18 mm", within=bore["within"])
    assert said["within"] != bore["within"]
    again = set_(folder, length["key"], "60 mm", "55 mm", within=said["within"])
    assert again["status"] == 200
    assert "      - bore: 20 mm\n        length: 60 mm" in text_of(folder)


def test_a_value_of_a_plain_list_is_changed_only_in_the_list_that_was_seen(tmp_path: Path) -> None:
    folder = job(tmp_path)
    first = {f["key"]: f for f in values(folder)}["driveline.gears.1"]
    ask(folder, "add", key="driveline.gears", values="0.9")
    said = set_(folder, first["key"], "2.0", "1.9", within=first["within"])
    assert (said["status"], said["conflict"]["theirs"]) == (409, "1.9")
    assert "gears: [3.2, 1.9, 1.3, 0.9]" in text_of(folder)


def test_a_value_of_a_plain_list_goes_only_from_the_list_that_was_seen(tmp_path: Path) -> None:
    folder = job(tmp_path)
    second = {f["key"]: f for f in values(folder)}["driveline.gears.1"]
    ask(folder, "take", key="driveline.gears.0", seen=None)
    said = ask(folder, "take", key=second["key"], seen=None, within=second["within"])
    assert said["status"] == 409
    assert "gears: [1.9, 1.3]" in text_of(folder)
