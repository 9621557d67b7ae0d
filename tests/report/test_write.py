# SPDX-License-Identifier: Apache-2.0
"""The HTML and the PDF say the same, whole, and nothing a job holds can run in them."""

import json
import re
from dataclasses import replace
from datetime import UTC, datetime
from html import unescape
from html.parser import HTMLParser
from io import BytesIO
from pathlib import Path

import pytest
from pypdf import PdfReader

from sumpwright.report import write
from sumpwright.report.caution import cautions
from sumpwright.report.content import content_of
from sumpwright.report.draw import draw_all
from sumpwright.report.html import html_of
from sumpwright.report.pdf import pdf_of
from sumpwright.report.write import write_report
from sumpwright.studies.result import CheckResult
from sumpwright.studies.scene import Scene
from tests.report.sample import bare_scene, sample_scene
from tests.report.sample_result import bare_result, sample_result

MADE = datetime(2031, 5, 4, 9, 30, tzinfo=UTC)
HOSTILE = '<script>alert(1)</script> #panic("x") $x$ *b* ]] {{}} "q" \\ & %s {0} \x07 漢字'
CLEAN = HOSTILE.replace("\x07", "")


def pages(result: CheckResult, scene: Scene) -> tuple[str, str, int]:
    """HTML, text of the PDF with its blanks made one, number of pages."""
    content, pictures = content_of(result, made=MADE), draw_all(result, scene)
    html = html_of(content, pictures).decode("utf-8")
    reader = PdfReader(BytesIO(pdf_of(content, pictures, made=MADE)))
    text = " ".join(page.extract_text() for page in reader.pages)
    return html, re.sub(r"\s+", " ", text), len(reader.pages)


@pytest.fixture(scope="module")
def full() -> tuple[str, str, int]:
    return pages(sample_result(), sample_scene())


class Tags(HTMLParser):
    """Collects tags and the text outside style."""

    def __init__(self, html: str) -> None:
        super().__init__(convert_charrefs=True)
        self.tags: list[str] = []
        self.attributes: list[tuple[str, str | None]] = []
        self.text = ""
        self.feed(html)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append(tag)
        self.attributes += attrs

    def handle_data(self, data: str) -> None:
        self.text += "" if self.tags[-1:] == ["style"] else data


def test_both_say_every_requirement_and_every_caution(full: tuple[str, str, int]) -> None:
    html, pdf, _ = full
    page = unescape(html)
    for requirement in sample_result().requirements:
        assert requirement.statement in page
        assert requirement.statement in pdf
    for caution in cautions():
        assert caution.topic in page
        assert caution.text in page
        assert caution.text in pdf


def test_the_verdict_comes_first_with_what_fails_and_by_how_much(
    full: tuple[str, str, int],
) -> None:
    html, pdf, _ = full
    text = re.sub(r"\s+", " ", Tags(html).text)
    for said in (text, pdf):
        verdict = said.index("Requirements not met", said.index("Oil pan check"))
        failure = said.index("6.2 mm, needs 10.0 mm, 3.8 mm short")
        assert verdict < failure < said.index("Room round the pan") < said.index("Cautions")


def test_what_the_files_said_stands_under_the_verdict(full: tuple[str, str, int]) -> None:
    html, pdf, _ = full
    for text in (re.sub(r"\s+", " ", Tags(html).text), pdf):
        found = text.index("Found while reading the files")
        line = text.index("new.step near x 112 mm: two faces overlap.", found)
        assert text.index("What fails") < found < line < text.index("Room round the pan")


def test_what_is_not_judged_is_told_by_what_it_needs(full: tuple[str, str, int]) -> None:
    html, pdf, _ = full
    for text in (re.sub(r"\s+", " ", Tags(html).text), pdf):
        start = text.index("Not judged yet: needs baffles in motion")
        assert start < text.index("Hold in motion, left turn", start)
        assert text.count("Not judged yet:") == 1


def test_the_ledger_starts_with_what_is_not_met(full: tuple[str, str, int]) -> None:
    html, _, _ = full
    states = re.findall(r'<tr class="([a-z-]+)"><td class="state">', html)
    rank = {"not-met": 0, "met": 1, "not-judged": 2}
    assert states == sorted(states, key=rank.__getitem__)
    assert states[0] == "not-met"


def test_a_verdict_that_leaves_something_open_says_so() -> None:
    full = sample_result()
    met = tuple(replace(r, state="met") if r.state == "not met" else r for r in full.requirements)
    content = content_of(replace(full, requirements=met, verdict="met"), made=MADE)
    still = sum(r.state == "not judged" for r in met)
    assert (content.state, content.verdict) == ("met", f"Requirements met, {still} not judged yet")
    done = tuple(r for r in met if r.state == "met")
    content = content_of(replace(full, requirements=done, verdict="met"), made=MADE)
    assert content.verdict == "Requirements met"


def test_a_limit_beyond_what_was_looked_at_is_at_least_that() -> None:
    hold = sample_result().hold
    assert hold is not None
    assert hold.low_mark is not None
    far = replace(hold, low_mark=replace(hold.low_mark, left_g=1.6), slope_up_deg=60.0)
    table = next(
        t for t in content_of(replace(sample_result(), hold=far), made=MADE).tables
        if t.key == "hold-table"
    )  # fmt: skip
    rows = {row[0]: row for row in table.rows}
    assert rows["Left turn"][3] == "≥ 1.60 g"
    assert rows["Nose uphill"][1] == "≥ 60.0°"
    assert rows["Nose downhill"][1] == "26.4°"


