# SPDX-License-Identifier: Apache-2.0
"""What several drives take for granted, each sentence once, with the drives that it belongs to."""

import re
from collections.abc import Mapping, Sequence

_ASIDE = re.compile(r"\(([^()]*)\)")


def said_once(by_drive: Mapping[str, Sequence[str]]) -> tuple[str, ...]:
    """Sentences of all drives as they stand, of some behind their names.

    Where drives say the same but for one figure in brackets, the brackets hold every figure:
    ``the pump's flow (eight: 1.6 s; left circle, right circle: 1.4 s)``.
    """
    drives: dict[str, list[str]] = {}
    for drive, sentences in by_drive.items():
        for sentence in dict.fromkeys(sentences):
            drives.setdefault(sentence, []).append(drive)
    kin: dict[str, list[str]] = {}
    for sentence in drives:
        kin.setdefault(_ASIDE.sub("()", sentence), []).append(sentence)
    found: list[str] = []
    for alike in kin.values():
        found += _merged(alike, drives) or [_named(s, drives[s], len(by_drive)) for s in alike]
    return tuple(found)


def _named(sentence: str, drives: list[str], many: int) -> str:
    return sentence if len(drives) == many else f"{', '.join(drives)}: {sentence}"


def _merged(alike: list[str], drives: dict[str, list[str]]) -> list[str]:
    """One sentence for all of them; nothing unless they differ in just one pair of brackets."""
    asides = [_ASIDE.findall(sentence) for sentence in alike]
    differ = [k for k, said in enumerate(zip(*asides, strict=True)) if len(set(said)) > 1]
    if len(differ) != 1:
        return []
    told = "; ".join(
        f"{', '.join(drives[s])}: {aside[differ[0]]}"
        for s, aside in zip(alike, asides, strict=True)
    )
    place = list(_ASIDE.finditer(alike[0]))[differ[0]]
    return [f"{alike[0][: place.start(1)]}{told}{alike[0][place.end(1) :]}"]
