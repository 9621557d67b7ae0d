# SPDX-License-Identifier: Apache-2.0
"""`housing` as a person reads it, and the solids it writes."""

import json
import re
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
import typer
from typer.testing import CliRunner

from sumpwright.cli.door import door
from sumpwright.cli.housing import housing
from sumpwright.cli.housing_text import WIDTH, housing_text
from sumpwright.geometry.cad import read_step
from sumpwright.report.housing_view import housing_view
from sumpwright.studies.housing import housing_of
from sumpwright.studies.housing_result import HousingResult
from tests.studies.housing_job import HousingJob, housing_folder

APP = typer.Typer(pretty_exceptions_enable=False)
APP.command()(door(housing))
JOB = HousingJob()


def test_the_answer_fits_eighty_columns_and_the_solids_read_back(tmp_path: Path) -> None:
    folder = housing_folder(tmp_path, JOB)
    done = CliRunner().invoke(APP, [str(folder)])
    assert done.exit_code == 0, done.output
    said = done.stdout
    assert said.startswith("MET  box, revision A: pickup housing")
    assert max(len(line) for line in said.splitlines() if str(folder) not in line) <= WIDTH
    result = housing_of(folder)
    for solid in result.solids:
        read = read_step(folder / "out" / "housing" / f"{solid.key}.step", tolerance=1e-6)
        assert read.solids == 1
        # the reader's 0.2 rad chords; its own tolerance is finer
        assert read.mesh.volume == pytest.approx(solid.volume_m3, rel=3e-3)
        assert read.mesh.area == pytest.approx(solid.area_m2, rel=3e-3)
        np.testing.assert_allclose(np.ptp(read.mesh.bounds, axis=0), solid.size_m, atol=1e-5)
    in_inches(result)


def in_inches(result: HousingResult) -> None:
    """The same answer to a job in US units: nothing metric but the screws' own name."""
    ours = replace(result, units="us")
    said = housing_text(ours, (Path("pickup-housing.step"),))
    assert max(map(len, said.splitlines())) <= WIDTH
    body, _, files = said.partition("Files")
    assert "STEP is in mm" in files
    assert not re.search(r"\d (mm|cm²|cm³|g|kPa|°C|L)\b", body), body
    assert "inlet, under the rail         3.543 in" in said  # 90 mm / 25.4
    assert "0.394 in²" in said  # a bore of 18 mm
    assert ours.scene is not None
    assert b" mm" not in housing_view(ours, ours.scene)


def test_json_is_the_study_s_own_and_no_files_writes_none(tmp_path: Path) -> None:
    folder = housing_folder(tmp_path, JOB)
    done = CliRunner().invoke(APP, [str(folder), "--json", "--no-files"])
    assert json.loads(done.stdout) == json.loads(json.dumps(housing_of(folder).as_json()))
    assert not (folder / "out" / "housing").exists()


def test_a_housing_in_the_wall_leaves_with_1_and_bad_numbers_with_2(tmp_path: Path) -> None:
    struck = housing_folder(tmp_path / "a", replace(JOB, centre="[26 mm, 0 mm]"))
    done = CliRunner().invoke(APP, [str(struck), "--no-files"])
    assert done.exit_code == 1
    assert "Not met: pickup housing: hits floor and walls" in " ".join(done.stdout.split())
    bad = housing_folder(tmp_path / "b", replace(JOB, wall="27 mm"))
    done = CliRunner().invoke(APP, [str(bad)])
    assert done.exit_code == 2
    assert "HOUS-502" in done.stderr


def test_the_same_solids_come_out_byte_for_byte(tmp_path: Path) -> None:
    texts = []
    for name in ("a", "b"):
        folder = housing_folder(tmp_path / name, JOB)
        CliRunner().invoke(APP, [str(folder)])
        out = sorted((folder / "out" / "housing").iterdir())
        texts.append([path.read_bytes() for path in out])
    assert texts[0] == texts[1]
    assert len(texts[0]) == 4  # three solids and the picture
