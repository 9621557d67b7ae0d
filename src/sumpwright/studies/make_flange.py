# SPDX-License-Identifier: Apache-2.0
"""The flange: how thick it is, and whether its bolts stand near enough to press it evenly."""

from sumpwright.geometry.wall import flange_thickness
from sumpwright.job.load import LoadedJob
from sumpwright.metal.flange_pitch import GASKETS, pitch_correction, pitch_most
from sumpwright.studies.bodies import Bodies
from sumpwright.studies.make_result import BoltPitch
from sumpwright.studies.rail import USUAL
from sumpwright.studies.rail_result import RailResult


def flange_of(loaded: LoadedJob, bodies: Bodies) -> float | None:
    """Thickness of the pan's flange [m]: as drawn, or as its outside has it."""
    shape = loaded.job.new.shape
    if shape is not None:
        return shape.flange.thickness
    outside = bodies.new.outside
    found = 0.0 if outside is None else flange_thickness(outside, float(outside.bounds[1, 2]))
    return found or None


def bolt_pitch(loaded: LoadedJob, bodies: Bodies, rail: RailResult | None) -> BoltPitch | None:
    """The widest pitch against what the flange's thickness allows; None where one is not known."""
    thick = flange_of(loaded, bodies)
    if rail is None or thick is None or not rail.pitches:
        return None
    widest = max(rail.pitches, key=lambda p: p.pitch_m)
    most = {name: pitch_most(rail.bolt_m, thick, m) for name, m in GASKETS.items()}
    return BoltPitch(
        bolt=rail.thread,
        flange_m=thick,
        widest_m=widest.pitch_m,
        between=(widest.first, widest.second),
        least_m=min(p.pitch_m for p in rail.pitches),
        most_m=most,
        grows=pitch_correction(widest.pitch_m, rail.bolt_m, thick),
        usual_m=USUAL.get(rail.thread),
    )
