# SPDX-License-Identifier: Apache-2.0
"""What `rail` answers, as a person reads it."""

from collections.abc import Iterator
from pathlib import Path

import numpy as np

from sumpwright.cli.ledger_text import styled, verdict_text, wrapped
from sumpwright.studies.rail_result import MeasuredFit, RailResult
from sumpwright.studies.rail_scan import Found
from sumpwright.studies.rail_words import scale_words, signed
from sumpwright.units import shown, shown_number, unit_name

MARKS = {"fits": "", "tight": "  only if the pan's hole is true", "strikes": "  STRIKES"}
PRINT_MARKS = {"fits": "", "tight": "", "strikes": ""}
USUAL = {"M6": "40 to 60 mm", "M8": "60 to 80 mm"}
CAUTION = "Lift, drain and unbolt only what you are set up for; hot oil burns."


def rail_text(result: RailResult, picture: Path | None, *, colour: bool = False) -> str:
    """The answer in the job's units, at most 80 columns."""
    return "\n".join(_lines(result, picture, colour))


def found_text(found: Found, picture: Path | None, kept: str) -> str:
    """Holes that were found, how sure, and what to do next."""
    return "\n".join(_found(found, picture, kept))


def _lines(result: RailResult, picture: Path | None, colour: bool) -> Iterator[str]:
    yield f"{verdict_text(result.verdict, colour)}  {result.job}, revision {result.revision}"
    yield from wrapped(result.summary, "")
    yield from _holes(result)
    yield from _pitches(result)
    yield from _growth(result)
    for measured in result.sets:
        yield from _set(measured, result.units, colour)
    yield ""
    for said in result.cautions:
        yield from wrapped(said, "Mind: ")
    if picture is not None:
        yield f"\nPicture  {picture}"
    yield ""
    yield CAUTION


def _holes(result: RailResult) -> Iterator[str]:
    units = result.units
    yield (
        f"\nHoles [{_unit(units)}]  {result.thread}, {result.fit} fit; of a position, the diameter"
    )
    head = ("ahead", "left", "hole", "pan's own", "left over", "heat", "left hot")
    yield f"  {'':8}" + "".join(f"{h:>10}" for h in head)
    for h in result.holes:
        cells = (*h.at_m, h.diameter_m, h.own_m, h.left_m, h.grows_m, h.left_hot_m)
        yield f"  {h.name[:8]:8}" + "".join(f"{_number(c, units):>10}" for c in cells)


def _pitches(result: RailResult) -> Iterator[str]:
    pitch = [p.pitch_m for p in result.pitches]
    if not pitch:
        return
    low, high = (shown(v, "length", result.units) for v in (min(pitch), max(pitch)))
    yield f"\nPitch round the flange  {low} to {high}"
    if result.thread in USUAL:
        usual = USUAL[result.thread]
        yield f"  usual for {result.thread} are {usual} (common practice, no source)"
    for p in result.pitches:
        if p.usual in ("wide", "close"):
            pitch_text = shown(p.pitch_m, "length", result.units)
            yield f"  {p.first} to {p.second}: {pitch_text}, {p.usual}"


def _growth(result: RailResult) -> Iterator[str]:
    g = result.growth
    grown, long = (
        shown(v, "length", result.units, digits=_digits(result.units))
        for v in (g.growth_m, g.longest_m)
    )
    yield (
        f"\nHeat  {g.pan} on {g.block}, {g.rise_k:.0f} K: {grown} over the {long} from "
        f"{g.between[0]} to {g.between[1]}"
    )


def _set(measured: MeasuredFit, units: str, colour: bool) -> Iterator[str]:
    printed = measured.how == "printer"
    state = {"fits": "met", "tight": "met", "strikes": "not met"}[measured.state]
    mark = "of the print, not of the pan" if printed else styled(state, colour)
    seen = ", seen from below" if measured.seen == "below" else ""
    yield f"\nMeasured: {measured.name} ({measured.how}{seen})  {mark}"
    rms, worst = (_shown(v, units) for v in (measured.rms_m, measured.worst_m))
    turn = np.degrees(measured.turn_rad)
    yield f"  rms {rms}, worst {worst} at {measured.worst}; turned by {turn:.2f} deg"
    yield f"  size {scale_words(measured)}"
    if measured.bend is not None:
        b = measured.bend
        yield (
            f"  stretched {signed(100 * (b.along - 1))} % along, {signed(100 * (b.across - 1))} % "
            f"across, {signed(float(np.degrees(b.skew_rad)))} deg out of square"
        )
    yield f"  {'':8}{'ahead':>10}{'left':>10}{'off':>10}{'may be':>10}{'at most':>10}"
    for h in measured.holes:
        cells = (*h.off_m, h.distance_m, h.allowed_m, h.most_m)
        row = "".join(f"{_number(c, units, sign=k < 2):>10}" for k, c in enumerate(cells))
        yield f"  {h.name[:8]:8}{row}{(PRINT_MARKS if printed else MARKS)[h.state]}"


def _found(found: Found, picture: Path | None, kept: str) -> Iterator[str]:
    units = found.units
    yield f"{len(found.holes)} round holes in {found.source}"
    if found.scale_m:
        yield (
            f"  a picture element is {1e3 * found.scale_m:.4f} mm "
            f"(± {100 * found.scale_spread:.2f} %, {_shown(found.far_m, units)} over all of them)"
        )
    yield f"\n  {'':14}{'along':>10}{'up':>10}{'across':>10}{'centre ±':>10}  [{_unit(units)}]"
    for h in found.holes:
        cells = (*h.at_m, h.diameter_m, h.spread_m)
        yield (
            f"  {h.name[:14]:14}"
            + "".join(f"{_number(c, units):>10}" for c in cells)
            + f"  {h.sure}"
        )
    yield ""
    yield from _laid(found)
    for note in found.notes:
        yield from wrapped(note, "Mind: ")
    if picture is not None:
        yield f"\nMarked  {picture}"
    if kept:
        yield f"Kept    {kept}"
    else:
        yield ""
        yield from wrapped(
            "Nothing was written into the job. Look at the marked picture; if every ring sits on "
            "a bolt hole and none is missing, run it again with --keep (--leave NAME for one that "
            "is none).",
            "",
        )


def _laid(found: Found) -> Iterator[str]:
    laid = found.laid
    if laid is None:
        if found.designed:
            yield "They do not lie on the holes of rail.holes: check the scale."
        return
    side = ", turned over: it was seen from below" if laid.mirrored else ""
    rms = _shown(laid.rms_m, found.units)
    yield from wrapped(
        f"{laid.joined} of them lie on {laid.design} designed holes, rms {rms}{side}.", ""
    )
    if laid.others:
        yield from wrapped(
            f"The pattern is symmetric: there are {laid.others} other ways of laying them.", ""
        )


def _number(value: float, units: str, *, sign: bool = False) -> str:
    number = shown_number(value, "length", units)
    text = f"{number:+.{_digits(units)}f}" if sign else f"{number:.{_digits(units)}f}"
    return text.replace("-", "−")


def _shown(value: float, units: str) -> str:
    return shown(value, "length", units, digits=_digits(units))


def _unit(units: str) -> str:
    return unit_name("length", units)


def _digits(units: str) -> int:
    return 4 if units == "us" else 2
