# SPDX-License-Identifier: Apache-2.0
"""The free space of the demo: a first question with its files, and a second one.

The first measures every distance; the second finds them in the job's cache.
"""

import shutil
import tempfile
from pathlib import Path
from time import perf_counter

from bench.table import Row
from sumpwright.report.space_write import write_space
from sumpwright.studies.space import space_with_bodies
from sumpwright.studies.space_ask import SpaceAsked

DEMO = Path(__file__).parents[1] / "examples" / "demo-c"


def rows() -> list[Row]:
    """First question with files, and a second one with other kick-outs, without."""
    with tempfile.TemporaryDirectory() as folder:
        job = Path(folder) / "job"
        shutil.copytree(DEMO, job, ignore=shutil.ignore_patterns("out"))
        start = perf_counter()
        write_space(space_with_bodies(job), lambda _text, _share: None)
        first = perf_counter() - start
        start = perf_counter()
        space_with_bodies(job, SpaceAsked(left=0.012, right=0.012))
        second = perf_counter() - start
    return [
        Row("free space of the demo, first question, STL, STEP and picture", first, must=20.0),
        Row("free space of the demo, another question", second, must=10.0, aim=5.0),
    ]
