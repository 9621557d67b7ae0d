# SPDX-License-Identifier: Apache-2.0
"""What a person should know of prints, each with its code."""

from collections.abc import Iterator, Sequence

from sumpwright.errors import Finding
from sumpwright.metal.print_section_joint import Joint
from sumpwright.metal.print_section_lay import Lying
from sumpwright.studies.prints_result import PrintPiece
from sumpwright.units import shown, shown_number, unit_name

SMALL = 2e-6
"""m^3; a piece smaller than this is likely a sliver."""

CAUTION = (
    "printed parts are for trying the fit: never for hot oil, never on an engine that is run or "
    "cranked"
)


def findings_of(
    pieces: Sequence[PrintPiece],
    joints: Sequence[Joint],
    names: Sequence[str],
    units: str = "metric",
) -> Iterator[Finding]:
    """Joints that do not find themselves, slivers, pieces that need supports; the caution last."""
    for joint in joints:
        if joint.kind == "pegs" and len(joint.spots) > 1:
            continue
        pair = f"{names[joint.low]} and {names[joint.high]}"
        if joint.kind == "pegs":
            yield _note(
                "PRIN-511", pair, "room for one peg only", "line up the rail by a straight edge"
            )
        elif joint.kind == "step":
            yield _note("PRIN-512", pair, "too thin for pegs: a step instead", "glue it")
        else:
            yield _note("PRIN-513", pair, "too thin for any key: a plain butt", "glue it in a jig")
    for piece in pieces:
        if piece.of == "pan" and piece.volume_m3 < SMALL:
            size = f"{shown_number(piece.volume_m3, 'small_volume', units):.2g}"
            only = f"only {size} {unit_name('small_volume', units)}"
            yield _note("PRIN-514", piece.key, only, "leave it out, or move the pan's split")
        if piece.lies_on == "none of its cuts":
            yield _note("PRIN-515", piece.key, "no flat face that fits", "print it on supports")
    yield _note("PRIN-519", "all prints", CAUTION, "defer to local rules and qualified practice")


def cut_words(axis: int, at: float, units: str) -> str:
    """Where a cut is, such as ``x 210.0 mm``; `at` in m."""
    return f"{'xyz'[axis]} {shown(at, 'length', units)}"


def lies_words(lies: Lying, units: str) -> str:
    """What a piece lies on in the printer."""
    if lies.face is None:
        return lies.on
    return f"cut at {cut_words(lies.face.axis, 1e-3 * lies.face.at, units)}"


def _note(code: str, place: str, found: str, repair: str) -> Finding:
    return Finding(code, place, found, repair, "note")
