# SPDX-License-Identifier: Apache-2.0
"""The pages of a drive and of the hold maps: HTML and PDF say the same, and fetch nothing."""

import json
import re
from base64 import b64decode, b64encode
from dataclasses import replace
from datetime import UTC, datetime
from hashlib import sha256
from html import unescape
from html.parser import HTMLParser
from io import BytesIO
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from PIL import Image
from pypdf import PdfReader

from sumpwright.report.caution import motion_cautions
from sumpwright.report.drive_content import drive_content, drive_verdict
from sumpwright.report.drive_write import drive_html, drive_pictures, write_drive
from sumpwright.report.film_gif import Reel, reel_of
from sumpwright.report.film_player import MOST_BYTES, player_of
from sumpwright.report.hold_map_content import hold_map_content, map_key
from sumpwright.report.hold_map_write import hold_map_html, write_hold_map
from sumpwright.report.pdf import pdf_of
from sumpwright.report.polar_map import hold_map_view
from sumpwright.studies.motion_result import DriveResult, HoldMapResult, PickupCourse
from tests.report.hold_map_sample import hold_map_sample
from tests.report.motion_sample import motion_sample, short_sample

MADE = datetime(2031, 5, 4, 9, 30, tzinfo=UTC)
HOSTILE = '</script><script>alert(1)</script> #panic("x") $x$ *b* ]] {{}} "q" \\ & %s {0} \x07 漢字'
CLEAN = HOSTILE.replace("\x07", "")


class Tags(HTMLParser):
    """Collects tags, attributes, the text outside style and script, and what scripts hold."""

    def __init__(self, html: str) -> None:
        super().__init__(convert_charrefs=True)
        self.tags: list[str] = []
        self.attributes: list[tuple[str, str, str | None]] = []
        self.text, self.now = "", ""
        self.scripts: list[tuple[dict[str, str | None], str]] = []
        self.feed(html)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append(tag)
        self.now = tag
        self.attributes += [(tag, *pair) for pair in attrs]
        if tag == "script":
            self.scripts.append((dict(attrs), ""))

    def handle_endtag(self, tag: str) -> None:
        self.now = ""

    def handle_data(self, data: str) -> None:
        if self.now == "script":
            self.scripts[-1] = (self.scripts[-1][0], self.scripts[-1][1] + data)
        elif self.now != "style":
            self.text += data


def pdf_text(pdf: bytes) -> tuple[str, int]:
    reader = PdfReader(BytesIO(pdf))
    text = " ".join(page.extract_text() for page in reader.pages)
    return re.sub(r"\s+", " ", text), len(reader.pages)


def drive_pages(result: DriveResult, reel: Reel) -> tuple[str, str, int]:
    """HTML, text of the PDF, number of its pages."""
    content = drive_content(result, made=MADE)
    pictures = drive_pictures(result, motion_sample(), reel)
    html = drive_html(content, pictures, player_of(result, reel)).decode("utf-8")
    return html, *pdf_text(pdf_of(content, pictures, made=MADE, order="drive.typ"))


def map_pages(result: HoldMapResult) -> tuple[str, str, int]:
    content = hold_map_content(result, made=MADE)
    pictures = {map_key(k): hold_map_view(result, k) for k in range(len(result.rpm))}
    html = hold_map_html(content, pictures).decode("utf-8")
    return html, *pdf_text(pdf_of(content, pictures, made=MADE, order="hold_map.typ"))


@pytest.fixture(scope="module")
def reel() -> Reel:
    return reel_of(short_sample(), motion_sample())


@pytest.fixture(scope="module")
def drive(reel: Reel) -> tuple[str, str, int]:
    return drive_pages(short_sample(), reel)


@pytest.fixture(scope="module")
def maps() -> tuple[str, str, int]:
    return map_pages(hold_map_sample())


def plain_text(html: str) -> str:
    return re.sub(r"\s+", " ", Tags(html).text)


def test_page_and_pdf_say_the_verdict_the_numbers_and_what_fails(
    drive: tuple[str, str, int],
) -> None:
    html, pdf, count = drive
    for text in (plain_text(html), pdf):
        verdict = text.index("The pickup takes air after 3.38 s", text.index("Oil in motion"))
        failure = text.index("2.2 s, needs 0.0 s, 2.2 s short", verdict)
        assert failure < text.index("First air at the pickup") < text.index("Where the oil is")
        assert "−5.3 mm" in text
        assert "74.9 kPa" in text
        assert "9f2c4be17a60d3815c2e" in text
        assert "2031-05-04 09:30" in text
        assert "Sumpwright 0.1.0" in text
    assert 3 <= count <= 6


