# SPDX-License-Identifier: Apache-2.0
"""`sumpwright read`: text, JSON, exit status, and what it refuses."""

import json
from pathlib import Path

import pytest
from typer.testing import CliRunner

from sumpwright.cli.main import app

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
