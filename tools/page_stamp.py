# SPDX-License-Identifier: Apache-2.0
"""What the built page was built from: a hash of its sources, kept beside it.

`make page` writes it and a test recomputes it, so that nobody ships a page older than its sources,
and the tests need no Node.
"""

import hashlib
import sys
from pathlib import Path

ROOT = Path(__file__).parents[1]
STATIC = ROOT / "src" / "sumpwright" / "web" / "static"
STAMP = STATIC / "stamp.txt"
_FILES = ("index.html", "package.json", "package-lock.json", "tsconfig.json", "vite.config.ts")
_FOLDERS = ("src", "public")


def sources() -> list[Path]:
    """Every file that the build depends on, in a fixed order; tests of the page are none."""
    page = ROOT / "page"
    inner = (p for name in _FOLDERS for p in (page / name).rglob("*"))
    used = (p for p in inner if p.is_file() and ".test." not in p.name)
    return [page / name for name in _FILES] + sorted(used, key=lambda p: p.as_posix())


def stamp() -> str:
    """SHA-256 over names and texts, line ends aside."""
    digest = hashlib.sha256()
    for path in sources():
        text = path.read_bytes().replace(b"\r\n", b"\n")
        digest.update(f"{path.relative_to(ROOT).as_posix()}\n{len(text)}\n".encode())
        digest.update(text)
    return digest.hexdigest()


if __name__ == "__main__":
    STAMP.write_text(stamp() + "\n", "utf-8")
    print(f"{STAMP.relative_to(ROOT)} written", file=sys.stderr)
