# SPDX-License-Identifier: Apache-2.0
"""The order in which the pan's bolts are drawn up."""

from sumpwright.job.load import LoadedJob
from sumpwright.metal.bolt_order import bolt_order
from sumpwright.studies.make_result import BoltTurn


def bolts_of(loaded: LoadedJob) -> tuple[BoltTurn, ...]:
    """Every bolt of the job's pattern with its turn; none where the job has no holes."""
    rail = loaded.job.rail
    holes = () if rail is None else rail.holes
    order = bolt_order([hole.at for hole in holes])
    return tuple(BoltTurn(n, holes[k].name, holes[k].at) for n, k in enumerate(order, 1))