@pytest.mark.parametrize("which", ["drive", "maps"])
def test_cautions_assumptions_and_the_error_report_are_on_both(
    which: str, request: pytest.FixtureRequest
) -> None:
    html, pdf, _ = request.getfixturevalue(which)
    for text in (plain_text(html), pdf):
        for caution in motion_cautions():
            assert caution.topic in text
            assert caution.text in text
        assert "Surfaces are planes; waves that break are not in the model." in text
        assert "How far the arithmetic holds" in text
        assert "0.019 mm" in text  # the largest error of a step, 1.9e-5 m
    topics = [c.topic for c in motion_cautions()]
    assert {"Prove before trusting", "Track driving", "Hot oil"} <= set(topics)


def test_chances_are_a_table_with_their_interval(drive: tuple[str, str, int]) -> None:
    html, pdf, _ = drive
    for text in (plain_text(html), pdf):
        start = text.index("Chances that a requirement fails")
        for said in ("34 %", "25 to 44 %", "96", "Seed 20310504", "fill ±0.2 L"):
            assert said in text[start : start + 700]
    none = drive_content(replace(short_sample(), chances=()), made=MADE)
    assert "chances" not in [t.key for t in none.tables]


def test_the_one_script_is_the_one_that_the_policy_names(drive: tuple[str, str, int]) -> None:
    html, _, _ = drive
    tags = Tags(html)
    data, code = tags.scripts
    assert data[0]["type"] == "application/json"  # which a browser does not run
    assert set(code[0]) == set()
    digest = b64encode(sha256(code[1].encode("utf-8")).digest()).decode("ascii")
    policies = [v for t, n, v in tags.attributes if t == "meta" and n == "content"]
    assert policies[0] == (
        "default-src 'none'; style-src 'unsafe-inline'; img-src data:; "
        f"script-src 'sha256-{digest}'"
    )


@pytest.mark.parametrize("which", ["drive", "maps"])
def test_the_page_fetches_nothing(which: str, request: pytest.FixtureRequest) -> None:
    html, _, _ = request.getfixturevalue(which)
    bare = re.sub(r'href="data:[^"]*"|<script type="application/json".*?</script>', "", html)
    bare = bare.replace('"http://www.w3.org/2000/svg"', "")  # a name, in the script
    assert not re.search(r"https?:|//[a-z]|@import|javascript:|fetch\(|XMLHttp|import\(", bare)
    tags = Tags(html)
    assert not {"iframe", "object", "embed", "link", "form", "base"} & set(tags.tags)
    assert not [name for _, name, _ in tags.attributes if name.startswith("on")]
    assert not [name for _, name, _ in tags.attributes if name in ("src", "srcset")]
    ids = [value for _, name, value in tags.attributes if name == "id"]
    assert len(ids) == len(set(ids))


def test_the_maps_page_runs_nothing(maps: tuple[str, str, int]) -> None:
    html, _, _ = maps
    assert "script" not in Tags(html).tags
    assert "script-src" not in html


def film_data(html: str) -> dict[str, Any]:
    found: dict[str, Any] = json.loads(Tags(html).scripts[0][1])
    return found


def test_the_player_has_a_picture_and_words_for_every_frame(
    drive: tuple[str, str, int], reel: Reel
) -> None:
    html, _, _ = drive
    data = film_data(html)
    count = len(reel.film.time)
    assert {len(data[k]) for k in ("frames", "words", "share", "arrows", "dry")} == {count}
    assert [w[0] for w in data["words"]] == [f"{t:.2f} s" for t in reel.film.time]
    part = short_sample().compartments[1]
    oil = 1e3 * np.interp(reel.film.time, short_sample().time_s, part.volume_m3)
    assert [w[8] for w in data["words"]] == [f"{v:.2f} L" for v in oil]
    assert data["dry"] == [int(a > 0.0) for a in reel.film.air]
    assert data["dry"][data["first"]] == 1
    assert f'max="{count - 1}"' in html


def test_a_change_laid_over_the_first_picture_is_the_frame(
    drive: tuple[str, str, int], reel: Reel
) -> None:
    data = film_data(drive[0])
    base = Image.open(BytesIO(b64decode(data["base"]))).convert("RGBA")
    for k in (0, 5, 12):
        change = Image.open(BytesIO(b64decode(data["frames"][k]))).convert("RGBA")
        laid = np.asarray(Image.alpha_composite(base, change))[..., :3]
        np.testing.assert_array_equal(laid, reel.colours.shades[reel.pictures[k]])


