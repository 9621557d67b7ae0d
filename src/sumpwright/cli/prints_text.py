# SPDX-License-Identifier: Apache-2.0
"""What `prints` answers, as a person reads it."""

from collections.abc import Iterator, Sequence
from pathlib import Path

from sumpwright.cli.fold_text import folded
from sumpwright.cli.housing_text import said_findings
from sumpwright.geometry.place import counted
from sumpwright.studies.prints_result import PrintJoint, PrintsResult
from sumpwright.studies.size_words import size_figures, small_mass
from sumpwright.units import shown, unit_name


def prints_text(result: PrintsResult, files: Sequence[Path]) -> str:
    """The answer in the job's units, at most 80 columns."""
    return "\n".join(_lines(result, files))


def _lines(result: PrintsResult, files: Sequence[Path]) -> Iterator[str]:
    units = result.units
    count = sum(piece.count for piece in result.pieces)
    yield f"{result.job}, revision {result.revision}: {counted(count, 'print')} to try the fit"
    drawn = f"pan {result.how}, for {result.printer}"
    larger = f"; {result.scale:.4f} times its size, to shrink to it" if result.scale != 1.0 else ""
    yield from folded(drawn + larger, "", "")
    yield f"\n  {'':22}{'size [' + unit_name('length', units) + ']':>22}{'each':>10}  lies on"
    for piece in result.pieces:
        name = piece.key if piece.count == 1 else f"{piece.count} x {piece.key}"
        size = size_figures(piece.size_m, units, None if units == "metric" else 0)
        mass = small_mass(piece.mass_kg, units)
        yield f"  {name:22}{size:>22}{mass:>10}  {piece.lies_on}"
    cost = "" if result.cost is None else f", {result.cost:.2f} {result.currency} of material"
    yield f"  {'all together':44}{_whole(result.mass_kg, units):>10}{cost}"
    if result.joints:
        yield "\nJoints"
    for joint in result.joints:
        yield f"  {' - '.join(joint.pieces):20}cut at {joint.cut:14}{_keys(joint, units)}"
    yield from said_findings(result.findings)
    if files:
        note = "" if units == "metric" else ", in mm"
        many = counted(len(files), "file")
        yield f"\nFiles  {files[0].parent}, {many}: 3MF and STL of each{note}"


def _whole(mass: float, units: str) -> str:
    return shown(mass, "mass" if units == "metric" else "weight", units)


def _keys(joint: PrintJoint, units: str) -> str:
    if joint.kind == "butt":
        return "plain butt, glued"
    if joint.kind == "step":
        return f"{counted(joint.keys, 'step')}, glued"
    assert joint.diameter_m is not None
    size = shown(joint.diameter_m, "length", units)
    return f"{counted(joint.keys, 'peg')} of {size}, glued"
