# SPDX-License-Identifier: Apache-2.0
"""The film painted, and as a GIF."""

from collections.abc import Callable
from dataclasses import dataclass
from io import BytesIO
from threading import local

import numpy as np

from sumpwright.geometry.kernel import run_each_in_threads
from sumpwright.report.film import TICK, Film, film_of, oil_reach
from sumpwright.report.film_colour import Colours, colours_of
from sumpwright.report.film_stage import Paper, Stage
from sumpwright.report.film_title import titled
from sumpwright.report.film_words import FrameWords, frame_words
from sumpwright.report.shade import Pixels
from sumpwright.studies.motion_result import DriveResult
from sumpwright.studies.motion_scene import MotionScene

SIZE = (576, 432)
SAMPLES = 9
"""Frames whose colours serve for all."""


@dataclass(frozen=True, eq=False)
class Reel:
    """A film with its frames painted, in few colours, by number."""

    film: Film
    words: list[FrameWords]
    colours: Colours
    pictures: list[Pixels]
    """Without words"""
    titled: list[Pixels]
    """With them"""


def reel_of(
    result: DriveResult, scene: MotionScene, told: Callable[[float], None] | None = None
) -> Reel:
    """All frames of a run, painted on as many threads as there are; `told` hears the share done."""
    film = film_of(result, scene)
    stage, words = Stage(scene, oil_reach(film, scene), SIZE), frame_words(result, film)
    count = len(film.time)
    few = np.unique(np.linspace(0, count - 1, SAMPLES).astype(np.int64))
    paper = Paper(stage)
    sampled = [stage.frame(film, int(k), paper).copy() for k in few]
    colours = colours_of(sampled)
    pictures: list[Pixels] = [sampled[0]] * count
    bands: list[Pixels] = [sampled[0]] * count
    own = local()  # a sheet of paper for each thread

    def work(k: int) -> None:
        if not hasattr(own, "paper"):
            own.paper = Paper(stage)
        picture = stage.frame(film, k, own.paper)
        pictures[k] = colours.numbers(picture)
        bands[k] = colours.numbers(titled(picture, result, film, k, words[k]))

    # one by one, so that Ctrl-C stops after the frame at hand and not after the film
    run_each_in_threads(work, count, None if told is None else lambda done: told(done / count))
    return Reel(film, words, colours, pictures, bands)


def gif_of(reel: Reel) -> bytes:
    """The film with its words, played again and again."""
    frames = [reel.colours.image(numbered) for numbered in reel.titled]
    file = BytesIO()
    frames[0].save(
        file, "GIF", save_all=True, append_images=frames[1:], duration=round(1000 * TICK), loop=0,
        optimize=False,
    )  # fmt: skip
    return file.getvalue()
