# SPDX-License-Identifier: Apache-2.0
"""What a feed should not be read without: what was taken for granted, and what stands out."""

import math
from collections.abc import Iterator
from dataclasses import replace

from sumpwright.oil.grade import grade_limits
from sumpwright.oil.viscosity import kinematic_viscosity
from sumpwright.studies.feed_range import thick_at
from sumpwright.studies.feed_result import Feed, FeedPoint
from sumpwright.studies.feed_state import FeedLine, FeedState
from sumpwright.studies.suction_line import spares_pickup
from sumpwright.units import shown

FAST = 3.0
"""m/s; engine pickups run at 2 to 3, hydraulics practice is 0.5 to 1.5. Common practice."""


def assumptions_of(line: FeedLine) -> tuple[str, ...]:
    """Every sentence that applies to this line."""
    return tuple(_assumed(line))


def cautions_of(line: FeedLine, feed: Feed) -> tuple[str, ...]:
    """What stands out in the answer."""
    return tuple(_stands_out(line, feed))


def _assumed(line: FeedLine) -> Iterator[str]:
    yield (
        "The pump's inlet is computed for steady oil without air, car on level ground, filled to "
        "the full mark; the surface is that of the oil left in the pan at each speed and "
        "temperature. Dirt on the screen, the way between the mouth and the floor, and the "
        "column's own weight in a turn are not in it."
    )
    yield from _of_air(line)
    yield _of_flow(line)
    yield (
        "80 kPa for good and 70 kPa for a short time are common figures for gear pumps, from "
        "memory; the pump's maker goes first. What limits is air coming out of the oil."
    )
    yield (
        "Below 0 °C a multigrade is commonly thinner than its viscosity line says, by up to 39 % "
        "on one handbook oil, so the losses there are on the careful side; an oil near its "
        "pumping limit may gel, which no line shows."
    )
    if any(tube.bends for tube in line.suction.tubes):
        yield (
            "What a bend takes of cold, creeping oil is known no better than to a factor of two; "
            "here it is on the careful side ([Rennels-2012])."
        )
    if line.suction.screen is not None:
        yield "The screen is clean; measured losses of screens scatter by 30 % ([Azizi-2019])."
    if line.gap is not None:
        yield (
            "What thick oil needs to run to the mouth is for a floor level with the one under the "
            "mouth ([Huppert-1982]); shelves and narrow ways ask for more."
        )


def _of_air(line: FeedLine) -> Iterator[str]:
    job = line.job
    pressure = shown(line.ambient, "inlet_pressure", job.units)
    if job.air is None:
        yield f"No `air` is given: {pressure} on the oil, the standard atmosphere at the sea."
    elif job.air.pressure is None:
        yield (
            f"The air on the oil is the standard atmosphere's, {pressure}; weather moves it by "
            "some 3 % either way ([ISO-2533])."
        )


def _of_flow(line: FeedLine) -> str:
    pump = line.job.engine.pump
    if spares_pickup(line.job):
        return (
            "The relief valve spills back to the pump's inlet, so the pickup carries what goes to "
            "the engine; at every temperature it is taken to carry what it does hot. Cold, the "
            "valve opens sooner, but not while the galleries fill after a start."
        )
    if pump is None or pump.displacement is None:
        return "The pickup's flow is taken from `engine.flow` at every temperature."
    return "The pickup carries all that the pump moves: the relief valve spills into the pan."


def _stands_out(line: FeedLine, feed: Feed) -> Iterator[str]:
    yield from _of_range(line, feed)
    yield from _of_short(line, feed)
    yield from _of_cold_start(line, feed)
    yield from _of_relief(line, feed)
    for point in (feed.hot, *(() if feed.cold is None else (feed.cold,))):
        yield from _of_point(line, point)


def _of_range(line: FeedLine, feed: Feed) -> Iterator[str]:
    job, units = line.job, line.job.units
    coldest = feed.temperature_k[0]
    if coldest <= thick_at(line.oil) * (1.0 + 1e-9):
        yield (
            f"Below {shown(coldest, 'temperature', units)} the oil is thicker than 20000 mm²/s: "
            "it does not run to a pickup, and nothing is said there."
        )
    if job.oil.grade is None:
        return
    limit = grade_limits(job.oil.grade).pumping_temperature
    if limit is not None and coldest < limit:
        yield (
            f"{job.oil.grade} is only made to be pumped down to "
            f"{shown(limit, 'temperature', units)} ([SAE-J300])."
        )


