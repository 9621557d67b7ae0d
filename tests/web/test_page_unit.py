# SPDX-License-Identifier: Apache-2.0
"""The page's own arithmetic of drawing, by Node's test runner.

Only who builds the page has Node and its packages; the built page is in the package.
"""

import shutil
import subprocess
from pathlib import Path

import pytest

PAGE = Path(__file__).parents[2] / "page"
NODE = shutil.which("node")


@pytest.mark.skipif(
    NODE is None or not (PAGE / "node_modules").is_dir(), reason="needs Node and `npm ci` in page/"
)
def test_charts_draw_what_the_samples_say() -> None:
    ran = subprocess.run(
        [str(NODE), "test/run.mjs"], cwd=PAGE, capture_output=True, text=True, timeout=120
    )
    assert ran.returncode == 0, ran.stdout[-4000:] + ran.stderr[-2000:]
    assert "# fail 0" in ran.stdout
