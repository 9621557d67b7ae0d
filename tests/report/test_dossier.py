# SPDX-License-Identifier: Apache-2.0
"""The dossier says what was seen, what was given, and what was not tested."""

from datetime import UTC, datetime
from pathlib import Path

from sumpwright.report.dossier_content import dossier_content
from sumpwright.report.dossier_write import write_dossier
from sumpwright.studies.release import release
from tests.studies.test_release import ASKED, proved


def test_has_every_part_on_the_page_and_on_paper(tmp_path: Path) -> None:
    result = release(proved(tmp_path), torque="10 Nm <b>")
    page, paper = write_dossier(result, tmp_path)
    assert (page.name, paper.name) == ("release-A.html", "release-A.pdf")
    text = page.read_text("utf-8")
    for words in (
        "Fill sheet",
        "Fitting sheet",
        "10 Nm &lt;b&gt;",  # a person's words are no markup
        "not given: the job has no bolt holes",
        "What was not tested",
        "Turned off in the job: Pan over the ground at ride height.",
        "Cautions",
        *(record.name for record in result.records),
        result.part_hash,
    ):
        assert words in text
    assert paper.read_bytes().startswith(b"%PDF")


def test_torque_that_nobody_gave_is_said_as_not_given(tmp_path: Path) -> None:
    content = dossier_content(release(proved(tmp_path)), made=datetime(2026, 5, 3, tzinfo=UTC))
    fitting = next(t for t in content.tables if t.key == "fitting")
    assert ("Bolt torque", "not given") in fitting.rows


def test_the_torque_that_the_job_keeps_is_on_the_fitting_sheet(tmp_path: Path) -> None:
    text = f"{ASKED}fitting: {{torque: 9 N m}}\n"
    content = dossier_content(
        release(proved(tmp_path, text)), made=datetime(2026, 5, 3, tzinfo=UTC)
    )
    fitting = next(t for t in content.tables if t.key == "fitting")
    assert ("Bolt torque", "9 N m") in fitting.rows
