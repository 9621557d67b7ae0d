# SPDX-License-Identifier: Apache-2.0
"""`sumpwright read`: text, JSON, exit status, and what it refuses."""

import json
import re
from pathlib import Path

import pytest
from typer.testing import CliRunner

from sumpwright.cli.main import app
from tests.studies.logged import Session
from tests.studies.proof_job import doored_job

LOG = Path(__file__).resolve().parents[2] / "examples" / "demo-a" / "tests" / "skidpad.csv"
run = CliRunner().invoke


def test_says_which_way_it_fails_and_leaves_with_1() -> None:
    done = run(app, ["read", str(LOG)])
    assert done.exit_code == 1
    assert "passes left; fails right: 7 dips" in done.output
    assert max(map(len, done.output.splitlines())) <= 80


def test_json_has_events_channels_health_and_summary() -> None:
    done = run(app, ["read", str(LOG), "--json"])
    told = json.loads(done.stdout)
    assert {"events", "channels", "health", "summary"} <= set(told)
    assert {"start_s", "end_s", "kind", "turn", "depth"} <= set(told["events"][0])
    assert {e["turn"] for e in told["events"] if e["kind"] == "dip"} == {"right"}


@pytest.mark.parametrize(
    ("arguments", "code"),
    [
        ([str(LOG), "--channel", "pressure"], "LOG-242"),
        ([str(LOG), "--channel", "pressure=nothing"], "LOG-211"),
        ([str(LOG), "--unit", "presure=bar"], "LOG-242"),
        ([str(LOG), "--radius", "30"], "LOG-242"),
        ([str(LOG.parents[1])], "LOG-241"),
        (["nowhere.csv"], "LOG-205"),
        ([str(LOG.parents[1]), "nowhere.csv"], "LOG-205"),
    ],
)
def test_refuses_with_one_problem_and_2(arguments, code) -> None:
    done = run(app, ["read", *arguments])
    assert done.exit_code == 2
    assert code in done.output


def test_less_than_the_job_asks_is_told_as_not_proven_in_text_json_and_page(tmp_path) -> None:
    job = doored_job(tmp_path / "job")  # asks for 1.2 g each way
    log = Session(size=0.8).write(tmp_path, lateral=1.0)
    typed = ["read", str(job), str(log), "--no-prediction", "--no-record"]
    done = run(app, typed)
    assert done.exit_code == 0  # no dip
    said = " ".join(done.output.split())
    assert re.search(r"NOT PROVEN YET: no dip up to 0\.(79|80) g left \(1\.20 g asked\)", said)
    assert "MET:" not in said
    lines = [line for line in done.output.splitlines() if str(tmp_path) not in line]
    assert max(map(len, lines)) <= 80
    told = json.loads(run(app, [*typed, "--json", "--no-report"]).stdout)
    assert told["summary"]["standing"] == "not proven"
    assert told["summary"]["headline"].startswith("no dip up to 0.")
    page = (job / "out" / "read-session.html").read_text("utf-8")
    assert '<section class="verdict not-judged">' in page
    assert "<span>Not proven yet: no dip up to 0." in page
    assert "How far it proves" in page
