# SPDX-License-Identifier: Apache-2.0
"""Every picture of the report from one result and one scene; a pure function of the two."""

from collections.abc import Callable

from sumpwright.report.dipstick_view import dipstick_view
from sumpwright.report.feed_loss_view import feed_loss_view
from sumpwright.report.feed_speed_view import feed_speed_view
from sumpwright.report.feed_view import feed_view
from sumpwright.report.fill_view import fill_view
from sumpwright.report.hold_view import hold_view
from sumpwright.report.pan_view import pan_view
from sumpwright.report.section_view import limit_view, rest_view
from sumpwright.studies.feed_result import Feed
from sumpwright.studies.result import CheckResult
from sumpwright.studies.scene import Scene

Picture = Callable[[CheckResult, Scene], bytes | None]


def _turn(result: CheckResult, scene: Scene) -> bytes | None:
    return limit_view(result, scene, ("left", "right"), "turn") if result.hold else None


def _brake(result: CheckResult, scene: Scene) -> bytes | None:
    return limit_view(result, scene, ("brake", "accelerate"), "brake") if result.hold else None


def _of_feed(view: Callable[[Feed, str], bytes]) -> Picture:
    return lambda result, _: None if result.feed is None else view(result.feed, result.units)


PICTURES: dict[str, Picture] = {
    "pan": lambda result, scene: pan_view(result, scene, below=False),
    "below": lambda result, scene: pan_view(result, scene, below=True),
    "rest": rest_view,
    "hold": lambda result, _: hold_view(result),
    "turn": _turn,
    "brake": _brake,
    "fill": lambda result, _: fill_view(result),
    "dipstick": lambda result, _: dipstick_view(result),
    "feed": _of_feed(feed_view),
    "feed-loss": _of_feed(feed_loss_view),
    "feed-speed": _of_feed(feed_speed_view),
}
"""In the order of the report, each an SVG, or None where the job has no data for it."""


def drawn(key: str, result: CheckResult, scene: Scene) -> bytes | None:
    """One picture."""
    return PICTURES[key](result, scene)


def draw_all(result: CheckResult, scene: Scene) -> dict[str, bytes]:
    """The pictures by key."""
    pictures = ((key, drawn(key, result, scene)) for key in PICTURES)
    return {key: svg for key, svg in pictures if svg is not None}
