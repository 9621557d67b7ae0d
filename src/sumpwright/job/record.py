# SPDX-License-Identifier: Apache-2.0
"""The schema of a record: what was seen on a bench, on a test day or in a teardown.

Quantities are text with a unit in the file, SI floats once loaded. A record belongs to the part it
was seen on: `revision` and `part_hash` say which.
"""

from datetime import datetime
from typing import Annotated, Any, Literal

from pydantic import BeforeValidator, Field

from sumpwright.job.number import number
from sumpwright.job.section import Place, Section, Temperature, Volume
from sumpwright.units import quantity

Kind = Literal[
    "fill-test",
    "tilt-test",
    "door-test",
    "leak-test",
    "session",
    "teardown",
    "fit",
    "log",
    "decision",
]
Turn = Literal["left", "right", "brake"]
Depth = Annotated[float, quantity("m", "0 mm", "2 m")]
Offset = Annotated[float, quantity("m", "0 mm", "500 mm")]
LateralG = Annotated[float, quantity("m/s^2", "0 g", "5 g")]
Count = Annotated[int, number(0, 100_000, whole=True)]
Hash = Annotated[str, Field(pattern=r"^[0-9a-f]{64}$")]
Words = Annotated[str, Field(max_length=2000)]
Name = Annotated[str, Field(min_length=1, max_length=200)]


def _yes_or_no(value: Any) -> Any:
    return {"yes": True, "no": False, "true": True, "false": False}.get(str(value).lower(), value)


YesNo = Annotated[bool, BeforeValidator(_yes_or_no)]


class Record(Section):
    """What every record says."""

    kind: Kind = Field(description="What was done.")
    revision: str = Field(
        pattern=r"^[A-Za-z0-9][A-Za-z0-9._-]{0,39}$", description="Revision it was done on."
    )
    part_hash: Hash = Field(description="Fingerprint of the part it was done on.")
    input_hash: Hash = Field(description="Fingerprint of the job's inputs.")
    made: datetime = Field(description="When it was filed.")
    by: Name = Field(description="Who did it.")
    note: Words = Field("", description="Anything worth saying.")


class FillRow(Section):
    """One pour."""

    poured: Volume = Field(description="All that has been poured so far.")
    height: Depth = Field(description="Liquid over the lowest point of the inside.")


class FillTest(Record):
    """Litres poured against the height read, pan at its installed angle, level car."""

    kind: Literal["fill-test"]
    liquid: Words = Field("", description="What was poured.")
    temperature: Temperature | None = Field(None, description="Of the liquid.")
    rows: tuple[FillRow, ...] = Field(min_length=1, description="One for each pour, rising.")


class TiltRow(Section):
    """One tilt of the table."""

    turn: Literal["left", "right", "brake", "accelerate"] = Field(description="What it stands for.")
    g: LateralG = Field(description="What the table's angle stands for: its tangent.")
    off: Offset = Field(description="Farthest the liquid line lies from where it should.")
    covered: YesNo = Field(description="The pickup's whole rim was under the liquid.")


class TiltTest(Record):
    """The pan on a table tilted to atan(g): no flow and a lower head, so only the liquid line."""

    kind: Literal["tilt-test"]
    filled: Volume = Field(description="What was in the pan.")
    rows: tuple[TiltRow, ...] = Field(min_length=1, description="One for each tilt.")


class DoorRow(Section):
    """One trap door."""

    baffle: Name = Field(description="Which baffle it hangs on, by its name in the job.")
    door: Name = Field(description="Which opening it covers, by its name in the job.")
    swings: YesNo = Field(description="It opens and falls shut by itself, without a catch.")
    stops: YesNo = Field(description="It shuts against oil from the wrong side.")
    note: Words = Field("", description="What was seen.")


class DoorTest(Record):
    """Every trap door, swung by hand with the pan at its installed angle."""

    kind: Literal["door-test"]
    doors: tuple[DoorRow, ...] = Field(min_length=1, description="One for each door.")


class Leak(Section):
    """One place where oil came out."""

    place: Name = Field(description="Which joint, plug or weld.")
    much: Literal["damp", "drips", "runs"] = Field(description="How much.")
    note: Words = Field("", description="What was seen.")


class LeakTest(Record):
    """The pan filled and left to stand, on the bench."""

    kind: Literal["leak-test"]
    how: Words = Field("", description="Liquid and method.")
    stood: Annotated[float, quantity("s", "1 min", "240 h")] = Field(description="How long.")
    leaks: tuple[Leak, ...] = Field((), description="Every place; leave out where there is none.")


