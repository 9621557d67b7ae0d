# SPDX-License-Identifier: Apache-2.0
"""The job file's section of the pickup housing, its screen and the flange that retains it."""

from pydantic import Field

from sumpwright.job.section import Length, Section


class Housing(Section):
    """A pickup housing from numbers."""

    wall: Length = Field(description="Of the housing.")
