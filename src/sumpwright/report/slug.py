# SPDX-License-Identifier: Apache-2.0
"""Names of files from names that people give."""

import re
import unicodedata
from hashlib import sha256

LONGEST = 60


def slug(name: str) -> str:
    """``Circle, 30 m!`` as ``circle-30-m``: letters, digits and dashes, never empty or a path.

    A name that is too long for it or has letters that it cannot hold carries a mark of the whole,
    so that two such names do not share a file.
    """
    flat = unicodedata.normalize("NFKD", name).encode("ascii", "ignore").decode("ascii").lower()
    words = re.sub(r"[^a-z0-9]+", "-", flat).strip("-")
    if words and len(words) <= LONGEST and name.isascii():
        return words
    mark = sha256(name.encode("utf-8", "replace")).hexdigest()[:8]
    return f"{words[:LONGEST].strip('-')}-{mark}".lstrip("-")
