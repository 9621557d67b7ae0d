# SPDX-License-Identifier: Apache-2.0
"""Changes taken back and made again, whatever else happened to the file meanwhile."""

import json
import random
from pathlib import Path
from typing import Any

import pytest

from sumpwright.errors import InputError
from sumpwright.web import undo as kept
from tests.web.edit_case import TEXT, ask, job, set_, text_of

pytestmark = pytest.mark.slow


def several(folder: Path) -> None:
    """One change of every kind."""
    set_(folder, "oil.fill", "4.6 L", "4.5 L")
    set_(folder, "oil.low", "3.6 L", None)
    set_(folder, "oil.grade", None, "10W-40")
    set_(folder, "new.cavity.unit", "mm", None)
    set_(folder, "job", "New: name", "Bench engine")
    set_(folder, "new.baffles.rear wall.name", "back wall", "rear wall")
    ask(folder, "add", key="new.baffles", values=None)
    ask(folder, "add", key="air", values=None)
    ask(folder, "take", key="obstacles.rack")
    ask(folder, "take", key="ride")
    ask(folder, "take", key="new.suction.tubes.0")
    ask(folder, "add", key="driveline.gears", values="1.0")


CHANGES = 12


@pytest.mark.parametrize(
    "text", [TEXT, TEXT.replace("\n", "\r\n"), "\ufeff" + TEXT, TEXT.replace("\n", "\r\n", 12)]
)
def test_everything_is_undone_byte_for_byte_and_redone(tmp_path: Path, text: str) -> None:
    folder = job(tmp_path, text)
    several(folder)
    after = text_of(folder)
    for i in range(CHANGES):
        said = ask(folder, "undo")
        assert (said["status"], said["can_undo"]) == (200, i < CHANGES - 1), said
    assert text_of(folder) == text
    for i in range(CHANGES):
        said = ask(folder, "redo")
        assert (said["status"], said["can_redo"]) == (200, i < CHANGES - 1), said
    assert text_of(folder) == after


def test_it_is_undone_after_a_restart_and_by_a_window_opened_since(tmp_path: Path) -> None:
    # nothing is held in memory: every call reads the history anew, as a new server does
    folder = job(tmp_path)
    several(folder)
    for _ in range(CHANGES):
        assert ask(folder, "undo", window="opened later")["status"] == 200
    assert text_of(folder) == TEXT
    assert ask(folder, "undo", window="opened later")["error"] == "there is nothing to undo"


def test_each_window_undoes_its_own_change_first(tmp_path: Path) -> None:
    folder = job(tmp_path)
    set_(folder, "oil.fill", "4.6 L", "4.5 L", window="one")
    set_(folder, "ride.bump_travel", "50 mm", "60 mm", window="two")
    said = ask(folder, "undo", window="one")
    assert (said["key"], said["typed"]) == ("oil.fill", "4.5 L")
    assert said["says"] == "oil.fill: 4.6 L -> 4.5 L"
    assert text_of(folder) == TEXT.replace("60 mm\n#", "50 mm\n#")
    assert ask(folder, "redo", window="one")["key"] == "oil.fill"
    assert ask(folder, "undo", window="two")["key"] == "ride.bump_travel"


def test_a_new_change_ends_what_its_window_could_redo(tmp_path: Path) -> None:
    folder = job(tmp_path)
    set_(folder, "oil.fill", "4.6 L", "4.5 L")
    ask(folder, "undo")
    set_(folder, "oil.low", "3.6 L", None)
    assert ask(folder, "redo")["status"] == 409


@pytest.mark.parametrize(
    ("now", "theirs"),
    [("4.8 L", "4.8 L"), ("null", None)],
)
def test_a_key_that_changed_since_is_left_alone(
    tmp_path: Path, now: str, theirs: str | None
) -> None:
    folder = job(tmp_path)
    set_(folder, "oil.low", "3.6 L", None)
    set_(folder, "oil.fill", "4.6 L", "4.5 L")
    edited = text_of(folder).replace("4.6 L", now)
    (folder / "job.yaml").write_bytes(edited.encode())
    said = ask(folder, "undo")
    assert (said["status"], said["conflict"]) == (409, {"key": "oil.fill", "theirs": theirs})
    assert text_of(folder) == edited
    assert ask(folder, "undo")["status"] == 409
    past = ask(folder, "undo", past=said["id"])
    assert (past["status"], past["key"]) == (200, "oil.low")
    assert text_of(folder) == TEXT.replace("4.5 L", now)


def test_a_value_that_is_the_same_again_was_changed_since_all_the_same(tmp_path: Path) -> None:
    folder = job(tmp_path)
    set_(folder, "oil.fill", "4.6 L", "4.5 L")
    set_(folder, "oil.fill", "4.7 L", "4.6 L", window="two")
    set_(folder, "oil.fill", "4.6 L", "4.7 L", window="two")
    said = ask(folder, "undo")
    assert (said["status"], said["conflict"]["theirs"]) == (409, "4.6 L")
    assert "oil.fill: 4.7 L -> 4.6 L" in said["error"]
    for window in ("two", "two", "one"):
        assert ask(folder, "undo", window=window)["status"] == 200
    assert text_of(folder) == TEXT


