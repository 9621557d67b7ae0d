# SPDX-License-Identifier: Apache-2.0
"""Which of the car's bodies leaves the new pan least room."""

from sumpwright.studies.result import CheckResult, ObstacleGap


def by_room(result: CheckResult) -> list[ObstacleGap]:
    """The obstacles, the one that falls furthest short of what is asked for first."""
    found = () if result.clearance is None else result.clearance.obstacles
    return sorted(found, key=lambda o: o.worst.gap_m - (o.needed_m or 0.0))


def tightest(result: CheckResult) -> ObstacleGap | None:
    """The first of them, where there are any."""
    ranked = by_room(result)
    return ranked[0] if ranked else None
