# SPDX-License-Identifier: Apache-2.0
"""What the study of the pan rail answers. SI."""

from dataclasses import asdict, dataclass
from typing import Any, Literal

Spot = tuple[float, float]
State = Literal["fits", "tight", "strikes"]
"""With the pan's own tolerance; only where the pan's hole is true; the bolt strikes its hole."""
Usual = Literal["close", "usual", "wide", ""]


@dataclass(frozen=True)
class HoleLine:
    """One hole of the design."""

    name: str
    at_m: Spot
    diameter_m: float
    own_m: float
    """Position tolerance that the pan's hole may have, a diameter"""
    left_m: float
    """What is then left for the block's thread, a diameter"""
    grows_m: float
    """How far heat moves it off the block's thread"""
    left_hot_m: float
    """What is left for the thread when hot, a diameter; negative where the bolt is pushed"""


@dataclass(frozen=True)
class Pitch:
    """From one hole to the next round the flange."""

    first: str
    second: str
    pitch_m: float
    usual: Usual


@dataclass(frozen=True)
class Growth:
    """Heat on the pattern as a whole."""

    pan: str
    block: str
    rise_k: float
    longest_m: float
    """Between the two holes that lie farthest apart"""
    between: tuple[str, str]
    growth_m: float
    """Over that length"""


@dataclass(frozen=True)
class SetHole:
    """A measured hole against the design."""

    name: str
    at_m: Spot
    """Where the fit puts it, engine frame"""
    off_m: Spot
    """From its design"""
    distance_m: float
    allowed_m: float
    """What may be with the pan's own tolerance used up"""
    most_m: float
    """What may be with the pan's hole true: half the clearance"""
    state: State


@dataclass(frozen=True)
class Scale:
    """Size of what was measured over the design."""

    scale: float
    spread: float | None
    """One standard error; None of two holes"""
    told: bool
    """Larger than twice its error, and worth over 0.02 mm at the pattern's ends"""
    rms_m: float
    """What is left once the scale is free"""


@dataclass(frozen=True)
class Bend:
    """An affine fit, taken apart."""

    along: float
    across: float
    skew_rad: float


@dataclass(frozen=True)
class MeasuredFit:
    """One set of measured holes, laid over the design."""

    name: str
    how: str
    seen: str
    holes: tuple[SetHole, ...]
    missing: tuple[str, ...]
    turn_rad: float
    shift_m: Spot
    rms_m: float
    worst: str
    worst_m: float
    scale: Scale
    bend: Bend | None
    mirrored_fits: bool
    """Turned over it would fit far better: it was seen from the other side"""
    state: State
    """That of its worst hole"""


@dataclass(frozen=True)
class RailResult:
    """The bolt pattern, and every measurement of it."""

    job: str
    revision: str
    input_hash: str
    code_version: str
    units: str
    verdict: str
    """``met``, ``not met`` or ``not judged``"""
    summary: str
    thread: str
    fit: str
    bolt_m: float
    holes: tuple[HoleLine, ...]
    pitches: tuple[Pitch, ...]
    growth: Growth
    sets: tuple[MeasuredFit, ...]
    edge: tuple[Spot, ...]
    """Corners of the flange's outer edge, chords for arcs"""
    opening: tuple[Spot, ...]
    """Of the block's opening; empty where the job does not draw it"""
    cautions: tuple[str, ...]

    def as_json(self) -> dict[str, Any]:
        """Plain dict of it, SI."""
        return asdict(self)
