# SPDX-License-Identifier: Apache-2.0
"""The sheets for the bench: fill, tilt, trap doors, leaks; each names the record it becomes."""

from sumpwright.report.plan_sheet import DASH, Grid, Part, Sheet
from sumpwright.report.table import length_text
from sumpwright.studies.plan_result import PlanResult, TiltStep
from sumpwright.units import shown

WAY = {"left": "left turn", "right": "right turn", "brake": "braking", "accelerate": "accelerating"}
KICKER = "Bench, before the engine runs"
SAME = "Pickup, tube, baffles and everything else that takes up room must be in the pan."


def bench_sheets(result: PlanResult) -> tuple[Sheet, ...]:
    """One for each check; no door sheet where there are no doors."""
    doors = (_doors(result),) if result.bench.doors else ()
    return (_fill(result), _tilt(result), *doors, _leak(result))


def _fill(result: PlanResult) -> Sheet:
    test, units = result.bench.fill, result.units
    head = (
        *("Poured", "Mark", "Below the rail, rail level", "Read", "Depth, as installed", "Read"),
        *("Along the dipstick", "Read"),
    )
    rows = tuple(
        (
            shown(s.volume_m3, "volume", units),
            s.mark or DASH,
            length_text(s.below_rail_m, units),
            "",
            length_text(s.depth_m, units),
            "",
            length_text(s.along_dipstick_m, units),
            DASH if s.along_dipstick_m is None else "",
        )
        for s in test.steps
    )
    holds, service = (shown(v, "volume", units) for v in (test.holds_m3, test.service_fill_m3))
    how = (
        f"Weigh or measure what you pour, cold; wait until it stands still. {SAME}",
        "Rail level: a straightedge over the rail and a depth gauge down to the oil. As installed: "
        f"{_attitude(test.pitch_deg, test.roll_deg)}; depth over the lowest point.",
        f"To the rail the pan holds {holds}. With the oil that never stands in the pan the service "
        f"fill is {service}.",
        "Use the dipstick in its own tube with the pan at its installed angle. Only then make the "
        "marks for good.",
    )
    gate = (
        "Heights agree with the curve within what you can read.",
        *_limit(test.limit_m3, "litres and curve differ by", "volume", units),
        *(("Both marks confirmed.",) if test.low_m3 is not None else ("Full mark confirmed.",)),
    )
    parts = (
        Part("Do", how),
        Part("Litres against height", grid=Grid(head, rows)),
        Part("Passed if", gate, ticks=True),
    )
    return Sheet("fill-test", KICKER, "Fill test (record: fill-test)", parts)


def _limit(limit: float | None, what: str, kind: str, units: str) -> tuple[str, ...]:
    """What `release` holds the record to; nothing where it does not ask."""
    if limit is None:
        return ()
    size = shown(limit, kind, units, digits=3) if kind == "volume" else length_text(limit, units)
    return (f"To be released, {what} {size} at most.",)


def _attitude(pitch: float, roll: float) -> str:
    nose = f"nose {'down' if pitch > 0.0 else 'up'} {abs(pitch):.1f}°" if pitch else ""
    side = f"{'right' if roll > 0.0 else 'left'} side down {abs(roll):.1f}°" if roll else ""
    return " and ".join(t for t in (nose, side) if t) or "rail level"


