# SPDX-License-Identifier: Apache-2.0
"""What `prints` answers, as a person reads it."""

from collections.abc import Iterator, Sequence
from pathlib import Path

from sumpwright.cli.housing_text import said_findings
from sumpwright.geometry.place import counted
from sumpwright.studies.prints_result import PrintJoint, PrintsResult
from sumpwright.units import shown, shown_number, unit_name


def prints_text(result: PrintsResult, files: Sequence[Path]) -> str:
    """The answer in the job's units, at most 80 columns."""
    return "\n".join(_lines(result, files))


def _lines(result: PrintsResult, files: Sequence[Path]) -> Iterator[str]:
    units = result.units
    count = sum(piece.count for piece in result.pieces)
    yield f"{result.job}, revision {result.revision}: {counted(count, 'print')} to try the fit"
    yield f"pan {result.how}, for {result.printer}; drawn {result.scale:.4f} times its size"
    yield f"\n  {'':22}{'size [' + unit_name('length', units) + ']':>22}{'mass':>9}  lies on"
    for piece in result.pieces:
        name = piece.key if piece.count == 1 else f"{piece.count} x {piece.key}"
        size = " x ".join(f"{shown_number(s, 'length', units):.4g}" for s in piece.size_m)
        mass = shown(piece.mass_kg, "mass", units)
        yield f"  {name:22}{size:>22}{mass:>9}  {piece.lies_on}"
    cost = "" if result.cost is None else f", {result.cost:.2f} {result.currency} of it"
    yield f"  all together{shown(result.mass_kg, 'mass', units):>41}{cost}"
    if result.joints:
        yield "\nJoints"
    for joint in result.joints:
        yield f"  {' - '.join(joint.pieces):20}cut at {joint.cut:14}{_keys(joint, units)}"
    yield from said_findings(result.findings)
    if files:
        yield f"\nFiles  {files[0].parent}, {counted(len(files), 'file')}: 3MF and STL of each"


def _keys(joint: PrintJoint, units: str) -> str:
    if joint.kind == "butt":
        return "plain butt, glued"
    if joint.kind == "step":
        return f"{counted(joint.keys, 'step')}, glued"
    assert joint.diameter_m is not None
    size = shown(joint.diameter_m, "length", units)
    return f"{counted(joint.keys, 'peg')} of {size}, glued"
