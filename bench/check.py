# SPDX-License-Identifier: Apache-2.0
"""`sumpwright check` on the demo job as a whole process: start-up, verdict, pictures and pages.

Warm: kernels compiled and meshes read by an earlier run, as for everyone but the first. Each line
is a process of its own; the difference between lines is where the time goes.
"""

import shutil
import subprocess
import sys
import tempfile
from pathlib import Path

from bench.table import Row, seconds

DEMO = Path(__file__).parent.parent / "examples" / "demo-b"
COMMAND = Path(sys.executable).parent / "sumpwright"


def rows() -> list[Row]:
    """Start-up alone, the verdict without pictures, all of it, and the first run on new files."""
    with tempfile.TemporaryDirectory() as scratch:
        job = Path(scratch) / "job"
        shutil.copytree(DEMO, job, ignore=shutil.ignore_patterns("out"))
        cold = seconds(lambda: _fresh(job), times=3)
        start = seconds(lambda: _run("--version"), times=5)
        verdict = seconds(lambda: _run("check", str(job), "--no-report"), times=5)
        whole = seconds(lambda: _run("check", str(job)), times=5)
    return [
        Row("check of the demo, warm, with pictures, HTML and PDF", whole, must=5.0, aim=2.0),
        Row("  of which start-up (--version)", start),
        Row("  of which verdict (--no-report)", verdict),
        Row("  the same on geometry never read before", cold),
    ]


def _fresh(job: Path) -> None:
    shutil.rmtree(job / "out", ignore_errors=True)
    _run("check", str(job))


def _run(*words: str) -> None:
    done = subprocess.run([COMMAND, *words], capture_output=True, check=False)
    assert done.returncode in (0, 1), done.stderr.decode()
