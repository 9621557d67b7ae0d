# SPDX-License-Identifier: Apache-2.0
"""How far a log without a dip proves: so much g each way, beside what the job asks to be proved."""

import math
from collections.abc import Iterator
from dataclasses import replace

from sumpwright.job.load import LoadedJob
from sumpwright.logs.judge import Judgement
from sumpwright.logs.note import Note
from sumpwright.studies.proof_log import asked_g
from sumpwright.studies.read_record import blind
from sumpwright.studies.read_result import Reach, ReadResult, ReadSummary, Standing
from sumpwright.studies.read_side import sides_of
from sumpwright.studies.read_words import LEAST
from sumpwright.studies.target import hold_time

_NAME = {"left": "left", "right": "right", "brake": "braking"}
_NOTHING = 0.1
"""g; less is noise and a car's bumps, and no job can ask a log for less; [common-practice]."""
_SAME = 1e-9
"""g; a limit goes through SI and back."""


def with_reach(
    result: ReadResult, loaded: LoadedJob | None, found: Judgement, notes: tuple[Note, ...]
) -> ReadResult:
    """The result with how far it proves; without a job nothing is asked."""
    if loaded is None:
        rows: tuple[Reach, ...] = ()
    else:
        why = blind(found.motion.typed, notes)
        rows = tuple(_reach(loaded, found, bool(why), sided=result.summary.ways == "told"))
    summary = result.summary
    stands = _standing(summary, rows)
    clean = stands in ("met", "not proven")
    said = _headline(rows) if rows and clean else summary.verdict
    return replace(result, reach=rows, summary=replace(summary, standing=stands, headline=said))


def _reach(loaded: LoadedJob, found: Judgement, blind: bool, *, sided: bool) -> Iterator[Reach]:
    """As a record of this log would be held against the job's requirements."""
    hold = hold_time(loaded.job)
    for row in sides_of(found, hold=hold, blind=blind, sided=sided):
        asked = asked_g(loaded.job, row["turn"])
        held = float(row["held"].removesuffix(" g")) if "held" in row else None
        if asked > 0.0:
            good = not row["dips"] and held is not None and held >= asked - _SAME
            yield Reach(row["turn"], held, asked, good)
        elif held is not None:
            yield Reach(row["turn"], held, None, not row["dips"])


def _standing(summary: ReadSummary, rows: tuple[Reach, ...]) -> Standing:
    if summary.dips:
        return "not met"
    if summary.judged_s < LEAST or summary.readings is not None:
        return "not judged"
    return "met" if all(r.proven for r in rows) else "not proven"


def _headline(rows: tuple[Reach, ...]) -> str:
    """``no dip up to 0.83 g left (1.20 g asked); braking not held long enough (1.10 g asked)``."""
    some = [f"{_down(r.held_g)} {_NAME[r.turn]}{_asked(r)}" for r in rows if _driven(r)]
    none = [f"{_NAME[r.turn]}{_asked(r)}" for r in rows if not _driven(r) and r.asked_g]
    parts = [f"no dip up to {', '.join(some)}" if some else "no dip, but none that proves anything"]
    if none:
        parts.append(f"not shown: {', '.join(none)}")
    return "; ".join(parts)


def _driven(reach: Reach) -> bool:
    return reach.held_g is not None and reach.held_g >= _NOTHING


def _down(held: float | None) -> str:
    """Never more than was held: 0.898 g is no 0.90 g."""
    return f"{math.floor((held or 0.0) * 100.0 + 1e-6) / 100.0:.2f} g"


def _asked(reach: Reach) -> str:
    return "" if reach.asked_g is None else f" ({reach.asked_g:.2f} g asked)"
