# SPDX-License-Identifier: Apache-2.0
"""The film as a part of a page that plays it: pictures and words as data, a script of our own."""

import json
from base64 import b64encode
from pathlib import Path
from typing import Any

import numpy as np

from sumpwright.report import palette
from sumpwright.report.block import said
from sumpwright.report.film import TICK
from sumpwright.report.film_colour import change_png, whole_png
from sumpwright.report.film_gif import Reel
from sumpwright.report.film_stage import FROM
from sumpwright.report.film_title import arrow_shape
from sumpwright.report.film_words import FrameWords, volume_share
from sumpwright.report.lane import LEFT, RIGHT
from sumpwright.report.svg import number
from sumpwright.report.text import plain
from sumpwright.studies.motion_result import DriveResult

MOST_BYTES = 5_200_000
"""Of the frames as text; where they are more, every other one is left out until they are not."""
_WORDS = ("clock", "part", "push", "cover", "air", "inlet", "rpm")


def script_of() -> str:
    """The page's one script."""
    return (Path(__file__).parent / "player.js").read_text(encoding="utf-8")


def style_of() -> str:
    """What the player looks like."""
    return (Path(__file__).parent / "player.css").read_text(encoding="utf-8")


def player_of(result: DriveResult, reel: Reel) -> str:
    """The player with all its data; without a script it shows nothing and says where to look."""
    played = _data(result, reel)
    data = json.dumps(played, ensure_ascii=True, separators=(",", ":"))
    data = data.replace("<", "\\u003c")  # or a name could end the script that holds the data
    high, wide = reel.pictures[0].shape
    alt = f"The pan {FROM}, with the oil in each compartment at the time shown"
    side = f'<div class="side">{_numbers(result)}{_levels(result)}</div>'
    none = "This page plays a film where scripts may run; the pictures below need none."
    return (
        f'<section class="film"><h2>The oil in motion</h2><div id="film" class="player" hidden>'
        f'<canvas width="{wide}" height="{high}" role="img" aria-label="{alt}"></canvas>'
        f"{side}{_controls(len(played['frames']))}</div><noscript><p>{none}</p></noscript>"
        f'<p class="foot">{_caption(result, reel)}</p></section>'
        f'<script type="application/json" id="film-data">{data}</script>'
    )


def _data(result: DriveResult, reel: Reel) -> dict[str, Any]:
    film, base = reel.film, reel.pictures[0]
    changes = [change_png(reel.colours, p, base) for p in reel.pictures]
    stride = 1
    while sum(map(len, changes[::stride])) * 4 / 3 > MOST_BYTES:
        stride *= 2
    kept = range(0, len(changes), stride)
    share = volume_share(result, film)
    dry = [int(film.air[k] > 0.0) for k in kept]
    return {
        "base": _text(whole_png(reel.colours, base)),
        "frames": [_text(changes[k]) for k in kept],
        "tick": 1000.0 * TICK * stride,
        "words": [_words(reel.words[k]) for k in kept],
        "share": [share[k] for k in kept],
        "arrows": [_arrow(reel, k) for k in kept],
        "dry": dry,
        "first": max(dry.index(1) if 1 in dry else 0, 0),
        "left": LEFT,
        "right": _end(result, reel, kept[-1]),
    }


def _end(result: DriveResult, reel: Reel, number: int) -> float:
    """Where on the charts the last frame is: a little before the end."""
    start, end = result.time_s[0], max(result.time_s[-1], result.time_s[0] + 1e-6)
    return LEFT + (RIGHT - LEFT) * float(reel.film.time[number] - start) / (end - start)


def _text(png: bytes) -> str:
    return b64encode(png).decode("ascii")


def _words(words: FrameWords) -> list[str]:
    return [
        words.clock,
        words.part,
        words.push,
        words.cover,
        words.air or "none",
        words.inlet,
        words.rpm,
        *words.oil,
    ]


def _arrow(reel: Reel, k: int) -> str:
    shape = arrow_shape(reel.film, k)
    points = np.zeros((0, 2)) if shape is None else 50.0 + 44.0 * shape
    return " ".join(f"{number(x)},{number(y)}" for x, y in points)


def _numbers(result: DriveResult) -> str:
    names = {"push": "push on the car", "cover": "oil over the pickup", "air": "air at the pickup"}
    if any(v is not None for v in result.pump.inlet_pa):
        names["inlet"] = "pump inlet"
    if any(v is not None for v in result.rpm):
        names["rpm"] = "engine"
    rows = "".join(f'<dt>{n}</dt><dd id="film-{key}"></dd>' for key, n in names.items())
    unseen = "".join(f'<i id="film-{k}" hidden></i>' for k in ("inlet", "rpm") if k not in names)
    return (
        f'<div class="top">{_dial()}<p class="clock"><output id="film-clock"></output>'
        f'<span id="film-part"></span></p></div><dl class="numbers">{rows}</dl>{unseen}'
    )


def _dial() -> str:
    return (
        '<svg class="dial" viewBox="0 0 100 100" role="img" aria-label="Which way the car is '
        f'pushed, nose up"><circle cx="50" cy="50" r="46" fill="{palette.FAINT}" '
        f'stroke="{palette.MUTED}"/><path d="M50 40L55 48V60H45V48Z" fill="{palette.PAPER}" '
        f'stroke="{palette.INK}"/><polygon id="film-arrow" fill="{palette.NEW}"/></svg>'
    )


def _levels(result: DriveResult) -> str:
    rows = []
    for k, part in enumerate(result.compartments):
        home = part.name == result.pickup.compartment
        name = f"{part.name} {part.where}".strip() + (", pickup" if home else "")
        bar = (
            f'<svg viewBox="0 0 100 14" preserveAspectRatio="none" aria-hidden="true"><rect '
            f'width="100" height="14" fill="{palette.FAINT}"/><rect id="film-bar-{k}" height="14" '
            f'fill="{palette.OIL}"/></svg>'
        )
        mark = ' class="home"' if home else ""
        rows.append(
            f'<li{mark}><span>{said(plain(name))}</span>{bar}<b id="film-oil-{k}"></b></li>'
        )
    return f'<ul class="levels">{"".join(rows)}</ul>'


def _controls(count: int) -> str:
    speeds = "".join(
        f'<option value="{value}">{words}</option>'
        for value, words in (("1", "full speed"), ("0.5", "half speed"), ("0.25", "quarter speed"))
    )
    return (
        '<div class="controls"><button type="button" id="film-play">Play</button>'
        f'<input type="range" id="film-time" min="0" max="{count - 1}" value="0" step="1" '
        f'aria-label="Time"><select id="film-speed" aria-label="Speed">{speeds}</select></div>'
    )


def _caption(result: DriveResult, reel: Reel) -> str:
    pace = reel.film.pace_words
    doors = ", doors in green" if result.doors else ""
    return (
        f"Seen {FROM}, at {pace}. Near walls are left out{doors}; the ring is the pickup's mouth, "
        "red and filled while it takes air. Surfaces are planes in each compartment. The blue line "
        "in the charts below is at the film's time; press on a chart to go there."
    )
