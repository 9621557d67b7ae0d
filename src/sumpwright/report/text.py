# SPDX-License-Identifier: Apache-2.0
"""Text that every renderer can take."""


def plain(words: str) -> str:
    """`words` without control characters and broken surrogates, which no page format may hold."""
    kept = "".join(c for c in words if (c >= " " and c != "\x7f") or c in "\t\n")
    return kept.encode("utf-8", "replace").decode("utf-8")
