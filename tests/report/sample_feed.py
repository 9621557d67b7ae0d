# SPDX-License-Identifier: Apache-2.0
"""Feeds to show: everything at once with the stock pan beside it, and lines with little to say."""

from dataclasses import replace
from functools import cache
from pathlib import Path
from tempfile import TemporaryDirectory

from sumpwright.studies.feed_result import Feed, FeedResult
from tests.studies.feed_job import REAL, FeedJob, result_of

LATE = FeedJob(
    tubes="[{bore: 12 mm, length: 900 mm, bends: [{angle: 180 deg, radius: 15 mm}]}]",
    oil=REAL.oil,
    viscosity=REAL.viscosity,
    engine="rpm: 7000 rpm, pump: {displacement: 14 cm^3}",
    inlet="[200 mm, 0 mm, 3 m]",
)
"""A pump that gets next to nothing, even hot."""
EVEN = FeedJob(inlet="[200 mm, 0 mm, -80 mm]", pickup="")
"""One temperature, a pump under the oil, no pickup."""
SAMPLES = {"real": replace(REAL, stock=True), "late": LATE, "even": EVEN}
SAMPLES["us"] = replace(SAMPLES["real"], units="us")


@cache
def sample_feed_result(name: str = "real") -> FeedResult:
    """A judged feed, made by the study itself."""
    with TemporaryDirectory() as folder:
        return result_of(Path(folder), SAMPLES[name])


def sample_feed() -> Feed:
    """The feed of everything at once."""
    return sample_feed_result().feed
