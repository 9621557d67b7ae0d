# SPDX-License-Identifier: Apache-2.0
"""What the code of a compiled kernel was made from: its own file, and every file that imports.

The compiler keeps its code on disk and looks whether the kernel's own file has changed since; but
the code of kernels that it calls, and constants that it reads, are in there too.
"""

import hashlib
import re
from functools import cache
from pathlib import Path

_IMPORTED = re.compile(rb"^\s*(?:from|import)\s+(sumpwright[\w.]*)", re.MULTILINE)


def kernel_stamp(path: Path, root: Path) -> str:
    """A text that changes with a file, and with any file of ours that it builds on.

    Parameters
    ----------
    path : Path [-]
        Of a module.
    root : Path [-]
        Folder of the package; what is imported from elsewhere does not count.

    Returns
    -------
    stamp : str [-]
    """
    digest = hashlib.blake2b(digest_size=16)
    for file in sorted(_built_on(path, root)):
        digest.update(file.as_posix().encode())
        digest.update(_text(file))
    return digest.hexdigest()


def _built_on(path: Path, root: Path) -> set[Path]:
    """The file and all that it imports, directly or not."""
    found, ahead = {path}, [path]
    while ahead:
        for name in _IMPORTED.findall(_text(ahead.pop())):
            file = root.joinpath(*name.decode().split(".")[1:]).with_suffix(".py")
            if file not in found and file.is_file():
                found.add(file)
                ahead.append(file)
    return found


@cache
def _text(path: Path) -> bytes:
    return path.read_bytes()
