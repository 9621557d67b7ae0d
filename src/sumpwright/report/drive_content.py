# SPDX-License-Identifier: Apache-2.0
"""What the page of a drive says, in words and in order."""

from datetime import datetime

from sumpwright.report.caution import motion_cautions
from sumpwright.report.content import (
    Content,
    Figure,
    finding_lines,
    foot,
    open_lines,
    provenance,
)
from sumpwright.report.feed_choice import inlet_text
from sumpwright.report.ledger import failures, ledger_rows
from sumpwright.report.motion_table import (
    chance_table,
    compartment_table,
    door_table,
    error_table,
)
from sumpwright.report.text import plain, told
from sumpwright.report.time_view import inlet_limit
from sumpwright.studies.motion_result import Doors, DriveResult
from sumpwright.units import shown

DOORS_ARE: dict[Doors, str] = {
    "working": "",
    "stuck open": ", all doors stuck open",
    "stuck shut": ", all doors stuck shut",
    "no baffles": ", without baffles",
}
_FIGURES = (
    Figure(
        "strip",
        "Where the oil is",
        "A strip for each compartment over time. Below a strip hang the doors that let its oil "
        "out, and only that way.",
    ),
    Figure(
        "time",
        "Over time",
        "All on one time axis, air at the pickup shaded. Accelerations are the car's: in a left "
        "turn it is pushed left, and the oil runs right.",
    ),
    Figure(
        "moments",
        "A few moments",
        "The pan from behind, the right and above, near walls left out. The ring is the pickup's "
        "mouth, red and filled while it takes air.",
    ),
)


def drive_content(result: DriveResult, *, made: datetime) -> Content:
    """The words of a drive's page."""
    state, verdict = drive_verdict(result)
    found = (
        chance_table(result.chances),
        compartment_table(result),
        door_table(result),
        error_table(result.error, result.units),
    )
    oil = shown(result.temperature_k, "temperature", result.units)
    return Content(
        kind="Oil in motion: a drive",
        job=plain(result.job),
        revision=plain(result.revision),
        pan=plain(f"{result.manoeuvre}, oil at {oil}{DOORS_ARE[result.doors_are]}"),
        state=state,
        verdict=verdict,
        summary=_summary(result),
        note="",
        failures=failures(result),
        open=open_lines(result),
        key_figures=_key_figures(result),
        figures=_FIGURES,
        ledger=ledger_rows(result),
        tables=tuple(t for t in found if t is not None),
        assumptions=tuple(map(told, result.assumptions)),
        findings=finding_lines(result),
        cautions=motion_cautions(),
        provenance=provenance(result, made),
        foot=foot(result),
    )


def drive_verdict(result: DriveResult) -> tuple[str, str]:
    """State of its requirements, and what became of the pickup, in a few words."""
    states = {r.state for r in result.requirements}
    first = result.summary.first_air_s
    if result.pickup.compartment is None:
        words = "No pickup to judge"
    elif first is None:
        words = "The pickup never takes air"
    else:
        words = f"The pickup takes air after {first:.2f} s"
    if "not met" in states:
        return "not met", words if first is not None else f"{words}, but a requirement is not met"
    return ("met", words) if "met" in states else ("not judged", words)


def _summary(result: DriveResult) -> str:
    s, kind = result.summary, result.kind.replace("-", " ")
    said = f"A {kind} of {s.duration_s:.1f} s with up to {s.largest_g:.2f} g."
    if s.first_air_s is None:
        return plain(said)
    air = shown(s.air_drawn_m3, "volume", result.units)
    return plain(
        f"{said} Air at the pickup for {s.aerated_s:.2f} s in all, {s.longest_dry_s:.2f} s on end "
        f"at the longest; it draws {air} of air."
    )


def _key_figures(result: DriveResult) -> tuple[tuple[str, str, str], ...]:
    s, units = result.summary, result.units
    first = "never" if s.first_air_s is None else f"{s.first_air_s:.2f} s"
    rows = [("First air at the pickup", first, f"in {s.duration_s:.1f} s")]
    rows.append(("Longest with air", f"{s.longest_dry_s:.2f} s", f"{s.aerated_s:.2f} s in all"))
    if s.least_cover_m is not None:
        cover, at = shown(s.least_cover_m, "length", units), s.least_cover_s
        when = "" if at is None else f"after {at:.2f} s, draw-down taken off"
        rows.append(("Least oil over the pickup", cover, when))
    if s.least_inlet_pa is not None:
        inlet, needed = inlet_text(s.least_inlet_pa, units), inlet_limit(result)
        needs = "" if needed is None else f", needs {shown(needed, 'inlet_pressure', units)}"
        when = "" if s.least_inlet_s is None else f"after {s.least_inlet_s:.2f} s"
        rows.append(("Least at the pump's inlet, absolute", inlet, f"{when}{needs}"))
    if s.least_pressure_pa is not None:
        pressure = shown(s.least_pressure_pa, "pressure", units)
        rows.append(("Least gallery pressure", pressure, "air counted as lost"))
    up = shown(s.most_retained_m3, "volume", units)
    rows.append(("Most oil up in the engine", up, ""))
    return tuple(rows)
