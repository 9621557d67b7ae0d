# SPDX-License-Identifier: Apache-2.0
"""`plan`, `record`, `history` and `release` as they are typed: text, JSON, exit status."""

import json
import shutil
from collections.abc import Callable
from pathlib import Path

import pytest
from typer.testing import CliRunner

from sumpwright.cli.main import app
from sumpwright.job.record import KINDS

EXAMPLES = Path(__file__).resolve().parents[2] / "examples"
run = CliRunner().invoke


@pytest.fixture
def job(warm: Callable[[str], Path], tmp_path: Path) -> Path:
    folder = tmp_path / "job"
    shutil.copytree(warm("demo-b"), folder)
    return folder


@pytest.mark.parametrize("kind", KINDS)
def test_prints_a_blank_form_of_every_kind(kind, job) -> None:
    done = run(app, ["record", str(job), "--blank", kind])
    assert done.exit_code == 0
    assert f"kind: {kind}" in done.output


def test_lists_what_is_filed_and_refuses_a_kind_that_there_is_not(job) -> None:
    listed = run(app, ["record", str(job)])
    assert listed.exit_code == 0
    assert listed.output.count("(counts)") == 8
    refused = run(app, ["record", str(job), "--blank", "tea"])
    assert refused.exit_code == 2
    assert "REC-302" in refused.output


def test_files_a_form_and_refuses_an_empty_one(job, tmp_path) -> None:
    form = tmp_path / "leak.yaml"
    form.write_text(run(app, ["record", str(job), "--blank", "leak-test"]).output)
    refused = run(app, ["record", str(job), str(form)])
    assert refused.exit_code == 2
    form.write_text(form.read_text() + "\n")
    filled = form.read_text().replace("by:", "by: Ada Quill").replace("stood:", "stood: 12 h")
    form.write_text(filled)
    filed = run(app, ["record", str(job), str(form)])
    assert filed.exit_code == 0, filed.output
    assert len(list((job / "records").glob("leak-test-*"))) == 2


def test_says_what_a_revision_changed(job) -> None:
    done = run(app, ["history", str(job), "--no-figures"])
    assert done.exit_code == 0
    assert "new.name: Low pan A -> Low pan B" in done.output


@pytest.mark.slow
def test_plans_slow_before_fast_and_both_ways(job) -> None:
    done = run(app, ["plan", str(job), "--json", "--no-report"])
    assert done.exit_code == 0
    stages = [s for s in json.loads(done.stdout)["stages"] if "ircles" in s["name"]]
    turns = [{d["turn"] for d in s["runs"]} for s in stages]
    sizes = [max(d["accel_g"] for d in s["runs"]) for s in stages]
    assert all(t == {"left", "right"} for t in turns)
    assert sizes == sorted(sizes)


@pytest.mark.slow
def test_release_names_what_is_missing_and_leaves_with_2(warm, tmp_path) -> None:
    folder = tmp_path / "job"
    shutil.copytree(warm("demo-a"), folder)
    done = run(app, ["release", str(folder)])
    assert done.exit_code == 2
    assert "requirements.proof_teardown  [REL-401]" in done.output
    assert not list(folder.glob("out/release-*"))
