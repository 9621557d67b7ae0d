# SPDX-License-Identifier: Apache-2.0
"""Photos of a teardown: taken in by what their first bytes say they are, never by their name.

Nothing in a photo is read but those bytes: it is kept as it came, as evidence, and shown by the
browser. None is written over.
"""

import hashlib
import os
import re
import secrets
from contextlib import suppress
from pathlib import Path
from typing import BinaryIO

from starlette.requests import ClientDisconnect, Request
from starlette.responses import FileResponse, JSONResponse, Response
from starlette.routing import Route

from sumpwright.web.body_limit import PHOTO
from sumpwright.web.desk import RefusedError
from sumpwright.web.inside import OutsideError, inside

WHERE = "records/photos"
MOST = PHOTO.size
"""Bytes of one photo."""
_MOST_NAMES = 1000
_TYPES = {".jpg": "image/jpeg", ".png": "image/png", ".webp": "image/webp", ".heic": "image/heic"}
_HEIC = (b"heic", b"heix", b"heim", b"heis", b"hevc", b"mif1", b"msf1")
"""Brands of ISO/IEC 23008-12 files."""
_NEEDED = "a photo is a JPEG, PNG, WebP or HEIC file"


def photo_type(head: bytes) -> str | None:
    """Name ending by the first bytes of a picture; None where they are of none."""
    if head.startswith(b"\xff\xd8\xff"):  # ISO/IEC 10918-1: SOI, then a marker
        return ".jpg"
    if head.startswith(b"\x89PNG\r\n\x1a\n"):  # ISO/IEC 15948, 5.2
        return ".png"
    if head[:4] == b"RIFF" and head[8:12] == b"WEBP":  # RFC 9649, 2.4
        return ".webp"
    if head[4:8] == b"ftyp" and head[8:12] in _HEIC:  # ISO/IEC 14496-12, 4.3
        return ".heic"
    return None


def photo_path(folder: Path, name: str) -> Path:
    """A photo of the job that was named by its path from there."""
    path = inside(folder, name)
    if not path.is_relative_to(inside(folder, WHERE)) or not path.is_file():
        raise OutsideError(f"{name[:80]!a} is not a photo of this job: they lie in {WHERE}/")
    return path


class _Arriving:
    """A photo on its way in, under a name of its own until it is whole."""

    def __init__(self, folder: Path, name: str) -> None:
        self._shelf = inside(folder, WHERE)
        self._shelf.mkdir(parents=True, exist_ok=True)
        self._name = name
        self._part = self._shelf / f".{secrets.token_hex(8)}.part"
        self._digest, self._size, self._head = hashlib.sha256(), 0, b""
        self._out: BinaryIO = self._part.open("xb")

    def take(self, piece: bytes) -> None:
        """The next bytes."""
        self._size += len(piece)
        if self._size > MOST:
            raise RefusedError(
                413, f"this photo is larger than {MOST // 2**20} MiB; make it smaller"
            )
        if len(self._head) < 16:
            self._head += piece[:16]
            if len(self._head) >= 16 and photo_type(self._head) is None:
                raise RefusedError(422, f"{_NEEDED}; this one begins like something else")
        self._digest.update(piece)
        self._out.write(piece)

    def kept(self) -> dict[str, str]:
        """Where the whole photo lies; one that lies there already is not kept twice."""
        suffix = photo_type(self._head)
        if suffix is None:
            raise RefusedError(422, f"{_NEEDED}; this one begins like something else")
        self._out.close()
        digest = self._digest.hexdigest()
        stem = _stem(self._name)
        for k in range(1, _MOST_NAMES):
            path = self._shelf / (f"{stem}{suffix}" if k == 1 else f"{stem}-{k}{suffix}")
            with suppress(FileExistsError):
                os.link(self._part, path)
                return {"name": f"{WHERE}/{path.name}", "sha256": digest}
            if _same(path, digest):
                return {"name": f"{WHERE}/{path.name}", "sha256": digest}
        raise RefusedError(409, f"there are too many photos called {stem}; give it another name")

    def clear(self) -> None:
        """Take the unfinished name away."""
        self._out.close()
        self._part.unlink(missing_ok=True)


def _stem(name: str) -> str:
    """A name that is one on every system, of what the camera called it."""
    plain = re.sub(r"[^a-z0-9]+", "-", name.rsplit(".", 1)[0].lower()).strip("-")[:60]
    return f"photo-{plain}" if plain else "photo"


def _same(path: Path, digest: str) -> bool:
    try:
        with path.open("rb") as stream:
            return hashlib.file_digest(stream, "sha256").hexdigest() == digest
    except OSError:
        return False


async def _take(request: Request) -> Response:
    folder = _folder(request)
    arriving = _Arriving(folder, request.query_params.get("name", ""))
    try:
        async for piece in request.stream():
            arriving.take(piece)
        return JSONResponse(arriving.kept())
    except ClientDisconnect:
        raise RefusedError(400, "the photo did not come whole; nothing was kept") from None
    finally:
        arriving.clear()


async def _show(request: Request) -> Response:
    path = photo_path(_folder(request), request.query_params.get("name", ""))
    with path.open("rb") as stream:
        suffix = photo_type(stream.read(16))
    if suffix is None:
        raise RefusedError(422, f"{_NEEDED}; this one begins like something else")
    return FileResponse(path, media_type=_TYPES[suffix])


def _folder(request: Request) -> Path:
    folder: Path | None = request.app.state.desk.folder
    if folder is None:
        raise RefusedError(409, "no job is open; start or open one first")
    return folder


ROUTES = [Route("/api/photo", _show), Route("/api/photo", _take, methods=["POST"])]
