# SPDX-License-Identifier: Apache-2.0
"""What the pictures of oil in motion show, in words, for who hears the page."""

from sumpwright.report.feed_choice import inlet_text
from sumpwright.report.text import plain
from sumpwright.studies.motion_result import DriveResult
from sumpwright.units import shown


def time_alt(result: DriveResult) -> str:
    """The charts over time."""
    s, units = result.summary, result.units
    said = [f"{result.manoeuvre} over {s.duration_s:.1f} s, up to {s.largest_g:.2f} g"]
    if s.first_air_s is None:
        said.append("the pickup never takes air")
    else:
        said.append(
            f"air at the pickup first at {s.first_air_s:.2f} s, longest on end "
            f"{s.longest_dry_s:.2f} s"
        )
    if s.least_cover_m is not None:
        said.append(f"least oil over the rim {shown(s.least_cover_m, 'length', units)}")
    if s.least_inlet_pa is not None:
        said.append(f"least pump inlet pressure {inlet_text(s.least_inlet_pa, units)}")
    return plain(", ".join(said) + ".")


def strip_alt(result: DriveResult) -> str:
    """The strips of the compartments."""
    said = []
    for part in result.compartments:
        low, most = (
            shown(v, "volume", result.units) for v in (min(part.volume_m3), max(part.volume_m3))
        )
        where = f" ({part.where})" if part.where else ""
        said.append(f"{part.name}{where} {low} to {most}")
    return plain("Oil in each compartment over time: " + "; ".join(said) + ".")
