# SPDX-License-Identifier: Apache-2.0
"""What `space` answers, as a person reads it: sentences, then litres by depth and kick-out."""

from collections.abc import Iterator
from typing import TYPE_CHECKING

from sumpwright.cli.ledger_text import wrapped
from sumpwright.studies.space_result import SpaceResult
from sumpwright.units import shown, shown_number, unit_name

if TYPE_CHECKING:
    from sumpwright.report.space_write import Written

COLUMNS = 9
"""Kick-outs that have room beside one another."""


def space_text(result: SpaceResult, files: "Written | None") -> str:
    """The answer in the job's units, at most 80 columns."""
    return "\n".join(_lines(result, files))


def _lines(result: SpaceResult, files: "Written | None") -> Iterator[str]:
    units = result.units
    yield f"{result.job}, revision {result.revision}"
    yield from wrapped(result.summary, "")
    inside, outside = (shown(v, "volume", units) for v in (result.inside_m3, result.outside_m3))
    error = shown(result.error_m3, "volume", units, digits=3)
    yield from wrapped(
        f"Inside {inside} (the grid is off by at most {error}), outside {outside}.", ""
    )
    yield ""
    for sentence in result.sentences:
        yield from wrapped(sentence, "- ")
    yield from _table(result, "both", "left and right kick-outs")
    yield from _sides(result)
    yield from _lowest(result)
    yield ""
    for said in result.assumptions:
        yield from wrapped(said, "Mind: ")
    for finding in result.findings:
        yield from wrapped(f"{finding.place}: {finding.found} [{finding.code}]", "Noticed: ")
    if files is not None:
        yield ""
        for said in files.sentences(units):
            yield from wrapped(said, "")
        yield "\nFiles  " + "\n       ".join(str(path) for path in files.paths)


def _chosen(result: SpaceResult) -> list[int]:
    """The first kick-outs and the last."""
    count = len(result.table.growths_m)
    return list(range(count)) if count <= COLUMNS else [*range(COLUMNS - 1), count - 1]


def _table(result: SpaceResult, side: str, words: str) -> Iterator[str]:
    units, table, columns = result.units, result.table, _chosen(result)
    volume, length = unit_name("volume", units), unit_name("length", units)
    yield f"\nLitres by depth and {words} [{volume}, {length}]"
    heads = "".join(_cell(table.growths_m[k], "length", units, _fine(units)) for k in columns)
    yield f"  {'depth':>7}{heads}"
    for depth, row in zip(table.depths_m, table.volumes_m3[side], strict=True):
        cells = "".join(_cell(row[k], "volume", units, 2) for k in columns)
        yield f"  {_number(depth, 'length', units, _fine(units)):>7}{cells}"


def _sides(result: SpaceResult) -> Iterator[str]:
    units, table, columns = result.units, result.table, _chosen(result)
    yield f"\nEach side alone, down to the limit [{unit_name('volume', units)}]"
    heads = "".join(_cell(table.growths_m[k], "length", units, _fine(units)) for k in columns)
    yield f"  {'':7}{heads}"
    for side in ("left", "right", "front", "rear"):
        row = table.volumes_m3[side][-1]
        yield f"  {side:7}" + "".join(_cell(row[k], "volume", units, 2) for k in columns)


def _lowest(result: SpaceResult) -> Iterator[str]:
    if not result.lowest:
        return
    yield "\nLowest the pan may hang, over the ground"
    for limit in result.lowest:
        height = shown(limit.height_m, "length", result.units)
        yield f"  {limit.name:32}{height:>12}{'  this one counts' if limit.binds else ''}"


def _fine(units: str) -> int:
    return 0 if units == "metric" else 2


def _number(value: float, kind: str, units: str, digits: int) -> str:
    return f"{shown_number(value, kind, units):.{digits}f}"


def _cell(value: float, kind: str, units: str, digits: int) -> str:
    return f"{_number(value, kind, units, digits):>7}"