def _of_short(line: FeedLine, feed: Feed) -> Iterator[str]:
    """The temperature below which the pump lacks pressure even at the lowest speed."""
    units, short = line.job.units, feed.short
    limit, idle = shown(short.needed_pa, "inlet_pressure", units), f"{feed.rpm[0]:.0f} rpm"
    then = "the pump then draws less than it could, and air comes out of the oil."
    if short.coldest_k is None:
        yield f"The inlet has less than {limit} at {idle} even hot: {then}"
    elif short.coldest_k > feed.temperature_k[0]:
        coldest = shown(short.coldest_k, "temperature", units)
        yield f"Below {coldest} the inlet has less than {limit} even at {idle}: {then}"


def _of_cold_start(line: FeedLine, feed: Feed) -> Iterator[str]:
    """Where cold oil cannot run to the mouth as fast as the pump draws it, at the lowest speed."""
    if feed.cover_m is None:
        return
    dry = [t for t, row in zip(feed.temperature_k, feed.cover_m, strict=True) if row[0] < 0.0]
    if dry:
        t = max(dry)
        nu = float(kinematic_viscosity(line.oil, t))
        yield (
            f"At {shown(t, 'temperature', line.job.units)} "
            f"({shown(nu, 'viscosity', line.job.units)}) the oil does not run to the mouth as fast "
            f"as the pump draws it, even at {feed.rpm[0]:.0f} rpm: it draws air."
        )


def _of_relief(line: FeedLine, feed: Feed) -> Iterator[str]:
    """What the cold inlet may have once the relief valve spares the pickup."""
    if feed.cold is None or not spares_pickup(line.job):
        return
    units = line.job.units
    speed, t = feed.cold.rpm * math.pi / 30.0, feed.cold.temperature_k
    state = replace(line, relief_at=t).at(speed, t)
    if float(state.flow) < feed.cold.flow_m3_s * (1.0 - 1e-9):
        yield (
            f"At {shown(t, 'temperature', units)} and {feed.cold.rpm:.0f} rpm, once the galleries "
            f"are full, the open relief valve may leave the pickup {_flow(state, units)} and "
            f"the inlet {shown(float(state.budget.inlet), 'inlet_pressure', units)}, by the one "
            "reading of the oil pressure. Bearings warm their oil: a cold engine takes more."
        )


def _flow(state: FeedState, units: str) -> str:
    return shown(float(state.flow), "flow", units)


def _of_point(line: FeedLine, point: FeedPoint) -> Iterator[str]:
    units = line.job.units
    where = f"At {shown(point.temperature_k, 'temperature', units)} and {point.rpm:.0f} rpm"
    if point.speed_m_s > FAST:
        yield (
            f"{where} the oil runs at {shown(point.speed_m_s, 'oil_speed', units)} in the "
            "narrowest tube: engine pickups run at 2 to 3 m/s, hydraulics practice is 0.5 to "
            "1.5 m/s (common practice, no source)."
        )
    if point.regime == "between":
        yield (
            f"{where} the flow is between laminar and turbulent (Re {point.reynolds:.0f}), where "
            "nobody knows the friction; it is interpolated."
        )
    if point.cover_m is None or point.drawdown_m is None:
        return
    film = point.film_m or 0.0
    if point.cover_m < point.drawdown_m + film:
        more = f", {shown(film, 'length', units)} of it so that it runs there" if film else ""
        yield (
            f"{where} the oil stands {shown(point.cover_m, 'length', units)} over the rim and "
            f"needs {shown(point.drawdown_m + film, 'length', units)}{more}: the pickup draws air."
        )


def said_of(feed: Feed | None) -> tuple[str, ...]:
    """The sentences of a feed and of the stock pan's beside it, each once."""
    if feed is None:
        return ()
    both = (*feed.assumptions, *(() if feed.stock is None else feed.stock.assumptions))
    return tuple(dict.fromkeys(both))