def test_what_is_inside_an_added_section_is_undone_before_it(tmp_path: Path) -> None:
    folder = job(tmp_path)
    ask(folder, "add", key="air", values=None)
    set_(folder, "air.altitude", "500 m", "300 m", window="two")
    assert ask(folder, "undo")["status"] == 409
    assert ask(folder, "undo", window="two")["status"] == 200
    assert ask(folder, "undo")["status"] == 200


def test_other_lines_and_their_comments_may_have_changed_since(tmp_path: Path) -> None:
    folder = job(tmp_path)
    several(folder)
    head, _, tail = text_of(folder).partition("job:")
    edited = f"# looked at today\n\n{head}# named\njob:{tail}# the end\n"
    (folder / "job.yaml").write_bytes(edited.encode())
    for _ in range(CHANGES):
        assert ask(folder, "undo")["status"] == 200
    first, _, rest = TEXT.partition("job:")
    assert text_of(folder) == f"# looked at today\n\n{first}# named\njob:{rest}# the end\n"


def test_other_values_on_the_same_line_may_have_changed_since(tmp_path: Path) -> None:
    folder = job(tmp_path)
    set_(folder, "manoeuvres.left circle.accel", "1.1 g", "1.0 g")
    set_(folder, "manoeuvres.left circle.radius", "20 m", "30 m", window="two")
    assert ask(folder, "undo")["status"] == 200
    assert text_of(folder) == TEXT.replace("radius: 30 m", "radius: 20 m")


def test_it_is_the_same_entry_though_others_came_and_went_before_it(tmp_path: Path) -> None:
    folder = job(tmp_path)
    set_(folder, "new.baffles.left wall.thickness", "2 mm", "1 mm")
    ask(folder, "take", key="new.baffles.rear wall", window="two")
    assert ask(folder, "undo")["status"] == 200
    assert ask(folder, "undo", window="two")["status"] == 200
    assert text_of(folder) == TEXT


def test_an_entry_without_a_name_is_not_taken_for_another(tmp_path: Path) -> None:
    folder = job(tmp_path)
    set_(folder, "new.suction.tubes.1.bore", "20 mm", "18 mm")
    edited = text_of(folder).replace("      - bore: 18 mm  # drawn\n        length: 80 mm\n", "")
    (folder / "job.yaml").write_bytes(edited.encode())
    assert ask(folder, "undo")["status"] == 409
    assert text_of(folder) == edited


def test_an_added_entry_that_was_worked_on_is_not_undone(tmp_path: Path) -> None:
    folder = job(tmp_path)
    ask(folder, "add", key="new.baffles", values=None)
    set_(folder, "new.baffles.left wall 2.gap", "1 mm", "0.5 mm", window="two")
    said = ask(folder, "undo")
    assert (said["status"], "was changed again since" in said["error"]) == (409, True)
    assert ask(folder, "undo", window="two")["status"] == 200
    assert ask(folder, "undo")["status"] == 200
    assert text_of(folder) == TEXT


def test_an_added_entry_that_an_editor_changed_is_not_undone(tmp_path: Path) -> None:
    folder = job(tmp_path)
    ask(folder, "add", key="new.baffles", values=None)
    edited = text_of(folder).replace("gap: 0.5 mm", "gap: 0.6 mm")
    (folder / "job.yaml").write_bytes(edited.encode())
    said = ask(folder, "undo")
    assert (said["status"], "changed inside" in said["error"]) == (409, True)
    assert text_of(folder) == edited


def test_an_entry_is_not_put_back_where_one_of_its_name_is_again(tmp_path: Path) -> None:
    folder = job(tmp_path)
    ask(folder, "take", key="obstacles.rack")
    values = {"name": "rack", "file": "geometry/beam.step"}
    ask(folder, "add", key="obstacles", values=values, window="two")
    assert ask(folder, "undo")["status"] == 409


def test_an_undo_that_would_be_a_problem_now_writes_nothing(tmp_path: Path) -> None:
    folder = job(tmp_path)
    set_(folder, "oil.fill", "5 L", "4.5 L")
    set_(folder, "oil.low", "4.8 L", None, window="two")
    before = text_of(folder)
    with pytest.raises(InputError, match="JOB-131"):
        ask(folder, "undo")
    assert text_of(folder) == before
    assert ask(folder, "undo", window="two")["status"] == 200
    assert ask(folder, "undo")["status"] == 200


def test_an_undo_in_a_file_that_is_no_yaml_now_writes_nothing(tmp_path: Path) -> None:
    folder = job(tmp_path)
    set_(folder, "oil.fill", "4.6 L", "4.5 L")
    broken = text_of(folder).replace("oil:", "oil: [")
    (folder / "job.yaml").write_bytes(broken.encode())
    with pytest.raises(InputError, match="JOB-116"):
        ask(folder, "undo")
    assert text_of(folder) == broken


