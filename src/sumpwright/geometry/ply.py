# SPDX-License-Identifier: Apache-2.0
"""PLY, binary and ASCII, as points and triangles in file units.

Read with numpy: the mesh library that was tried takes every polygon of a binary file to have as
many corners as the first, and passes over ASCII text that is no number. It is the tests' second
opinion.
"""

import warnings
from dataclasses import dataclass, field
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from sumpwright.errors import InputError
from sumpwright.geometry.file_limit import bad_file, check_triangle_count
from sumpwright.geometry.mesh import Faces, Points

_MAX_HEADER = 65536
_KINDS = {"char": "i1", "uchar": "u1", "short": "i2", "ushort": "u2", "int": "i4", "uint": "u4"}
_KINDS |= {"int8": "i1", "uint8": "u1", "int16": "i2", "uint16": "u2", "int32": "i4"}
_KINDS |= {"uint32": "u4", "float": "f4", "float32": "f4", "double": "f8", "float64": "f8"}
_ORDERS = {"ascii": "", "binary_little_endian": "<", "binary_big_endian": ">"}
_CORNERS = ("vertex_indices", "vertex_index")

Numbers = NDArray[np.float64]


@dataclass(frozen=True)
class _Property:
    name: str
    kind: str
    length: str = ""
    """Kind of the number of entries, for a list."""


@dataclass(frozen=True)
class _Element:
    name: str
    count: int
    properties: list[_Property] = field(default_factory=list)

    @property
    def least_bytes(self) -> int:
        """Fewest bytes one of them takes in a binary file; a face has three corners or more."""
        sizes = [np.dtype(p.length or p.kind).itemsize for p in self.properties]
        corners = [p for p in self.properties if self.name == "face" and p.name in _CORNERS]
        return sum(sizes) + sum(3 * np.dtype(p.kind).itemsize for p in corners)


