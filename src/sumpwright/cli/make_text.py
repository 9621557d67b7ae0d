# SPDX-License-Identifier: Apache-2.0
"""A pack in words, for the terminal."""

from collections import Counter
from collections.abc import Iterator
from pathlib import Path

from sumpwright.cli.ledger_text import wrapped
from sumpwright.report.caution import make_cautions
from sumpwright.studies.make_result import Pack

WHAT = {
    "cad": "solids (STEP, STL)",
    "flat": "flat patterns (DXF)",
    "print": "prints to try the fit",
    "drawings": "drawings (PDF, DXF)",
    "lists": "parts, welds, inspection, bolt order",
}


def make_text(pack: Pack, place: Path) -> str:
    """What was made, what was not, and what to mind."""
    return "\n".join(_lines(pack, place))


def _lines(pack: Pack, place: Path) -> Iterator[str]:
    yield f"Pack of {pack.job}, revision {pack.revision}, part {pack.part_hash[:12]}"
    for said in pack.against:
        yield from wrapped(said, "Against it: ")
    counts = Counter(f.path.split("/")[0] for f in pack.files if "/" in f.path)
    for folder, words in WHAT.items():
        if counts[folder]:
            yield f"  {folder + '/':12}{counts[folder]:>3}  {words}"
    for n in pack.not_made:
        yield from wrapped(f"{n.what}: {n.why}", "Not made: ")
    for said in pack.warnings:
        yield from wrapped(said, "Noticed: ")
    yield f"\nPack    {place}\n        begin with {place / 'index.pdf'}\n"
    for caution in make_cautions()[:1]:
        yield from wrapped(caution.text, "Mind: ")