def _tilt(result: PlanResult) -> Sheet:
    test, units = result.bench.tilt, result.units
    head = ("Stands for", "g", "Tilt", "Down", "Line highest", "Read", "Line lowest", "Read")
    rows = tuple(_tilt_row(s, units) for s in test.steps)
    volume, within = (shown(v, "volume", units) for v in (test.volume_m3, test.within_m3))
    top = "A clear plate clamped on the rail closes the pan."
    if test.frame_m > 0.0:
        high = length_text(test.frame_m, units)
        top = f"The lines are for walls that go up from the rail by {high}, as the crankcase does: "
        top += "use the block, or a clear frame of that shape, closed on top."
    how = (
        f"Pour {volume}, to {within}: {test.what}. {SAME}",
        f"{top} Catch what spills.",
        "Tilt from the installed attitude, with a digital level, by the angle given: atan(g). "
        "Mark where the liquid meets the wall. Heights are from the rail: + above it, − below.",
    )
    note = "x ahead of the block's rear face, y to the left. +: above the rail."
    parts = (
        Part("Do", how),
        Part("Liquid line", grid=Grid(head, rows, note)),
        Part("What the bench cannot show", test.cannot_show),
        Part(
            "Passed if",
            (
                "Lines agree with the table within what you can read.",
                *_limit(test.limit_m, "the line lies off by", "length", units),
                "The pickup's rim stays under the line wherever the check says so.",
            ),
            ticks=True,
        ),
    )
    return Sheet(
        "tilt-test",
        KICKER,
        "Tilt test (record: tilt-test)",
        parts,
        warning="Clamp the pan and the rig: oil and metal that slide hurt people.",
    )


def _tilt_row(step: TiltStep, units: str) -> tuple[str, ...]:
    def spot(point: tuple[float, float, float]) -> str:
        x, y, z = (shown(c, "length", units, digits=None if units == "us" else 0) for c in point)
        sign = "+" if point[2] > 0.0 and not z.startswith(("0 ", "0.00 ")) else ""
        return f"{sign}{z}, x {_bare(x)}, y {_bare(y)}"

    return (
        WAY[step.way],
        f"{step.accel_g:.2f}",
        f"{step.angle_deg:.1f}°",
        step.down_side,
        spot(step.highest),
        "",
        spot(step.lowest),
        "",
    )


def _bare(text: str) -> str:
    return text.split(" ")[0]


def _doors(result: PlanResult) -> Sheet:
    units = result.units
    head = (
        "Door", "In", "Hinge", "Opens toward", "Stop", "Gap round it", "Stop read", "Falls shut",
        "Free",
    )  # fmt: skip
    rows = tuple(
        (
            d.name,
            d.baffle,
            d.hinge,
            d.swings,
            f"{d.stop_deg:.0f}°",
            length_text(d.edge_gap_m, units),
            "",
            "",
            "",
        )
        for d in result.bench.doors
    )
    how = (
        "Swing each door by hand to its stop and let go, pan as installed, dry and then wetted "
        "with oil.",
        "It opens one way only, toward the side named; it must not pass the stop, catch on an "
        "edge or a weld, touch the pickup, or stay open.",
        "Look through the gap round the shut door; a pin or a hinge that can come loose is stopped "
        "from falling into the pickup.",
    )
    gate = (
        "Every door swings freely, stops where it should and falls shut.",
        "Every pin and screw is locked.",
    )
    parts = (Part("Do", how), Part("Doors", grid=Grid(head, rows)), Part("Passed if", gate, True))
    return Sheet(
        "door-test",
        KICKER,
        "Trap doors (record: door-test)",
        parts,
        warning="Keep fingers out of sprung doors; edges of cut sheet are sharp.",
    )


def _leak(result: PlanResult) -> Sheet:
    head = ("Joint or seam", "Limit (yours)", "How long", "Found", "OK")
    names = (
        "Rail and gasket",
        "Drain plug",
        "Welds, front half",
        "Welds, rear half",
        "Pickup joint",
        "Dipstick tube",
        "Other",
    )
    rows = tuple((n, "", "", "", "") for n in names)
    parts = (
        Part("Do", result.bench.leak),
        Part("Leaks", grid=Grid(head, rows)),
        Part("Passed if", ("Within your own limit everywhere.",), ticks=True),
    )
    return Sheet(
        "leak-test",
        KICKER,
        "Leak test (record: leak-test)",
        parts,
        warning="Oil on the floor makes people fall; solvent vapour burns.",
    )
