# SPDX-License-Identifier: Apache-2.0
"""Where a name that came over the wire lies; none that leads out of its folder is ever opened.

Names are judged by the rules of every system at once: a job folder is mailed between them, and a
name that is harmless on one opens a device or another drive on the next.
"""

import os
import re
from pathlib import Path

from sumpwright.errors import SumpwrightError

MOST_LETTERS, MOST_BYTES = 1000, 255
"""Of a whole name; of one part of it, as file systems have it."""
_DEVICE = re.compile(r"(con|prn|aux|nul|conin\$|conout\$|com[0-9¹²³]|lpt[0-9¹²³])", re.IGNORECASE)
"""Names that open a device on Windows whatever folder they stand in, with any ending."""
_CONTROL = re.compile(r"[\x00-\x1f\x7f]")


class OutsideError(SumpwrightError):
    """A name that is no file of the folder it was asked from; the text says why."""


def inside(folder: Path, text: str) -> Path:
    """The real path of a file that is named from `folder` with forward slashes.

    It need not be there. Raises OutsideError where the name leaves the folder, by its parts or by
    a link, or is one that some system takes for something else than a file.
    """
    why = _fault(text)
    if why:
        raise OutsideError(f"{_quoted(text)} is not a file of this job: {why}")
    root = os.path.realpath(folder)
    real = os.path.realpath(os.path.join(root, *text.split("/")))
    if not real.startswith(root.rstrip(os.sep) + os.sep):
        raise OutsideError(f"{_quoted(text)} is not a file of this job: it leads out of the folder")
    return Path(real)


def _fault(text: str) -> str:
    """What is wrong with a name, or nothing."""
    if not text or len(text) > MOST_LETTERS:
        return "a name has 1 to 1000 letters"
    if _CONTROL.search(text):
        return "it has a control character"
    if "\\" in text:
        return "write forward slashes"
    if ":" in text:
        return "a name has no colon"
    if text.startswith("/"):
        return "name it by its path from the job folder"
    return next((why for part in text.split("/") if (why := _part_fault(part))), "")


def _part_fault(part: str) -> str:
    if part in ("", ".", ".."):
        return "a path has no empty parts and no dots alone"
    if part != part.strip() or part.endswith("."):
        return "no part of a path begins or ends with a space, or ends with a dot"
    if _DEVICE.fullmatch(part.split(".")[0].strip()):
        return "it is the name of a device"
    try:
        size = len(part.encode("utf-8"))
    except UnicodeEncodeError:
        return "it is not text"
    return "a part of it is too long" if size > MOST_BYTES else ""


def _quoted(text: str) -> str:
    """As much of a stranger's name as a sentence bears, with what is not text written out."""
    return ascii(text if len(text) <= 80 else text[:77] + "...")
