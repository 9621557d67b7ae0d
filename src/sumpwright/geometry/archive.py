# SPDX-License-Identifier: Apache-2.0
"""A ZIP archive from a stranger, opened so that it can do no harm.

Nothing is written to disk. Sizes are judged from the directory before anything is unpacked, and
again by unpacking no more than the directory said; names and XML that try to reach out are refused
though nothing here would follow them, because no honest program writes them.
"""

import re
import stat
import zipfile
import zlib
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path, PurePosixPath
from typing import TYPE_CHECKING

from sumpwright.errors import InputError
from sumpwright.geometry.file_limit import bad_file, too_large

if TYPE_CHECKING:
    from lxml import etree

MAX_PARTS = 10_000
MAX_UNPACKED = 2**30
"""Most bytes an archive may unpack to, 1 GiB."""
MAX_TAGS = 20_000_000
"""Most XML tags read, twice what the most triangles need; each takes some 200 bytes in memory."""
MAX_RATIO = 200
"""Most times an archive may grow; coordinates as text shrink 3 to 20 times, bombs 1,000."""
_RATIO_FROM = 2**20  # small parts of blanks may shrink more and harm nobody
_ENCODING = re.compile(rb"""^\s*<\?xml[^>]*\sencoding\s*=\s*["']([^"']*)["']""")


class Archive:
    """The parts of a ZIP file by name, each unpacked when asked for."""

    def __init__(self, path: Path, opened: zipfile.ZipFile) -> None:
        self.path, self._zip = path, opened
        self._parts = {info.filename: info for info in opened.infolist()}

    @property
    def names(self) -> tuple[str, ...]:
        """Names of all parts."""
        return tuple(self._parts)

    def named(self, name: str) -> str | None:
        """The part of that name, whatever its letters' case and leading slash, or None."""
        wanted = name.lstrip("/").lower()
        return next((n for n in self._parts if n.lower() == wanted), None)

    def part(self, name: str) -> bytes:
        """What a part unpacks to, never more than the directory promised."""
        info = self._parts[name]
        try:
            with self._zip.open(info) as stream:
                data = stream.read(info.file_size + 1)
        except (zipfile.BadZipFile, zlib.error, EOFError, NotImplementedError, OSError) as err:
            raise _damaged(self.path, f"part {name!r} does not unpack ({err})") from err
        if len(data) != info.file_size:
            raise _damaged(self.path, f"part {name!r} is {len(data):,} bytes, not as promised")
        return data


@contextmanager
def safe_archive(path: Path) -> Iterator[Archive]:
    """An opened ZIP file whose directory has been judged.

    Parameters
    ----------
    path : Path [-]
        The file.

    Yields
    ------
    archive : Archive
        Its parts.

    Raises
    ------
    InputError
        GEO-220 damaged or encrypted, GEO-221 unpacks to too much, GEO-222 names that reach out.
    """
    try:
        opened = zipfile.ZipFile(path)
    except (zipfile.BadZipFile, NotImplementedError, ValueError) as err:
        raise _damaged(path, f"not a ZIP archive that can be opened ({err})") from err
    with opened:
        parts = opened.infolist()
        _check_sizes(path, parts)
        _check_names(path, parts)
        yield Archive(path, opened)


