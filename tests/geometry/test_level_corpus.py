# SPDX-License-Identifier: Apache-2.0
"""Bodies that a level was once wrong in."""

from pathlib import Path

import numpy as np

from sumpwright.geometry.level import level_body, levels_of, volume_below
from sumpwright.geometry.mesh import Mesh

CORPUS = Path(__file__).parents[1] / "corpus"


def test_a_search_does_not_leap_to_and_fro_for_ever() -> None:
    """The last of these questions, asked after the others, came out 88 mm off."""
    lines = (CORPUS / "sliver_compartment.txt").read_text(encoding="utf-8").splitlines()[2:]
    vertices, faces, asked = map(int, lines[0].split())
    rows = [line.split() for line in lines[1:]]
    body = level_body(
        Mesh(
            np.array(rows[:vertices], dtype=float),
            np.array(rows[vertices : vertices + faces], dtype=np.int64),
        )
    )
    questions = np.array(rows[-asked:], dtype=float)
    up, volume = questions[:, :3], questions[:, 3]
    found = levels_of(body, up, volume).height
    # heights carry one rounding of their distance from the origin, times the surface
    np.testing.assert_allclose(volume_below(body, up, found), volume, rtol=1e-12)