class Session(Record):
    """A stage driven: level before and after, leaks, signs of trouble."""

    kind: Literal["session"]
    stage: Name = Field(description="Which stage of the programme.")
    level_before: Volume = Field(description="Oil by the dipstick, before.")
    level_after: Volume = Field(description="Oil by the dipstick, after, drained back.")
    leaks: tuple[Leak, ...] = Field((), description="Every place; leave out where there is none.")
    trouble: tuple[Name, ...] = Field(
        (), description="Noise, smoke, lamp, smell, abort: each a line; leave out if none."
    )


class Weld(Section):
    """One weld that was looked at."""

    name: Name = Field(description="Which.")
    sound: YesNo = Field(description="No crack, no pinhole, no wet edge.")
    note: Words = Field("", description="What was seen.")


class Photo(Section):
    """A picture in the job folder, and the fingerprint it had when it was filed."""

    file: Name = Field(description="Path from the job folder.")
    sha256: Hash = Field(description="Filled in when the record is filed.")


class Teardown(Record):
    """The pan off the engine and looked over."""

    kind: Literal["teardown"]
    level_in: Volume = Field(description="Oil that went in.")
    level_out: Volume = Field(description="Oil that came out.")
    oil: Literal["good", "dark", "foamed", "milky", "burnt"] = Field(description="Its condition.")
    debris: Literal["none", "fluff", "flakes", "chips"] = Field(description="What lay in the pan.")
    screen: Literal["clean", "partly blocked", "blocked", "damaged"] = Field(
        description="The pickup's screen."
    )
    leaks: tuple[Leak, ...] = Field((), description="By joint; leave out where there is none.")
    doors: tuple[DoorRow, ...] = Field((), description="One for each door.")
    welds: tuple[Weld, ...] = Field(min_length=1, description="One for each weld looked at.")
    photos: tuple[Photo, ...] = Field((), description="Pictures in the job folder.")


class FitFinding(Section):
    """What was found at one place of a prototype held up to the car."""

    place: Name = Field(description="Where: rear left corner, by the starter.")
    found: Literal["touches", "short", "free"] = Field(
        description="It touches, something is lacking, or it is clear."
    )
    by: Offset | None = Field(
        None, description="How much is lacking, or free; of `touches` how deep it would go in."
    )
    at: Place | None = Field(None, description="The point, [x, y, z], engine frame.")
    note: Words = Field("", description="Against what, and what was seen.")


class FitTest(Record):
    """A printed part or a mock-up held up to the engine and the car, and what that changed."""

    kind: Literal["fit"]
    prototype: Name = Field(description="Which print or mock-up: print 2, flange only.")
    findings: tuple[FitFinding, ...] = Field(min_length=1, description="One for each place.")
    change: Words = Field(
        "", description="What it changed in the job: right kick-out 12 mm narrower."
    )
    photos: tuple[Photo, ...] = Field((), description="Pictures in the job folder.")


class LogFile(Section):
    """A log and its fingerprint."""

    file: Name = Field(description="Its name.")
    sha256: Hash = Field(description="Of its bytes.")


class LogSide(Section):
    """One way round, as the log has it."""

    turn: Turn = Field(description="Which way.")
    held: LateralG | None = Field(
        None, description="Largest steady acceleration without a dip in pressure."
    )
    held_for: Annotated[float, quantity("s", "0 s", "1 h")] | None = Field(
        None, description="How long that was, on end."
    )
    dips: Count = Field(0, description="Dips in pressure.")
    least_dip: LateralG | None = Field(None, description="Smallest acceleration with a dip.")
    time: Annotated[float, quantity("s", "0 s", "1000 h")] | None = Field(
        None, description="Time judged."
    )


class LogRecord(Record):
    """What reading one or more logs answered."""

    kind: Literal["log"]
    files: tuple[LogFile, ...] = Field(min_length=1, description="The logs read together.")
    sides: tuple[LogSide, ...] = Field((), description="Left, right and braking.")
    verdict: Words = Field(description="The answer in a sentence.")


class Decision(Record):
    """What somebody decided, and which records no longer count because of it."""

    kind: Literal["decision"]
    text: Annotated[str, Field(min_length=1, max_length=4000)] = Field(
        description="What was decided, and why."
    )
    set_aside: tuple[Name, ...] = Field(
        (), description="File names of records that do not count any more."
    )


KINDS: dict[str, type[Record]] = {
    "fill-test": FillTest,
    "tilt-test": TiltTest,
    "door-test": DoorTest,
    "leak-test": LeakTest,
    "session": Session,
    "teardown": Teardown,
    "fit": FitTest,
    "log": LogRecord,
    "decision": Decision,
}
STAMPED = ("revision", "part_hash", "input_hash", "made")
"""Filled in when a record is filed."""