def ply_mesh(path: Path, data: bytes) -> tuple[Points, Faces]:
    """Points and triangles of a PLY file, in file units; polygons are split into fans.

    Parameters
    ----------
    path : Path [-]
        For messages.
    data : bytes [-]
        The whole file.

    Returns
    -------
    vertices : (n, 3) [file unit]
        May be not finite; the caller judges.
    faces : (m, 3) [-]
        Vertex numbers, not yet checked; empty for a cloud of points.

    Raises
    ------
    InputError
        GEO-207 too many triangles, GEO-210 cut short or garbled.
    """
    order, elements, body = _header(path, data)
    for element in elements:
        check_triangle_count(path, element.count // (3 if element.name == "vertex" else 1))
    least = sum(e.count * (e.least_bytes if order else 2 * len(e.properties)) for e in elements)
    if least > len(data) - body + 1:  # an ASCII file may lack its last line end
        raise _broken(path, f"{len(data) - body:,} bytes of data where {least:,} are promised")
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("error")  # numpy only warns of text that is no number
            reader = _Reader(order, data, body)
            read = {e.name: reader.element(e) for e in elements}
            vertices = np.stack([read["vertex"][0][axis] for axis in "xyz"], axis=1)
            lengths, corners = read["face"][1] if "face" in read else (np.zeros(0), np.zeros(0))
            faces = _fans(path, lengths, corners)
    except (KeyError, IndexError, ValueError, OverflowError, Warning):
        raise _broken(path, "the data does not fit the header") from None
    return vertices, faces


class _Reader:
    """Elements off the body of a file, one after the other."""

    def __init__(self, order: str, data: bytes, body: int) -> None:
        self.order, self.place = order, body
        self.source: bytes | Numbers = data
        if not order:
            self.source, self.place = np.fromstring(data[body:], dtype=np.float64, sep=" "), 0

    def element(self, element: _Element) -> tuple[dict[str, Numbers], tuple[Numbers, Numbers]]:
        """Plain properties by name, and the corner list as lengths and entries."""
        if not element.count or not element.properties:
            return {p.name: np.zeros(0) for p in element.properties}, (np.zeros(0), np.zeros(0))
        start = self.place
        lengths = self.record(element)[1]
        self.place = start
        fast = self.alike(element, lengths)
        if fast is not None:
            return fast
        self.place = start
        lists = [self.record(element)[0] for _ in range(element.count)]
        return {}, (np.array([len(c) for c in lists], float), np.concatenate(lists))

    def record(self, element: _Element) -> tuple[Numbers, list[int]]:
        """The next record's corner list, and the lengths of all its lists."""
        corners, lengths = np.zeros(0), []
        for p in element.properties:
            count = int(self.take(p.length, 1)[0]) if p.length else 1
            values = self.take(p.kind, count)
            if p.length:
                lengths.append(count)
            if p.name in _CORNERS:
                corners = values
        return corners, lengths

    def take(self, kind: str, count: int) -> Numbers:
        """The next `count` numbers."""
        if count < 0:
            raise ValueError("a list of negative length")
        start, self.place = self.place, self.place + count * self.size(kind)
        if self.place > len(self.source):
            raise ValueError("the data ends too soon")
        if isinstance(self.source, bytes):
            return np.frombuffer(self.source, self.order + kind, count, start).astype(np.float64)
        return self.source[start : self.place]

    def size(self, kind: str) -> int:
        return np.dtype(kind).itemsize if self.order else 1

    def alike(
        self, element: _Element, lengths: list[int]
    ) -> tuple[dict[str, Numbers], tuple[Numbers, Numbers]] | None:
        """All records at once if their lists are as long as the first one's, else None."""
        left, fields = iter(lengths), list[tuple[str, str, int]]()
        for k, p in enumerate(element.properties):
            if p.length:
                fields.append((f"length{k}", p.length, 1))
            fields.append((f"value{k}", p.kind, next(left) if p.length else 1))
        width = sum(self.size(kind) * count for _, kind, count in fields)
        if self.place + element.count * width > len(self.source):
            return None
        table = self.table(fields, element.count, width)
        listed = [k for k, p in enumerate(element.properties) if p.length]
        if any((table[f"length{k}"] != n).any() for k, n in zip(listed, lengths, strict=True)):
            return None
        self.place += element.count * width
        plain, corners = dict[str, Numbers](), (np.zeros(0), np.zeros(0))
        for k, p in enumerate(element.properties):
            values = table[f"value{k}"]
            if p.name in _CORNERS:
                corners = (np.full(element.count, float(values.shape[1])), values.reshape(-1))
            elif not p.length:
                plain[p.name] = values[:, 0]
        return plain, corners

    def table(
        self, fields: list[tuple[str, str, int]], count: int, width: int
    ) -> dict[str, Numbers]:
        """Columns of `count` records of the same width."""
        if isinstance(self.source, bytes):
            kind = np.dtype([(name, self.order + kind, (n,)) for name, kind, n in fields])
            rows = np.frombuffer(self.source, kind, count, self.place)
            return {name: rows[name].astype(np.float64) for name, _, _ in fields}
        flat = self.source[self.place : self.place + count * width].reshape(count, width)
        ends = np.cumsum([n for _, _, n in fields]).tolist()
        return {
            name: flat[:, end - n : end] for (name, _, n), end in zip(fields, ends, strict=True)
        }


def _fans(path: Path, lengths: Numbers, corners: Numbers) -> NDArray[np.int64]:
    """Triangles of polygons, each from its first corner."""
    index = corners.astype(np.int64)
    if (index != corners).any():
        raise ValueError("a corner number that is no whole number")
    sides = lengths.astype(np.int64)
    pieces = np.maximum(sides - 2, 0)
    check_triangle_count(path, int(pieces.sum()))
    first = np.repeat(np.cumsum(sides) - sides, pieces)
    turn = np.arange(len(first)) - np.repeat(np.cumsum(pieces) - pieces, pieces)
    return np.stack([index[first], index[first + turn + 1], index[first + turn + 2]], axis=1)


def _header(path: Path, data: bytes) -> tuple[str, list[_Element], int]:
    """Byte order (none for ASCII), the elements, and where the body starts."""
    end = data.find(b"end_header", 0, _MAX_HEADER)
    stop = data.find(b"\n", end) + 1
    if end < 0 or stop == 0:
        raise _broken(path, "the header has no end")
    order, elements = None, list[_Element]()
    try:
        for line in data[:end].decode("ascii", errors="replace").splitlines():
            words = line.split()
            if words[:1] == ["format"]:
                order = _ORDERS[words[1]]
            elif words[:1] == ["element"]:
                elements.append(_Element(words[1], int(words[2])))
            elif words[:2] == ["property", "list"]:
                length, kind = _KINDS[words[2]], _KINDS[words[3]]
                elements[-1].properties.append(_Property(words[4], kind, length))
            elif words[:1] == ["property"]:
                elements[-1].properties.append(_Property(words[2], _KINDS[words[1]]))
    except (IndexError, KeyError, ValueError):
        order = None
    if order is None or min((e.count for e in elements), default=-1) < 0:
        raise _broken(path, "the header cannot be understood")
    return order, elements, stop


def _broken(path: Path, found: str) -> InputError:
    return bad_file(
        "GEO-210",
        path,
        found=found,
        needed="a whole PLY file, binary or ASCII, with x, y, z and triangles",
        do="export or copy the file again; it was cut short or is not PLY",
    )
