# SPDX-License-Identifier: Apache-2.0
"""Requirements on the pickup staying covered: turns, slopes, and the targets in motion."""

from collections.abc import Iterator

from sumpwright.geometry.frame import STANDARD_GRAVITY
from sumpwright.studies.assumption import NOTEWORTHY
from sumpwright.studies.rule import Answer, Evidence, Judge, Judged, Rule, Unjudged, number
from sumpwright.units import shown

DRAWDOWN = "[Lubin-Springer-1967] draw-down"
_TURNS = (
    ("left", "in a left turn"),
    ("right", "in a right turn"),
    ("brake", "under braking"),
    ("accelerate", "accelerating"),
)
_SLOPES = (
    ("slope_up", "nose uphill", ("slope_up_deg",)),
    ("slope_down", "nose downhill", ("slope_down_deg",)),
    ("slope_side", "either side uphill", ("slope_left_deg", "slope_right_deg")),
)


def hold_rules() -> Iterator[Rule]:
    """The mouth's gap, static hold each way, slopes, and targets that need oil in motion."""
    yield Rule(
        "floor_gap",
        "The pickup's mouth stands off the floor",
        "length",
        "",
        "smallest distance from the rim along the mouth's axis to the floor (6 to 12 mm is usual)",
        _floor_gap,
    )
    static = (
        "largest steady g with the rim below the exact surface by the draw-down height; "
        "oil hot, at the full mark, less what the engine holds up"
    )
    for way, words in _TURNS:
        yield Rule(
            f"hold_{way}",
            f"The pickup stays covered {words}, static",
            "acceleration",
            DRAWDOWN,
            static,
            _hold_judge(way),
        )
    for key, words, fields in _SLOPES:
        yield Rule(
            key,
            f"The pickup stays covered, {words}",
            "angle",
            DRAWDOWN,
            "steepest ground with the rim below the exact surface by the draw-down height",
            _slope_judge(key, fields),
        )
    yield from _target_rules()


def _target_rules() -> Iterator[Rule]:
    for way, words in _TURNS:
        yield Rule(
            f"target_{way}",
            f"The pickup stays covered {words} at the target g, in motion",
            "acceleration",
            f"{DRAWDOWN}; [Abramson-1966] slosh",
            "largest g, with all smaller ones, at which the pickup takes no air for the time to "
            "hold; settled start, compartments and doors in motion, oil hot",
            _target_judge(way),
            moving=True,
        )


def _floor_gap(evidence: Evidence) -> Answer:
    limit = number(evidence.job.requirements.floor_gap)
    if evidence.hold is None:
        return Unjudged("needs `new.pickup`", limit)
    if evidence.hold.floor_gap_m is None:
        return Unjudged("needs a mouth that faces down", limit)
    return Judged(evidence.hold.floor_gap_m, limit)


def _hold_judge(way: str) -> Judge:
    def judge(evidence: Evidence) -> Answer:
        asked = getattr(evidence.job.requirements, f"hold_{way}")
        hold = evidence.hold
        limit = None if asked == "stock" else asked / STANDARD_GRAVITY
        if hold is None:
            return Unjudged("needs `new.pickup`", limit)
        value = getattr(hold, f"{way}_g")
        end = hold.magnitudes_g[-1]
        if limit is not None and value >= end and limit > end:
            return Unjudged(f"needs a look beyond {end:g} g; covered up to there", limit)
        more = _cautions(evidence, way, held=value >= end)
        if limit is not None:
            return Judged(value, limit, f"against the limit in the job file{more}")
        if hold.stock is None:
            return Unjudged("needs the stock pan with its pickup, or a limit in g")
        return Judged(value, getattr(hold.stock, f"{way}_g"), f"against the stock pan{more}")

    return judge


def _cautions(evidence: Evidence, way: str, *, held: bool) -> str:
    """What a hold limit should not be read without."""
    hold = evidence.hold
    assert hold is not None
    said = "; covered as far as was looked" if held else ""
    apart = getattr(hold.apart, f"{way}_m3")
    if apart > NOTEWORTHY * hold.oil_m3:
        oil = shown(apart, "volume", evidence.job.units)
        said += f"; {oil} of the oil does not touch the pickup's pool there"
    return said


def _slope_judge(key: str, fields: tuple[str, ...]) -> Judge:
    def judge(evidence: Evidence) -> Answer:
        limit = getattr(evidence.job.requirements, key) * 57.29577951308232
        if evidence.hold is None:
            return Unjudged("needs `new.pickup`", limit)
        worst = min(getattr(evidence.hold, f) for f in fields)
        return Judged(worst, limit, "engine running at the hold speed")

    return judge


def _target_judge(way: str) -> Judge:
    def judge(evidence: Evidence) -> Answer:
        limit = getattr(evidence.job.requirements, f"target_{way}") / STANDARD_GRAVITY
        motion = evidence.motion
        if motion is None:
            return Unjudged("needs `new.pickup` and `engine.rpm`", limit)
        value, end = getattr(motion, f"{way}_g"), motion.looked_to_g
        if value >= end and limit > end:
            return Unjudged(f"needs a look beyond {end:g} g; held up to there", limit)
        turn = way in ("left", "right")
        time = motion.hold_time_s if turn else motion.hold_time_straight_s
        held = f"held for {time:g} s at {motion.rpm:.0f} rpm"
        more = "; held as far as was looked" if value >= end else ""
        return Judged(value, limit, held + more)

    return judge
