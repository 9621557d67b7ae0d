# SPDX-License-Identifier: Apache-2.0
"""Several logs of one session, one after another on one clock."""

from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from sumpwright.errors import Finding
from sumpwright.logs.log import Channel, Log, Role

APART = 30.0
"""s between logs: longer than any gap that is bridged."""


def joined(logs: Sequence[Log]) -> Log:
    """The logs as one; a channel that one of them lacks has a gap there.

    Parameters
    ----------
    logs : sequence of Log [SI]
        At least one, in the order of the day.

    Returns
    -------
    log : Log [SI]
    """
    if len(logs) == 1:
        return logs[0]
    starts, now = [], 0.0
    for log in logs:
        starts.append(now)
        ends = [float(c.time[-1]) for c in log.channels.values() if len(c.time)]
        now += max(ends, default=0.0) + APART
    roles: list[Role] = list(dict.fromkeys(r for log in logs for r in log.channels))  # type: ignore[misc]
    channels: dict[str, Channel] = {role: _end_to_end(logs, starts, role) for role in roles}
    said = [
        Finding("LOG-229", log.name, f"read on from {start:.0f} s", "", "note")
        for log, start in zip(logs, starts, strict=True)
    ]
    findings = (*(f for log in logs for f in log.findings), *said)
    unused = tuple(dict.fromkeys(name for log in logs for name in log.unused))
    names = ", ".join(log.name for log in logs)
    typed = all(log.typed for log in logs)
    return Log(names, channels, unused, logs[0].dialect, findings, typed)


def _end_to_end(logs: Sequence[Log], starts: Sequence[float], role: Role) -> Channel:
    pieces = [(log[role], start) for log, start in zip(logs, starts, strict=True) if role in log]
    time = np.concatenate([c.time + start for c, start in pieces])
    return replace(pieces[0][0], time=time, value=np.concatenate([c.value for c, _ in pieces]))
