# SPDX-License-Identifier: Apache-2.0
"""The job file's section on logs: what the logger calls its channels, and in which units."""

from typing import Annotated

from pydantic import Field

from sumpwright.job.section import Section
from sumpwright.units import quantity

ColumnName = Annotated[str, Field(min_length=1, max_length=200)]
UnitName = Annotated[str, Field(min_length=1, max_length=40)]


class Columns(Section):
    """Names of a log's columns, where its own names do not say what they are."""

    time: ColumnName | None = Field(None, description="Time.")
    pressure: ColumnName | None = Field(None, description="Oil pressure over the atmosphere.")
    rpm: ColumnName | None = Field(None, description="Engine speed.")
    temperature: ColumnName | None = Field(None, description="Oil temperature.")
    ax: ColumnName | None = Field(
        None, description="Acceleration forward; `-NAME` where it counts backward."
    )
    ay: ColumnName | None = Field(
        None, description="Acceleration to the left; `-NAME` where it counts to the right."
    )
    az: ColumnName | None = Field(None, description="Acceleration up.")
    speed: ColumnName | None = Field(None, description="Road speed.")
    yaw_rate: ColumnName | None = Field(
        None, description="Yaw rate, positive to the left; `-NAME` else."
    )
    latitude: ColumnName | None = Field(None, description="Latitude.")
    longitude: ColumnName | None = Field(None, description="Longitude.")
    gear: ColumnName | None = Field(None, description="Gear.")
    throttle: ColumnName | None = Field(None, description="Throttle.")
    lap: ColumnName | None = Field(None, description="Lap number.")


class ColumnUnits(Section):
    """Units of a log's columns, where the log does not say them."""

    time: UnitName | None = Field(None, description="Such as s or ms.")
    pressure: UnitName | None = Field(None, description="Such as bar, psi or kPa.")
    rpm: UnitName | None = Field(None, description="Such as rpm.")
    temperature: UnitName | None = Field(None, description="Such as degC or degF.")
    ax: UnitName | None = Field(None, description="Such as g or m/s^2.")
    ay: UnitName | None = Field(None, description="Such as g or m/s^2.")
    az: UnitName | None = Field(None, description="Such as g or m/s^2.")
    speed: UnitName | None = Field(None, description="Such as km/h or mph.")
    yaw_rate: UnitName | None = Field(None, description="Such as deg/s.")
    latitude: UnitName | None = Field(None, description="Such as deg.")
    longitude: UnitName | None = Field(None, description="Such as deg.")
    throttle: UnitName | None = Field(None, description="Such as %.")


class Logs(Section):
    """How the shop's logger writes; only names and units, so that no answer goes stale by it."""

    columns: Columns = Field(default_factory=Columns, description="Which column is what.")
    units: ColumnUnits = Field(default_factory=ColumnUnits, description="In which units.")
    radius: Annotated[float, quantity("m", "3 m", "500 m")] | None = Field(
        None,
        description="Of the circle that is driven, where the log has speed or laps but no "
        "acceleration to the side.",
    )
