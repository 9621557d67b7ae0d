# SPDX-License-Identifier: Apache-2.0
"""Files of the job's out/, shown so that nothing in them can act for the page.

A job folder comes by mail, and a report in it need not be ours. So a page from there is shown in a
sandbox with an origin of nobody: it has no cookie, reaches no address, and only the script of our
own film player runs in it. Sources: WHATWG HTML (sandboxing); W3C CSP Level 3 (hashes).
"""

import hashlib
import os
import stat
from base64 import b64encode
from functools import cache
from importlib.resources import files
from pathlib import Path

from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from sumpwright.web.desk import RefusedError
from sumpwright.web.inside import OutsideError, inside

MOST = 2**28
"""Bytes of a file that is shown: a film is some megabytes."""
TYPES = {
    ".html": "text/html; charset=utf-8",
    ".pdf": "application/pdf",
    ".svg": "image/svg+xml",
    ".gif": "image/gif",
    ".png": "image/png",
    ".jpg": "image/jpeg",
    ".csv": "text/csv; charset=utf-8",
    ".json": "application/json",
    ".txt": "text/plain; charset=utf-8",
    ".yaml": "text/plain; charset=utf-8",
}
FETCHED = {
    ".step": "model/step",
    ".stl": "model/stl",
    ".3mf": "model/3mf",
    ".dxf": "image/vnd.dxf",
}
"""What a browser saves and does not show. Types as registered with IANA, from memory."""
_OURS = ("cache", "page", "incoming")
"""Folders of out/ that hold no reports."""
_SHUT = "default-src 'none'; base-uri 'none'; form-action 'none'; frame-ancestors 'self'"
_DRAWN = "style-src 'unsafe-inline'; img-src data:; font-src data:"


@cache
def _player_hash() -> str:
    """Of the one script that may run in a report, as `report/block.py` writes it there."""
    text = files("sumpwright.report").joinpath("player.js").read_text("utf-8")
    return b64encode(hashlib.sha256(text.encode("utf-8")).digest()).decode("ascii")


def policy_of(suffix: str) -> str:
    """What a browser lets a file of that kind do."""
    if suffix == ".html":
        script = f"script-src 'sha256-{_player_hash()}'"
        return f"sandbox allow-scripts; {_SHUT}; {_DRAWN}; {script}"
    if suffix == ".pdf":  # a browser's own viewer does not start in a sandbox
        return f"{_SHUT}; object-src 'self'; style-src 'unsafe-inline'"
    return f"sandbox; {_SHUT}; {_DRAWN}"


def out_path(folder: Path, name: str) -> Path:
    """The file of out/ that is named from there; OutsideError for anything else."""
    parts = name.split("/")
    path = inside(folder, f"out/{name}")
    plain = os.path.join(os.path.realpath(folder), "out", *parts)
    if os.path.normcase(path) != os.path.normcase(plain):
        raise OutsideError(f"{name[:80]!a} is a link; only files of out/ itself are shown")
    if parts[0].lower() in _OURS or any(part.startswith(".") for part in parts):
        raise OutsideError(f"{name[:80]!a} is no report")
    return path


def content_of(path: Path) -> bytes:
    """The bytes of a plain file; RefusedError where it is none, or not there."""
    flags = os.O_RDONLY | getattr(os, "O_NOFOLLOW", 0) | getattr(os, "O_NONBLOCK", 0)
    try:
        handle = os.open(path, flags | getattr(os, "O_BINARY", 0))
    except OSError as err:
        raise _gone(path.name) from err
    if not stat.S_ISREG(os.fstat(handle).st_mode):  # a pipe would be read for ever
        os.close(handle)
        raise _gone(path.name)
    with os.fdopen(handle, "rb") as stream:
        data = stream.read(MOST + 1)
    if len(data) > MOST:
        said = f"{path.name!a} is larger than {MOST // 2**20} MiB; open it from the folder"
        raise RefusedError(413, said)
    return data


def _gone(name: str) -> RefusedError:
    return RefusedError(404, f"{name[:80]!a} is not in out/ any more; print it again")


async def _show(request: Request) -> Response:
    folder: Path | None = request.app.state.desk.folder
    if folder is None:
        raise RefusedError(409, "no job is open; start or open one first")
    path = out_path(folder, request.path_params["path"])
    suffix = path.suffix.lower()
    kind = TYPES.get(suffix) or FETCHED.get(suffix)
    if kind is None:
        raise RefusedError(415, f"{path.name[:80]!a} is of a kind that is not shown")
    data = await run_in_threadpool(content_of, path)
    headers = {"content-security-policy": policy_of(suffix)}
    if suffix == ".html":  # a sandboxed page in a tab of its own may not ask to be kept apart
        headers["cross-origin-opener-policy"] = "unsafe-none"
    if suffix in FETCHED:
        headers["content-disposition"] = "attachment"
    return Response(data, media_type=kind, headers=headers)


ROUTES = [Route("/api/out/{path:path}", _show)]
