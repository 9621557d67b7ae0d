# SPDX-License-Identifier: Apache-2.0
"""Joins of sheet parts as the weld list has them: which, how long, by how many tongues."""

from dataclasses import dataclass, field

from sumpwright.job.load import LoadedJob
from sumpwright.job.sheet_part import Join
from sumpwright.metal.join import Seam
from sumpwright.studies.bodies import Bodies
from sumpwright.studies.sheet_join import Joining, tongues_of
from sumpwright.studies.sheet_web import Web, webs_of


@dataclass(frozen=True)
class SheetJoint:
    """A join that the job asks for. SI."""

    guest: str
    """The sheet that ends there, or the first of two that cross"""
    host: str
    kind: str
    metal: str
    thickness: float
    """Of the thinner sheet"""
    length: float
    """Of its weld: its tongues, or the whole seam"""
    tongues: int
    width: float
    """Of a tongue; 0 where there is none"""
    welded: bool
    asked: bool
    """The job says whether it is welded"""


def sheet_joints(loaded: LoadedJob, bodies: Bodies) -> tuple[SheetJoint, ...]:
    """Every join that the job asks for, in its order."""
    if not any(baffle.joins for baffle in loaded.job.new.baffles):
        return ()
    webs, _, _ = webs_of(loaded, bodies)
    joining = _Noting(loaded, {web.panel.name: web for web in webs})
    joining.join_all()
    return tuple(joining.noted)


@dataclass
class _Noting(Joining):
    """Joins the sheets once more, and notes what was asked."""

    noted: list[SheetJoint] = field(default_factory=list)

    def _cut(self, seam: Seam, one: Web, other: Web, join: Join) -> None:
        super()._cut(seam, one, other, join)
        guest, host = (other, one) if seam.kind == "second ends" else (one, other)
        tongued = join.kind == "tab-and-slot"
        count, width = tongues_of(seam, join) if tongued else (0, 0.0)
        self.noted.append(
            SheetJoint(
                guest=guest.panel.name,
                host=host.panel.name,
                kind=join.kind,
                metal=guest.metal,
                thickness=min(one.panel.thickness, other.panel.thickness),
                length=count * width if tongued else seam.length,
                tongues=count,
                width=width,
                welded=tongued if join.weld is None else join.weld,
                asked=join.weld is not None,
            )
        )
