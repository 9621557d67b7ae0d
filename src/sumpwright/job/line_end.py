# SPDX-License-Identifier: Apache-2.0
"""Line ends and byte-order mark of a job file: left out to edit it, put back as they were."""

_MARK = "\ufeff"


def plain_text(text: str) -> str:
    """`text` without a byte-order mark, lines ended by newlines only."""
    return text.removeprefix(_MARK).replace("\r\n", "\n")


def as_before(text: str, edited: str) -> str:
    """`edited`, which came of the plain text of `text`, with that one's mark and line ends.

    A line that did not change keeps its own end, so a file of mixed line ends stays as mixed.
    """
    mark = _MARK if text.startswith(_MARK) else ""
    if "\r\n" not in text:
        return mark + edited
    raw, old, new = (t.split("\n") for t in (text[len(mark) :], plain_text(text), edited))
    most = min(len(old), len(new)) - 1  # the last line has no end to keep
    head = next((i for i in range(most) if old[i] != new[i]), most)
    most += 1 - head
    tail = next((i for i in range(most) if old[-1 - i] != new[-1 - i]), most)
    usual = "\r" if text.count("\r\n") * 2 >= text.count("\n") else ""
    middle = [line + usual for line in new[head : len(new) - tail]]
    rows = [*raw[:head], *middle, *(raw[len(raw) - tail :] if tail else [])]
    if not tail and rows:
        rows[-1] = rows[-1].removesuffix("\r")  # behind the last newline there is none
    return mark + "\n".join(rows)
