# SPDX-License-Identifier: Apache-2.0
"""A log's rows as the bytes that the page draws from; runs in a worker.

Rows go over as numbers in their bytes, not as text: an hour at 100 Hz is 360 000 of them. The bytes
are `SPL1`, the length of a header (uint32, little end first), the header as JSON up to a multiple
of 8, then the buffers: times float64 [s], values float32 [SI]. A buffer's place counts from the
end of the header. Channels on one clock share their times.
"""

import json
import struct
from dataclasses import asdict
from typing import Any

import numpy as np
from numpy.typing import NDArray

from sumpwright.logs.grid import gap_of
from sumpwright.logs.log import ROLES, Channel, Log

Floats = NDArray[np.float64]
MAGIC = b"SPL1"


def packed(log: Log) -> bytes:
    """The log as the bytes described above; where it has a gap, one value that is no number."""
    body, clocks, rows = _Body(), list[tuple[Floats, int]](), []
    for channel in log.channels.values():
        time, value = _with_gaps(channel)
        known = next((at for other, at in clocks if np.array_equal(other, time)), None)
        if known is None:
            known = body.put(time.astype("<f8").tobytes())
            clocks.append((time, known))
        at = body.put(value.astype("<f4").tobytes())
        rows.append({**_said(channel), "count": len(time), "time_at": known, "at": at})
    return _head(log, rows) + b"".join(body.pieces)


class _Body:
    """Buffers one after another, each in step with 8 bytes."""

    def __init__(self) -> None:
        self.pieces: list[bytes] = []
        self._size = 0

    def put(self, data: bytes) -> int:
        """Where `data` begins."""
        at, filled = self._size, data + b"\0" * (-len(data) % 8)
        self.pieces.append(filled)
        self._size += len(filled)
        return at


def _head(log: Log, rows: list[dict[str, Any]]) -> bytes:
    said = {
        "name": log.name,
        "layout": log.dialect,
        "typed": log.typed,
        "unused": log.unused,
        "findings": [asdict(f) for f in log.findings],
        "channels": rows,
    }
    text = json.dumps(said, ensure_ascii=False, allow_nan=False).encode()
    text += b" " * (-(len(MAGIC) + 4 + len(text)) % 8)
    return MAGIC + struct.pack("<I", len(text)) + text


def _said(channel: Channel) -> dict[str, Any]:
    si, means = ROLES[channel.role]
    role, column, unit = channel.role, channel.column, channel.unit
    return {"role": role, "means": means, "column": column, "unit": unit, "si": si}


def _with_gaps(channel: Channel) -> tuple[Floats, Floats]:
    """Times and values, with a value that is no number in the middle of every gap."""
    time, value = channel.time, channel.value
    after = np.flatnonzero(np.diff(time) > gap_of(time)) + 1
    if not len(after):
        return time, value
    middle = 0.5 * (time[after] + time[after - 1])
    return np.insert(time, after, middle), np.insert(value, after, np.nan)
