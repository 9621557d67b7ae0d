# SPDX-License-Identifier: Apache-2.0
"""The pan rail in words: the verdict, and what to mind."""

from collections.abc import Iterator, Sequence

import numpy as np

from sumpwright.job.rail import Rail
from sumpwright.metal.clearance_hole import FITS, bolt_diameter, clearance_hole
from sumpwright.studies.rail_result import Growth, HoleLine, MeasuredFit, Pitch
from sumpwright.units import shown

BENT = 1e-4
"""m at the pattern's ends; a stretch or skew that moves them less is measuring error."""
FLAT = 4
"""Bolts that hold a flange flat at the least, one at each corner; [common-practice]."""
SIZERS = {"printer": "the printer", "scan": "the scanner", "photo": "the photo's scale"}
"""Whose scale is at fault."""


def verdict_of(holes: Sequence[HoleLine], sets: Sequence[MeasuredFit]) -> str:
    """``not met`` where a bolt strikes or the pan's own tolerance leaves nothing."""
    judged = judging(sets)
    if any(hole.left_m < 0.0 for hole in holes) or any(s.state == "strikes" for s in judged):
        return "not met"
    return "met" if judged else "not judged"


def judging(sets: Sequence[MeasuredFit]) -> list[MeasuredFit]:
    """The sets that say something of the engine: a print of the design only tells of its printer.

    One that was seen from the other side than it says judges nothing before that is put right.
    """
    return [s for s in sets if s.how != "printer" and not s.mirrored_fits]


def summary_of(
    verdict: str, holes: Sequence[HoleLine], sets: Sequence[MeasuredFit], units: str
) -> str:
    """The answer in a sentence or two."""
    if verdict == "not judged":
        return f"{len(holes)} holes; nothing was measured yet that they could be compared with."
    tight = [h for h in holes if h.left_m < 0.0]
    if tight:
        return (
            f"Hole {tight[0].name}: its own position tolerance is more than the clearance round "
            "the bolt."
        )
    worst = max(judging(sets), key=lambda s: max(h.distance_m - h.most_m for h in s.holes))
    hole = max(worst.holes, key=lambda h: h.distance_m - h.most_m)
    off, most = (
        shown(v, "length", units, digits=_digits(units)) for v in (hole.distance_m, hole.most_m)
    )
    if hole.state == "strikes":
        return f"By {worst.name}, the bolt of hole {hole.name} strikes: {off} off, {most} may be."
    seen = {h.name for s in judging(sets) for h in s.holes}
    which = "Every bolt goes in"
    if len(seen) < len(holes):
        which = f"The bolts of the {len(seen)} of {len(holes)} holes that were measured go in"
    say = f"{which}: at worst {off} off (hole {hole.name}, {worst.name}), {most} may be."
    if any(s.state == "tight" for s in judging(sets)):
        say += " Some only if the pan's own holes are truer than their tolerance."
    return say


def cautions_of(
    rail: Rail,
    holes: Sequence[HoleLine],
    pitches: Sequence[Pitch],
    growth: Growth,
    sets: Sequence[MeasuredFit],
    units: str,
) -> Iterator[str]:
    """What a person should mind, the gravest first."""
    for measured in sets:
        yield from _of_set(rail, measured, units)
    yield from _of_heat(rail, holes, growth, units)
    yield from _of_pitch(rail, pitches, units)
    if len(holes) < FLAT:
        yield f"{few_bolts(len(holes))} Type in every hole of the block's rail."
    yield (
        "A hole's residual holds the error of measuring it too: measure twice before a hole is "
        "moved, and try the real gasket and bolts on the block before metal is cut."
    )


def few_bolts(count: int) -> str:
    """What so few bolts come to, as a sentence."""
    if not count:
        return "No bolt holds the pan's flange."
    some = "One bolt holds" if count == 1 else f"{count} bolts hold"
    return f"{some} no pan's flange flat: it gapes between them and leaks."


def scale_words(measured: MeasuredFit) -> str:
    """``0.40 % small (± 0.03 %)``; that nothing speaks for a scale where it is so."""
    scale = measured.scale
    percent = 100.0 * (scale.scale - 1.0)
    spread = "" if scale.spread is None else f" (± {100.0 * scale.spread:.2f} %)"
    if not scale.told:
        return f"{signed(percent)} %{spread}: nothing to correct"
    return f"{abs(percent):.2f} % {'small' if percent < 0 else 'large'}{spread}"


def signed(value: float) -> str:
    """Two places with their sign; none where they are all zero."""
    text = f"{value:+.2f}"
    return "0.00" if float(text) == 0.0 else text.replace("-", "−")


