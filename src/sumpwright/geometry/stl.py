# SPDX-License-Identifier: Apache-2.0
"""STL, binary and ASCII, as triangles in file units.

Read with numpy rather than a mesh library: a binary file is a fixed 50-byte record, an ASCII one
21 words a facet, and the library's import alone (1 to 2.5 s) is longer than the whole check of a
warm job. The mesh library is the tests' second opinion.
"""

import re
from collections.abc import Iterator
from pathlib import Path

import numpy as np

from sumpwright.errors import InputError
from sumpwright.geometry.file_limit import bad_file, check_triangle_count
from sumpwright.geometry.mesh import Points

_HEADER = 84
_RECORD = np.dtype([("normal", "<3f4"), ("corners", "<9f4"), ("attribute", "<u2")])
_WORDS = b"facet normal 0 0 0 outer loop vertex 0 0 0 vertex 0 0 0 vertex 0 0 0 endloop endfacet"
_NUMBER = np.array([word == b"0" for word in _WORDS.split()])
_CORNER = np.array([8, 9, 10, 12, 13, 14, 16, 17, 18])
_LONGEST = 64  # letters in a word of a facet; more is no STL, and would swell the table of words
_MARK = b"\xef\xbb\xbf"  # some editors put it before UTF-8 text
_BLOCK = 2**24  # bytes of ASCII taken at once: the words of a large file never all stand in memory
_NAME_LINE = re.compile(rb"^[ \t]*(?:end)?solid\b[^\r\n]*", re.MULTILINE)


def promised_triangles(head: bytes) -> int:
    """Triangles that the header of a binary STL promises.

    Parameters
    ----------
    head : bytes [-]
        At least the file's first 84.

    Returns
    -------
    count : int [-]
    """
    return int.from_bytes(head[80:_HEADER], "little")


def is_binary_stl(head: bytes, size: int) -> bool:
    """Whether a file's size is what its binary STL header promises, whatever it begins with.

    Parameters
    ----------
    head : bytes [-]
        The file's first 84 bytes or more.
    size : int [byte]
        Of the whole file.

    Returns
    -------
    answer : bool
    """
    return len(head) >= _HEADER and size == _HEADER + _RECORD.itemsize * promised_triangles(head)


def is_ascii_stl(head: bytes) -> bool:
    """Whether a file that is no whole binary STL begins as an ASCII one.

    Parameters
    ----------
    head : bytes [-]
        The file's first 84 bytes or more.

    Returns
    -------
    answer : bool
    """
    begin = head[:_HEADER].removeprefix(_MARK).lstrip().lower()
    return begin.startswith(b"solid") and b"\0" not in begin


def stl_triangles(path: Path, data: bytes) -> Points:
    """Corner points of every triangle of an STL file, in file units.

    Parameters
    ----------
    path : Path [-]
        For messages.
    data : bytes [-]
        The whole file.

    Returns
    -------
    corners : (m, 3, 3) [file unit]
        May be empty or not finite; the caller judges.

    Raises
    ------
    InputError
        GEO-207 too many triangles, GEO-210 cut short or garbled.
    """
    if not is_binary_stl(data[:_HEADER], len(data)) and is_ascii_stl(data):
        return _ascii_triangles(path, data)
    return _binary_triangles(path, data)


def _binary_triangles(path: Path, data: bytes) -> Points:
    if len(data) < _HEADER:
        raise _broken(path, f"{len(data)} bytes, too few for the header of an STL file")
    count = promised_triangles(data)
    check_triangle_count(path, count)
    if not is_binary_stl(data, len(data)):
        needed = _HEADER + _RECORD.itemsize * count
        raise _broken(path, f"{len(data):,} bytes where {count:,} triangles take {needed:,}")
    records = np.frombuffer(data, _RECORD, count, _HEADER)
    return records["corners"].reshape(-1, 3, 3).astype(np.float64)


def _ascii_triangles(path: Path, data: bytes) -> Points:
    text = data.removeprefix(_MARK).lower()
    check_triangle_count(path, text.count(b"endfacet"))
    parts: list[Points] = []
    done = 0
    for block in _blocks(text):
        parts.append(_facets(path, block, done))
        done += len(parts[-1])
    return np.concatenate(parts) if parts else np.zeros((0, 3, 3))


def _blocks(text: bytes) -> Iterator[bytes]:
    """The file in pieces that end with a facet; the last holds what is left."""
    start = 0
    while start < len(text):
        end = text.find(b"endfacet", min(start + _BLOCK, len(text)))
        stop = len(text) if end < 0 else end + len(b"endfacet")
        yield text[start:stop]
        start = stop


def _facets(path: Path, block: bytes, before: int) -> Points:
    """Triangles of one block of whole facets; `before` were read already."""
    words = _NAME_LINE.sub(b"", block).split() if len(block) <= 2 * _BLOCK else [block]
    if max(map(len, words), default=0) > _LONGEST:
        raise _broken(path, f"what follows facet {before} is not written as STL")
    whole, left = divmod(len(words), len(_NUMBER))
    table = np.array(words[: whole * len(_NUMBER)], dtype=np.bytes_).reshape(whole, len(_NUMBER))
    fixed = np.array(_WORDS.split(), dtype=np.bytes_)[~_NUMBER]
    good = (table[:, ~_NUMBER] == fixed).all(axis=1) if whole else np.zeros(0, dtype=bool)
    if not good.all():
        raise _broken(path, f"facet {before + int(np.argmin(good)) + 1} is not written as STL")
    if left:
        raise _broken(path, f"the file stops inside facet {before + whole + 1}")
    try:
        return table[:, _CORNER].astype(np.float64).reshape(-1, 3, 3)
    except ValueError as err:
        raise _broken(path, f"a corner after facet {before} is no number ({err})") from err


def _broken(path: Path, found: str) -> InputError:
    return bad_file(
        "GEO-210",
        path,
        found=found,
        needed="a whole STL file, binary or ASCII",
        do="export or copy the file again; it was cut short or is not STL",
    )
