# SPDX-License-Identifier: Apache-2.0
"""Text that every renderer can take."""

import re


def plain(words: str) -> str:
    """`words` without control characters and broken surrogates, which no page format may hold."""
    kept = "".join(c for c in words if (c >= " " and c != "\x7f") or c in "\t\n")
    return kept.encode("utf-8", "replace").decode("utf-8")


def told(words: str) -> str:
    """`words` for a page, where a key of the job file stands in quotes, not in backticks."""
    return re.sub(r"`([^`]*)`", r"‘\1’", plain(words))
