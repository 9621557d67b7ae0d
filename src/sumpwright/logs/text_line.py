# SPDX-License-Identifier: Apache-2.0
"""Lines of text out of a stream of bytes, never more of it in memory than a line."""

from collections.abc import Iterator
from typing import BinaryIO

from sumpwright.errors import InputError, Problem

MAX_BYTES = 2**28
"""Largest log read, 256 MiB: some hours of many channels."""
_LONGEST_LINE = 2**16
_BOM = b"\xef\xbb\xbf"
_WIDE_BOMS = (b"\xff\xfe", b"\xfe\xff")
_TEXT = "a text file: lines of numbers with a comma or a semicolon between"


def text_lines(stream: BinaryIO, name: str) -> Iterator[str]:
    """Each line of a UTF-8 stream, a byte-order mark left out, line ends kept.

    Parameters
    ----------
    stream : BinaryIO [-]
        Open at its start.
    name : str [-]
        Of the file, for messages.

    Returns
    -------
    lines : iterator of str [-]

    Raises
    ------
    InputError
        LOG-112, LOG-113 or LOG-114, where the line that is none comes up.
    """
    size = 0
    for number, line in enumerate(iter(lambda: stream.readline(_LONGEST_LINE + 1), b""), 1):
        size += len(line)
        if problem := _line_problem(line, f"{name}:{number}", size):
            raise InputError([problem])
        yield (line.removeprefix(_BOM) if number == 1 else line).decode("utf-8")


def _line_problem(line: bytes, where: str, size: int) -> Problem | None:
    utf8 = "save the file again with the encoding UTF-8"
    if line.startswith(_WIDE_BOMS) and where.endswith(":1"):
        return Problem("LOG-113", where, "UTF-16 text", "UTF-8 text", utf8)
    if b"\0" in line or len(line) > _LONGEST_LINE:
        found = "bytes that are no text" if b"\0" in line else "a line without an end"
        do = "export the log as CSV from the logger's program"
        return Problem("LOG-112", where, found, _TEXT, do)
    if size > MAX_BYTES:
        found = f"more than {MAX_BYTES / 2**20:.0f} MiB"
        do = "export the part to be driven, and only the columns that are needed"
        return Problem("LOG-114", where, found, "a smaller log", do)
    try:
        line.decode("utf-8")
    except UnicodeDecodeError as err:
        found = f"a byte that is not UTF-8 text (0x{line[err.start]:02x})"
        return Problem("LOG-113", where, found, "UTF-8 text", utf8)
    return None
