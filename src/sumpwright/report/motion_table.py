# SPDX-License-Identifier: Apache-2.0
"""Tables of oil in motion: compartments, doors, chances, and how far the numbers hold."""

from collections.abc import Sequence

from sumpwright.report.table import Table, volume_text
from sumpwright.report.text import plain
from sumpwright.studies.motion_result import (
    Chance,
    DoorCourse,
    DriveResult,
    ErrorReport,
)
from sumpwright.units import shown


def compartment_table(result: DriveResult) -> Table:
    """Each compartment's oil: at the start, the least, the most, at the end."""
    units = result.units
    rows = []
    for part in result.compartments:
        home = "pickup" if part.name == result.pickup.compartment else ""
        where = ", ".join(w for w in (part.where, home) if w)
        name = f"{part.name} ({where})" if where else part.name
        v = part.volume_m3
        cells = (part.capacity_m3, v[0], min(v), max(v), v[-1])
        rows.append((plain(name), *(volume_text(c, units) for c in cells)))
    head = ("compartment", "holds", "start", "least", "most", "end")
    most = shown(result.summary.most_retained_m3, "volume", units)
    note = f"Up in the engine at the most: {most}."
    return Table("compartments", "Oil in the compartments", head, tuple(rows), note)


def door_table(result: DriveResult) -> Table | None:
    """How far and how long each door stood open."""
    if not result.doors:
        return None
    rows = tuple(
        (plain(d.name), f"{max(d.angle_deg):.0f}°", f"{d.stop_deg:.0f}°", _open_share(d, result))
        for d in result.doors
    )
    head = ("door", "most open", "stop", "open for")
    note = "Open: by more than half a degree."
    return Table("doors", "Doors", head, rows, note)


def _open_share(door: DoorCourse, result: DriveResult) -> str:
    """Share of the time, each value standing until the next."""
    t, a = result.time_s, door.angle_deg
    pairs = zip(t, t[1:], a[:-1], strict=False)
    open_for = sum(after - before for before, after, angle in pairs if angle > 0.5)
    return f"{100.0 * open_for / max(t[-1] - t[0], 1e-12):.0f} % of the time"


def chance_table(found: Sequence[Chance]) -> Table | None:
    """How often each requirement fails when what is uncertain is drawn at random."""
    if not found:
        return None
    rows = tuple(
        (
            plain(c.requirement),
            f"{100.0 * c.fails:.0f} %",
            f"{100.0 * c.low:.0f} to {100.0 * c.high:.0f} %",
            f"{c.samples}",
        )
        for c in found
    )
    head = ("requirement", "fails in", "95 % interval", "samples")
    drawn = dict.fromkeys(words for c in found for words in c.drawn)
    seeds = dict.fromkeys(str(c.seed) for c in found)
    note = (
        f"Drawn at random: {'; '.join(drawn)}. Seed {', '.join(seeds)}. The interval is that of a "
        "share from so many samples; it says nothing of what was not drawn."
    )
    return Table("chances", "Chances that a requirement fails", head, rows, plain(note))


def error_table(error: ErrorReport, units: str) -> Table:
    """What the arithmetic can have done to the numbers."""

    def small(value: float) -> str:
        return shown(value, "length", units, digits=4 if units == "us" else 3)

    rows = (
        ("Oil lost or won over the run, of the fill", f"{1e6 * error.mass:.2g} in a million"),
        ("Allowed error of a surface in one step", small(error.tolerance_m)),
        ("Largest estimated error of an accepted step", small(error.worst_step_m)),
        ("Tabulated levels off the exact ones, as sampled", small(error.level_table_m)),
        ("Steps taken, and taken again", f"{error.steps} and {error.rejected}"),
    )
    note = (
        "This is the error of the arithmetic. That of the model, planes instead of waves, is "
        "larger and is not in it: see the assumptions, and test."
    )
    return Table("errors", "How far the arithmetic holds", ("what", "how much"), rows, note)