def test_a_state_is_said_by_a_word_and_a_shape(full: tuple[str, str, int]) -> None:
    html, pdf, _ = full
    rows = re.findall(r'<tr class="([a-z-]+)"><td class="state">(<svg.*?</svg>)([^<]+)</td>', html)
    assert len(rows) == len(sample_result().requirements)
    words = {kind: word for kind, _, word in rows}
    assert words == {"met": "met", "not-met": "NOT MET", "not-judged": "not judged"}
    assert len({shape for _, shape, _ in rows}) == 3
    assert pdf.count("NOT MET") == sum(r.state == "not met" for r in sample_result().requirements)


def test_revision_hash_version_and_date_are_on_both(full: tuple[str, str, int]) -> None:
    html, pdf, _ = full
    for text in (html, pdf):
        for said in ("9f2c4be17a60d3815c2e", "Sumpwright 0.1.0", "2031-05-04 09:30"):
            assert said in text


def test_the_pdf_has_few_pages_and_the_html_is_small(full: tuple[str, str, int]) -> None:
    html, _, count = full
    assert 4 <= count <= 10
    assert len(html) < 3_000_000


def test_the_html_fetches_nothing_and_runs_nothing(full: tuple[str, str, int]) -> None:
    html, _, _ = full
    assert not re.search(
        r"https?:|//[a-z]|@import|javascript:", re.sub(r'href="data:[^"]*"', "", html)
    )
    tags = Tags(html)
    assert not {"script", "iframe", "object", "embed", "link", "form", "base"} & set(tags.tags)
    assert not [name for name, _ in tags.attributes if name.startswith("on")]
    assert "default-src 'none'" in html
    ids = [value for name, value in tags.attributes if name == "id"]
    assert len(ids) == len(set(ids))


def test_hostile_words_are_printed_as_they_are_typed() -> None:
    full = sample_result()
    names = [replace(r, statement=HOSTILE, reason=HOSTILE) for r in full.requirements]
    room = full.clearance
    assert room is not None
    obstacles = tuple(replace(o, obstacle=HOSTILE) for o in room.obstacles)
    result = replace(
        full, job=HOSTILE, revision=HOSTILE, note=HOSTILE, summary=HOSTILE, assumptions=(HOSTILE,),
        requirements=tuple(names), clearance=replace(room, obstacles=obstacles),
        fill=replace(full.fill, name=HOSTILE),
    )  # fmt: skip
    scene = sample_scene()
    scene = replace(
        scene, new=replace(scene.new, name=HOSTILE),
        obstacles=tuple(replace(o, name=HOSTILE) for o in scene.obstacles),
    )  # fmt: skip
    html, pdf, count = pages(result, scene)
    tags = Tags(html)
    assert "script" not in tags.tags
    assert tags.text.count(CLEAN) > 20
    assert count > 3
    assert '#panic("x") $x$ *b* ]]' in pdf


TYPED = (
    *("by 15 mm", "gap of 20 mm", "sagged 4 mm", "x 112 mm", "0.4 L of oil", "42 L/min at"),
    "pickup 1.9 L/min",
)
"""What the invented job itself says in metric words."""


def test_us_units_are_used_throughout() -> None:
    html, pdf, _ = pages(replace(sample_result(), units="us"), sample_scene())
    for text in (Tags(html).text, pdf):
        assert "0.244 in, needs 0.394 in, 0.150 in short" in re.sub(r"\s+", " ", text)
        assert "4.33 qt" in text  # 4.10 L / 0.946352946
        assert not re.search(r"\d (mm|L|L/min)\b", re.sub("|".join(TYPED), "", text))


def test_a_bare_job_says_that_nothing_is_judged() -> None:
    html, pdf, _ = pages(bare_result(), bare_scene())
    for text in (html, pdf):
        assert "Nothing judged yet" in text
        assert "coloured by its gap" not in text


def test_writes_three_whole_files(tmp_path: Path) -> None:
    folder = tmp_path / "my pän job"
    folder.mkdir()
    heard: list[tuple[str, float]] = []
    html, pdf = write_report(
        bare_result(), bare_scene(), folder, lambda text, share: heard.append((text, share))
    )
    assert (html, pdf) == (folder / "out/report.html", folder / "out/report.pdf")
    assert sorted(p.name for p in (folder / "out").iterdir()) == [
        "report.html",
        "report.pdf",
        "result.json",
    ]
    saved = json.loads((folder / "out/result.json").read_text(encoding="utf-8"))
    assert saved == json.loads(json.dumps(bare_result().as_json()))
    shares = [share for _, share in heard]
    assert shares == sorted(shares)
    assert shares[-1] == 1.0


def test_the_same_result_and_time_give_the_same_bytes() -> None:
    content, pictures = content_of(bare_result(), made=MADE), draw_all(bare_result(), bare_scene())
    assert draw_all(bare_result(), bare_scene()) == pictures
    first, second = (pdf_of(content, pictures, made=MADE) for _ in range(2))
    assert first == second


def test_no_rule_of_the_style_is_written_twice() -> None:
    style = (Path(write.__file__).parent / "page.css").read_text(encoding="utf-8")
    plain = style[: style.index("@media")]
    rules = re.findall(r"^([^{}\n]+?) \{", plain, re.MULTILINE)
    assert sorted(set(rules)) == sorted(rules)