@pytest.mark.parametrize(
    "spoilt",
    [
        "not JSON",
        "[" * 100_000,
        "{}",
        '[{"id": "../../x", "window": "one", "says": "x", "state": "done", "turn": 1}]',
        '[{"id": "00000001"}]',
        '[{"id": 1, "window": [], "says": "x", "state": "done", "turn": 1}]',
    ],
)
def test_a_history_that_somebody_spoilt_is_none(tmp_path: Path, spoilt: str) -> None:
    folder = job(tmp_path)
    set_(folder, "oil.fill", "4.6 L", "4.5 L")
    (folder / "out/page/undo/list.json").write_text(spoilt, "utf-8")
    assert kept.can(folder) == (False, False)
    assert ask(folder, "undo")["status"] == 409
    assert set_(folder, "oil.low", "3.6 L", None)["can_undo"]
    assert ask(folder, "undo")["status"] == 200


def test_a_step_whose_file_is_gone_or_spoilt_is_passed_over(tmp_path: Path) -> None:
    folder = job(tmp_path)
    set_(folder, "oil.fill", "4.6 L", "4.5 L")
    set_(folder, "oil.low", "3.6 L", None)
    (folder / "out/page/undo/00000002.json").write_text(json.dumps({"says": 1}), "utf-8")
    assert ask(folder, "undo")["key"] == "oil.fill"


def test_out_may_be_deleted_at_any_time(tmp_path: Path) -> None:
    import shutil

    folder = job(tmp_path)
    set_(folder, "oil.fill", "4.6 L", "4.5 L")
    shutil.rmtree(folder / "out")
    assert ask(folder, "undo")["status"] == 409
    assert set_(folder, "oil.fill", "4.7 L", "4.6 L")["can_undo"]


def test_the_history_is_bounded(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(kept, "_MOST_STEPS", 5)
    folder = job(tmp_path, "job: x\nnew: {cavity: geometry/new.step}\noil: {fill: 1 L}\n")
    for i in range(1, 9):
        set_(folder, "oil.fill", f"{i + 1} L", f"{i} L")
    names = sorted(p.name for p in (folder / "out/page/undo").glob("0*.json"))
    assert names == [f"{i:08d}.json" for i in range(4, 9)]
    for _ in range(5):
        assert ask(folder, "undo")["status"] == 200
    assert ask(folder, "undo")["status"] == 409
    assert "fill: 4 L" in text_of(folder)


def test_the_history_s_room_on_the_disk_is_bounded(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(kept, "_MOST_BYTES", 12_000)
    folder = job(tmp_path)
    for i in range(5, 15):
        set_(folder, "oil.fill", f"4.{i + 1} L", f"4.{i} L")
    sizes = [p.stat().st_size for p in (folder / "out/page/undo").glob("0*.json")]
    assert sum(sizes) <= 12_000
    assert len(sizes) >= 2


def test_whatever_is_done_in_any_order_undoing_all_of_it_leads_back(tmp_path: Path) -> None:
    """Changes by two windows, undone and redone at random, and then undone."""
    folder, chance = job(tmp_path), random.Random(4)
    values: dict[str, list[str]] = {
        "oil.fill": ["4.2 L", "4.3 L", "4.4 L"],
        "obstacles.rack.clearance": ["1 mm", "2 mm", "3 mm"],
        "new.baffles.left wall.gap": ["0.1 mm", "0.2 mm"],
        "note": ["a: b", "c"],
    }
    for _ in range(40):
        _anything(folder, chance.choice(["one", "two"]), chance, values)
    while kept.can(folder)[0]:
        # the newest change of all is the next of the one window or of the other
        assert 200 in {ask(folder, "undo", window=w)["status"] for w in ("one", "two")}
    # where one window's entry went first and the other's later, their list's key may stay
    rows = [row for row in text_of(folder).split("\n") if row not in ("movement:", "")]
    assert rows == [row for row in TEXT.split("\n") if row]


def _anything(
    folder: Path, window: str, chance: random.Random, values: dict[str, list[str]]
) -> None:
    from sumpwright.web.form import form
    from tests.web.test_form import fields

    verb = chance.choice(["set", "set", "add", "take", "undo", "redo"])
    body: dict[str, Any] = {}
    found = fields(form(folder))
    if verb == "set":
        key = chance.choice([k for k in values if k in found])
        body = {"key": key, "value": chance.choice(values[key]), "before": found[key]["typed"]}
    if verb == "add":
        body = {"key": chance.choice(["new.baffles", "manoeuvres", "movement"]), "values": None}
    if verb == "take":
        body = {"key": chance.choice(["obstacles.beam", "ride", "movement.0", "manoeuvres.eight"])}
    said = ask(folder, verb, window=window, **body)
    assert said["status"] in (200, 409), said
