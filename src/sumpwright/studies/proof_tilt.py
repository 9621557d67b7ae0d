# SPDX-License-Identifier: Apache-2.0
"""What a tilt test must have shown before a release: the right oil, both ways, lines in place."""

from sumpwright.geometry.frame import STANDARD_GRAVITY
from sumpwright.job.record import TiltTest
from sumpwright.job.record_load import Filed
from sumpwright.studies.proof_case import Case, Seen, Unseen
from sumpwright.studies.result import PanFill
from sumpwright.studies.rule import number
from sumpwright.studies.tilt_pour import tilt_pour
from sumpwright.units import shown

_FEWEST_TILTS = ("left", "right")
_LEAST_TILT = 0.5 * STANDARD_GRAVITY
"""[m/s^2]: less tilt moves the line too little to tell a pan from another; common practice."""


def tilted(case: Case) -> Seen | Unseen:
    """The line that lies farthest off, over all tests with what the plan asks to pour."""
    limit = number(case.loaded.job.requirements.proof_tilt)
    filed = case.of("tilt-test")
    if not filed:
        return case.unseen("tilt-test", "a tilt test", limit)
    if case.fill is None:
        return Unseen("needs a fill curve: the job's fill", limit)
    filed, amiss = _poured_right(case, case.fill, filed)
    if not filed:
        return Unseen(amiss, limit)
    rows = [
        (row.off, row.turn, row.g, f.name)
        for f in filed
        if isinstance(f.record, TiltTest)
        for row in f.record.rows
    ]
    far = {turn for _, turn, g, _ in rows if g >= _LEAST_TILT - 1e-9}
    missing = [turn for turn in _FEWEST_TILTS if turn not in far]
    if missing:
        least = shown(_LEAST_TILT, "acceleration")
        way = " and the ".join(missing)
        return Unseen(f"needs a tilt test for a turn to the {way}, {least} or more", limit)
    off, turn, g, name = max(rows)
    why = f"{turn}, {shown(g, 'acceleration')}, of {name}{_bare(filed)}"
    return Seen(off, limit, why, tuple(f.name for f in filed), at_most=True)


def _poured_right(
    case: Case, fill: PanFill, filed: tuple[Filed, ...]
) -> tuple[tuple[Filed, ...], str]:
    """Those whose lines can be held against the plan's, and what to say of the others."""
    pour, units = tilt_pour(case.loaded.job, fill), case.loaded.job.units
    good, amiss = [], []
    for f in filed:
        assert isinstance(f.record, TiltTest)
        if pour.fits(f.record.filled):
            good.append(f)
        else:
            amiss.append(f"{f.name} has {shown(f.record.filled, 'volume', units)}")
    asked, within = (shown(v, "volume", units) for v in (pour.volume, pour.within))
    told = f"needs a tilt test of {asked}, to {within}, as `plan` asks to pour; "
    return tuple(good), told + ", ".join(amiss)


def _bare(filed: tuple[Filed, ...]) -> str:
    """Tilts that took the pickup out of the liquid: whether they may is the hold's own line."""
    bare = [
        f"{row.turn} {shown(row.g, 'acceleration')}"
        for f in filed
        if isinstance(f.record, TiltTest)
        for row in f.record.rows
        if not row.covered
    ]
    return f"; pickup uncovered: {', '.join(bare)}" if bare else ""
