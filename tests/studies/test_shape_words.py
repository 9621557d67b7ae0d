# SPDX-License-Identifier: Apache-2.0
"""What is said of a pan's numbers, each at the size where it begins to be; no solid is drawn."""

from pathlib import Path

import pytest

from sumpwright.errors import Finding
from sumpwright.job.load import load_job
from sumpwright.studies.shape_form import pan_form
from sumpwright.studies.shape_words import findings_of
from tests.studies.shape_job import shape_job

NO_BOLTS = ("  holes:\n    - { name: 1, at: [-10 mm, 0 mm] }\n", "")
FOUR = (
    "    - { name: 1, at: [-10 mm, 0 mm] }\n",
    "".join(
        f"    - {{ name: {k}, at: {at} }}\n"
        for k, at in enumerate(
            ("[-10 mm, 0 mm]", "[310 mm, 0 mm]", "[150 mm, 110 mm]", "[150 mm, -110 mm]")
        )
    ),
)


def said(
    folder: Path, monkeypatch: pytest.MonkeyPatch, *changes: tuple[str, str], over: float = 0.0
) -> list[Finding]:
    """The findings; of room for tools, which needs the solids, none."""
    monkeypatch.setattr("sumpwright.geometry.cad_flange.room_under", lambda *_: ())
    loaded = load_job(shape_job(folder, *changes))

    class NoSolids:
        walls = None

    form = pan_form(loaded, "new")
    return list(findings_of(loaded, form, NoSolids(), "crossmember", over))  # type: ignore[arg-type]


def test_a_plain_pan_with_four_bolts_is_left_alone(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    assert said(tmp_path, monkeypatch, FOUR) == []


@pytest.mark.parametrize(
    ("changes", "over", "code", "words"),
    [
        ([FOUR], 0.004, "SHAP-523", "the pan's lowest point lies 4.0 mm below the crossmember"),
        ([FOUR, ("[-10 mm, 0 mm]", "[-13.5 mm, 0 mm]")], 0.0, "SHAP-524",
         "3.2 mm of metal outside hole 0"),  # 6.5 mm to the edge, less 3.3; under 3.3, half of 6.6
        ([FOUR, ("wall: 3 mm", "wall: 3 mm\n    floor: 1.9 mm")], 0.0, "SHAP-525",
         "1.9 mm: it gives way"),
        ([FOUR, ("    corner", "    flange: {thickness: 2.9 mm}\n    corner")], 0.0, "SHAP-525",
         "2.9 mm thick: it gapes between its bolts"),
        ([NO_BOLTS], 0.0, "SHAP-526", "No bolt holds the pan's flange"),
        ([], 0.0, "SHAP-526", "One bolt holds no pan's flange flat"),
        ([FOUR, ("  radius: 20", "  opening: [{at: [0 mm, -100 mm]}, {at: [300 mm, -100 mm]}, "
                 "{at: [300 mm, 98 mm]}, {at: [0 mm, 98 mm]}]\n  radius: 20")], 0.0, "SHAP-527",
         "open to the rail 2.0 mm beyond the block's opening, at x "),
    ],
)  # fmt: skip
def test_each_thing_to_mind_is_one_note(
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    changes: list[tuple[str, str]],
    over: float,
    code: str,
    words: str,
) -> None:
    (finding,) = said(tmp_path, monkeypatch, *changes, over=over)
    assert (finding.code, finding.severity) == (code, "note")
    assert finding.found.startswith(words)