def safe_xml(path: Path, name: str, data: bytes) -> "etree._Element":
    """The root of an XML part; document types, entities and odd encodings are refused first.

    Parameters
    ----------
    path : Path [-]
        The archive, for messages.
    name : str [-]
        Of the part, for messages.
    data : bytes [-]
        The part.

    Returns
    -------
    root : lxml element

    Raises
    ------
    InputError
        GEO-207 too many tags, GEO-223 where it could reach out or grow, GEO-225 where it is broken.
    """
    from lxml import etree

    declared = _ENCODING.match(data.removeprefix(b"\xef\xbb\xbf"))
    odd = declared is not None and declared[1].lower() not in (b"utf-8", b"utf8", b"us-ascii")
    # another encoding could hide the words looked for below
    if odd or data[:2] in (b"\xff\xfe", b"\xfe\xff") or b"\0" in data[:64]:
        raise _unsafe_xml(path, f"part {name!r} is not UTF-8 text")
    if re.search(rb"<!\s*(doctype|entity)", data, re.IGNORECASE):
        raise _unsafe_xml(path, f"part {name!r} declares a document type or entities")
    if (tags := data.count(b"<")) > MAX_TAGS:
        raise too_large(path, f"{tags:,} XML tags")
    parser = etree.XMLParser(
        resolve_entities=False, no_network=True, load_dtd=False, huge_tree=False
    )
    try:
        return etree.fromstring(data, parser)
    except etree.XMLSyntaxError as err:
        raise broken_model(path, f"part {name!r} is not XML ({err.msg})") from err


def broken_model(path: Path, found: str) -> InputError:
    """The error for a 3MF model that cannot be understood.

    Parameters
    ----------
    path : Path [-]
        The file.
    found : str [-]
        What is wrong.

    Returns
    -------
    error : InputError
        GEO-225.
    """
    return bad_file(
        "GEO-225",
        path,
        found=found,
        needed="a 3MF model whose objects, points and placements are all there",
        do="export the 3MF again, or export STEP or STL instead",
    )


def _check_sizes(path: Path, parts: list[zipfile.ZipInfo]) -> None:
    unpacked, packed = (sum(i.file_size for i in parts), sum(i.compress_size for i in parts))
    grows = [i for i in parts if i.file_size > max(_RATIO_FROM, MAX_RATIO * i.compress_size)]
    found = ""
    if len(parts) > MAX_PARTS:
        found = f"an archive of {len(parts):,} parts"
    elif unpacked > MAX_UNPACKED or grows:
        found = f"an archive of {packed:,} bytes that unpacks to {unpacked:,} bytes"
    if found:
        raise bad_file(
            "GEO-221",
            path,
            found=found,
            needed=f"at most {MAX_PARTS:,} parts, {MAX_UNPACKED / 2**30:.0f} GiB unpacked, and no "
            f"part that grows more than {MAX_RATIO} times",
            do="do not trust this file; ask its maker for STEP or STL",
        )


def _check_names(path: Path, parts: list[zipfile.ZipInfo]) -> None:
    names = [info.filename for info in parts]
    reaching = [i.filename for i in parts if _reaches_out(i)]
    repeated = (
        sorted({n for n in names if names.count(n) > 1}) if len(set(names)) < len(names) else []
    )
    if reaching or repeated:
        raise bad_file(
            "GEO-222",
            path,
            found=f"an archive with the part name {(reaching + repeated)[0]!r}"
            + ("" if reaching else " more than once"),
            needed="plain names inside the archive, each once",
            do="do not trust this file; ask its maker for STEP or STL",
        )
    if any(info.flag_bits & 0x1 for info in parts):
        raise _damaged(path, "an archive locked with a password")


def _reaches_out(info: zipfile.ZipInfo) -> bool:
    # orig_filename is the name as stored: zipfile cuts at a NUL and turns backslashes on Windows
    name = info.orig_filename
    return (
        name.startswith("/")
        or ".." in PurePosixPath(name).parts
        or bool(re.search(r"[\\:\x00-\x1f]", name))
        or stat.S_ISLNK(info.external_attr >> 16)
    )


def _damaged(path: Path, found: str) -> InputError:
    return bad_file(
        "GEO-220",
        path,
        found=found,
        needed="a 3MF file, which is a ZIP archive without a password",
        do="export or copy the file again",
    )


def _unsafe_xml(path: Path, found: str) -> InputError:
    return bad_file(
        "GEO-223",
        path,
        found=found,
        needed="plain UTF-8 XML without DOCTYPE and ENTITY, as 3MF demands",
        do="do not trust this file; ask its maker for STEP or STL",
    )
