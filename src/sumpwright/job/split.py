# SPDX-License-Identifier: Apache-2.0
"""The job file's section of how a pan is made in two halves and welded."""

from pydantic import Field

from sumpwright.job.section import Coordinate, Section


class Split(Section):
    """Where the pan is parted into two halves."""

    height: Coordinate = Field(description="Of the level split over the rail: negative.")