def _of_set(rail: Rail, measured: MeasuredFit, units: str) -> Iterator[str]:
    if measured.mirrored_fits:
        other = "above" if measured.seen == "below" else "below"
        yield (
            f"{measured.name} fits far better turned over: if it was seen from {other}, "
            f"say `seen: {other}`."
        )
        return
    strikes = [h for h in measured.holes if h.state == "strikes"]
    if strikes and measured.how != "printer":
        yield _larger(rail, max(h.distance_m for h in strikes), measured, units)
    if measured.scale.told:
        yield _scaled(measured, units)
    if measured.bend is not None:
        yield from _bent(measured, units)
    if measured.missing and measured.how != "printer":
        yield f"{measured.name} lacks hole {', '.join(measured.missing)}."


def _scaled(measured: MeasuredFit, units: str) -> str:
    who = SIZERS.get(measured.how, f"{measured.how}'s scale")
    left = shown(measured.scale.rms_m, "length", units, digits=_digits(units))
    say = f"{measured.name}: {who} is {scale_words(measured)}"
    if measured.how == "printer":
        say += f"; print at {100.0 / measured.scale.scale:.2f} %"
    elif measured.how in ("scan", "photo"):
        say += "; give it a scale bar that was measured"
    return f"{say}. With that put right {left} rms is left."


def _bent(measured: MeasuredFit, units: str) -> Iterator[str]:
    bend = measured.bend
    assert bend is not None
    at = np.array([h.at_m for h in measured.holes])
    long, wide = 0.5 * np.ptp(at, axis=0)
    apart = 0.5 * abs(bend.along - bend.across) * max(long, wide)
    skew = abs(bend.skew_rad) * min(long, wide)
    if measured.rms_m > 0.0 and max(apart, skew) > BENT:
        yield (
            f"{measured.name} is stretched unevenly: {signed(100 * (bend.along - 1))} % along, "
            f"{signed(100 * (bend.across - 1))} % across, "
            f"{signed(float(np.degrees(bend.skew_rad)))} deg out of square."
        )


def _larger(rail: Rail, off: float, measured: MeasuredFit, units: str) -> str:
    """The next series of holes that would take the worst residual, or none."""
    bolt = bolt_diameter(rail.thread)
    wide = [f for f in FITS if clearance_hole(rail.thread, f) - bolt >= 2.0 * off]
    if wide:
        hole = shown(clearance_hole(rail.thread, wide[0]), "length", units)
        return f"{measured.name}: the {wide[0]} hole of {hole} would take the worst of it."
    return f"{measured.name}: no clearance hole for {rail.thread} takes that; the design is off."


def _of_heat(rail: Rail, holes: Sequence[HoleLine], growth: Growth, units: str) -> Iterator[str]:
    bad = [h for h in holes if h.left_hot_m < 0.0]
    if not bad:
        return
    worst = min(bad, key=lambda h: h.left_hot_m)
    grows, left = (
        shown(v, "length", units, digits=_digits(units))
        for v in (worst.grows_m, 0.5 * worst.left_m)
    )
    ends = "slots along the pan" if rail.fit == "coarse" else "the coarse series"
    yield (
        f"Hot, the {growth.pan} pan moves {grows} off the {growth.block} block at hole "
        f"{worst.name}, and tolerances leave it {left}: {len(bad)} of {len(holes)} holes can bear "
        "on their bolts. "
        "Tighten from the middle outward with the pan centred, and give the end holes "
        f"{ends} where the gasket's face allows it."
    )


def _of_pitch(rail: Rail, pitches: Sequence[Pitch], units: str) -> Iterator[str]:
    wide = [p for p in pitches if p.usual == "wide"]
    if wide:
        far = max(wide, key=lambda p: p.pitch_m)
        yield (
            f"{len(wide)} of {len(pitches)} pitches are wider than is usual for {rail.thread} "
            f"(common practice, no source), the widest {shown(far.pitch_m, 'length', units)} from "
            f"{far.first} to {far.second}: a thin flange gapes between its bolts."
        )
    close = [p for p in pitches if p.usual == "close"]
    if close:
        near = min(close, key=lambda p: p.pitch_m)
        yield (
            f"{len(close)} of {len(pitches)} pitches are closer than is usual, the closest "
            f"{shown(near.pitch_m, 'length', units)} from {near.first} to {near.second}: no harm, "
            "if a socket gets on."
        )


def _digits(units: str) -> int:
    return 4 if units == "us" else 2