def test_every_number_the_script_writes_has_its_place(drive: tuple[str, str, int]) -> None:
    html, _, _ = drive
    ids = {value for _, name, value in Tags(html).attributes if name == "id"}
    code = Tags(html).scripts[1][1]
    asked = set(re.findall(r'getElementById\("([\w-]+)"\)', code))
    words = re.search(r"\[([^\]]*)\]\.forEach\(function \(name, n\)", code)
    assert words
    asked |= {f"film-{w}" for w in re.findall(r'"(\w+)"', words[1])}
    asked |= {f"film-oil-{k}" for k in range(5)} | {f"film-bar-{k}" for k in range(5)}
    assert asked <= ids


def test_the_player_can_be_worked_by_keyboard_and_heard(drive: tuple[str, str, int]) -> None:
    tags = Tags(drive[0])
    assert ("button", "type", "button") in tags.attributes
    for tag in ("input", "select", "canvas"):
        labels = [v for t, n, v in tags.attributes if t == tag and n == "aria-label"]
        assert labels
        assert all(labels)
    assert "tabindex" not in drive[0]


def test_a_film_too_large_for_a_page_leaves_out_every_other_frame(
    monkeypatch: pytest.MonkeyPatch, reel: Reel
) -> None:
    monkeypatch.setattr("sumpwright.report.film_player.MOST_BYTES", 60_000)
    html = player_of(short_sample(), reel)
    data = film_data(html)
    assert 1 < len(data["frames"]) < 13
    assert sum(map(len, data["frames"])) <= 62_000  # and the padding of their text
    assert data["tick"] in (160.0, 320.0)
    assert f'max="{len(data["frames"]) - 1}"' in html


def test_pages_stay_small(
    drive: tuple[str, str, int], maps: tuple[str, str, int], reel: Reel
) -> None:
    assert MOST_BYTES < 5_500_000
    frames = film_data(drive[0])["frames"]
    rest = len(drive[0]) - sum(map(len, frames))
    assert rest + MOST_BYTES < 6_000_000
    assert len(maps[0]) < 1_500_000


def test_hostile_names_are_printed_as_they_are_typed_and_run_nowhere(reel: Reel) -> None:
    full = short_sample()
    result = replace(
        full, job=HOSTILE, revision=HOSTILE, manoeuvre=HOSTILE, kind=HOSTILE,
        assumptions=(HOSTILE,), spans=((HOSTILE, 3.0, 6.0),),
        compartments=tuple(replace(p, where=HOSTILE) for p in full.compartments),
        requirements=tuple(replace(r, statement=HOSTILE) for r in full.requirements),
        chances=tuple(replace(c, requirement=HOSTILE, drawn=(HOSTILE,)) for c in full.chances),
    )  # fmt: skip
    html, pdf, count = drive_pages(result, reel)
    tags = Tags(html)
    assert len(tags.scripts) == 2
    assert json.loads(tags.scripts[0][1])
    assert tags.text.count(CLEAN) > 10
    assert count >= 3
    assert '#panic("x") $x$ *b* ]]' in pdf
    maps = replace(hold_map_sample(), job=HOSTILE, revision=HOSTILE, assumptions=(HOSTILE,))
    html, pdf, _ = map_pages(maps)
    assert "script" not in Tags(html).tags
    assert '#panic("x") $x$ *b* ]]' in pdf


def test_us_units_are_used_throughout(reel: Reel) -> None:
    full = replace(short_sample(), units="us", chances=())
    html, pdf, _ = drive_pages(full, reel_of(full, motion_sample()))
    words = json.dumps(film_data(html)["words"])
    for text in (plain_text(html), pdf, words):
        assert not re.search(r"\d (mm|L|kPa)\b", text)
    assert "−0.210 in" in unescape(plain_text(html))  # -5.33 mm / 25.4
    assert "212 °F" in pdf  # 100 degC


@pytest.mark.parametrize(
    ("change", "state", "said"),
    [
        ({}, "not met", "The pickup takes air after 3.38 s"),
        ({"requirements": ()}, "not judged", "The pickup takes air after 3.38 s"),
        ({"first": None, "requirements": ()}, "not judged", "The pickup never takes air"),
        ({"first": None}, "not met", "The pickup never takes air, but a requirement is not met"),
        ({"pickup": None, "first": None, "requirements": ()}, "not judged", "No pickup to judge"),
    ],
)
def test_the_verdict_is_about_the_pickup_and_its_state_about_the_requirements(
    change: dict[str, Any], state: str, said: str
) -> None:
    full = short_sample()
    if "first" in change:
        full = replace(full, summary=replace(full.summary, first_air_s=change.pop("first")))
    if "pickup" in change:
        none = tuple(None for _ in full.time_s)
        full = replace(full, pickup=PickupCourse(change.pop("pickup"), none, none))
    assert drive_verdict(replace(full, **change)) == (state, said)


def test_the_maps_say_left_against_right(maps: tuple[str, str, int]) -> None:
    html, pdf, count = maps
    for text in (plain_text(html), pdf):
        assert "Holds 8 s up to 0.60 g in a right turn, 6500 rpm" in text
        assert "1.10 / 0.70 g" in text
        assert "At 3000 rpm" in text
        assert "At 6500 rpm" in text
        assert "right turns are the weaker by 0.40 g" in text
    assert count <= 5


def test_a_bare_drive_has_its_pages_too(reel: Reel) -> None:
    """No pickup, no doors, no engine speed, no requirements."""
    full = short_sample()
    none = tuple(None for _ in full.time_s)
    bare = replace(
        full, doors=(), rpm=none, spans=(), requirements=(), chances=(), assumptions=(),
        pickup=PickupCourse(None, none, none), pump=replace(full.pump, inlet_pa=none),
        summary=replace(
            full.summary, first_air_s=None, least_cover_m=None, least_cover_s=None,
            least_inlet_pa=None, least_inlet_s=None, least_pressure_pa=None,
        ),
    )  # fmt: skip
    scene = replace(motion_sample(), rim=None, doors=(), panels=())
    content = drive_content(bare, made=MADE)
    reel = reel_of(bare, scene)
    pictures = drive_pictures(bare, scene, reel)
    html = drive_html(content, pictures, player_of(bare, reel)).decode("utf-8")
    assert "No pickup to judge" in html
    assert "nan" not in plain_text(html).lower()
    assert pdf_of(content, pictures, made=MADE, order="drive.typ")[:5] == b"%PDF-"


@pytest.mark.parametrize("name", ["left circle", "../../../x", HOSTILE, "con", "a" * 500])
def test_writes_whole_files_in_out_whatever_the_manoeuvre_is_called(
    tmp_path: Path, name: str, monkeypatch: pytest.MonkeyPatch, reel: Reel
) -> None:
    monkeypatch.setattr("sumpwright.report.drive_write.reel_of", lambda *_: reel)
    folder = tmp_path / "my pän job"
    folder.mkdir()
    heard: list[float] = []
    result = replace(short_sample(), manoeuvre=name)
    paths = write_drive(result, motion_sample(), folder, lambda _, share: heard.append(share))
    assert [p.suffix for p in paths] == [".html", ".gif", ".pdf", ".json"]
    assert {p.parent for p in paths} == {folder / "out"}
    assert all(p.name.startswith("drive-") for p in paths)
    assert sorted(p.name for p in (folder / "out").iterdir()) == sorted(p.name for p in paths)
    assert sorted(p.name for p in tmp_path.iterdir()) == ["my pän job"]
    saved = json.loads(paths[3].read_text(encoding="utf-8"))
    assert saved == json.loads(json.dumps(result.as_json()))
    assert heard == sorted(heard)
    assert heard[-1] == 1.0


def test_writes_the_hold_maps(tmp_path: Path) -> None:
    paths = write_hold_map(hold_map_sample(), tmp_path)
    assert [p.name for p in paths] == ["hold-map.html", "hold-map.pdf", "hold-map.json"]
    saved = json.loads(paths[2].read_text(encoding="utf-8"))
    assert saved == json.loads(json.dumps(hold_map_sample().as_json()))


def test_the_same_result_and_time_give_the_same_bytes(reel: Reel) -> None:
    content = drive_content(short_sample(), made=MADE)
    pictures = drive_pictures(short_sample(), motion_sample(), reel)
    assert drive_pictures(short_sample(), motion_sample(), reel) == pictures
    pages = [drive_html(content, pictures, player_of(short_sample(), reel)) for _ in range(2)]
    assert pages[0] == pages[1]
    pdfs = [pdf_of(content, pictures, made=MADE, order="drive.typ") for _ in range(2)]
    assert pdfs[0] == pdfs[1]
