# SPDX-License-Identifier: Apache-2.0
"""What one manoeuvre's section cannot see: what its kind takes, gears, names of commands."""

from collections.abc import Iterator
from itertools import pairwise

from sumpwright.errors import Problem
from sumpwright.job.manoeuvre import Manoeuvre
from sumpwright.job.manoeuvre_kind import KINDS, TAKES
from sumpwright.job.model import Job
from sumpwright.job.schema import need_at
from sumpwright.job.tree import Keys, Tree


def manoeuvre_problems(job: Job, tree: Tree) -> Iterator[Problem]:
    """What is wrong with the job's manoeuvres."""
    for i, manoeuvre in enumerate(job.manoeuvres):
        at: Keys = ("manoeuvres", i)
        yield from _name(manoeuvre, at, tree)
        yield from _strange(manoeuvre, at, tree)
        yield from _needed(manoeuvre, at, tree)
        yield from _engine(manoeuvre, job, at, tree)
        yield from _speeds(manoeuvre, at, tree)
        yield from _counts(manoeuvre, at, tree)


def _name(manoeuvre: Manoeuvre, at: Keys, tree: Tree) -> Iterator[Problem]:
    name = manoeuvre.name
    if name in KINDS or name.lower().endswith(".csv"):
        needed = "a name that is neither a kind of manoeuvre nor a log's: `drive` takes those too"
        do = f"call it otherwise, such as '{name.removesuffix('.csv')} 1'"
        yield Problem("JOB-145", tree.where((*at, "name")), name, needed, do)


def _strange(manoeuvre: Manoeuvre, at: Keys, tree: Tree) -> Iterator[Problem]:
    keys = TAKES[manoeuvre.kind].keys
    for key in type(manoeuvre).model_fields:
        if key not in keys and getattr(manoeuvre, key) is not None:
            found = f"{key}: {tree.typed((*at, key))}"
            needed = f"a key that a {manoeuvre.kind} takes: {', '.join(keys)}"
            kinds = [kind for kind in KINDS if key in TAKES[kind].keys]
            do = f"delete it; `{key}` is for {', '.join(kinds)}"
            yield Problem("JOB-146", tree.where((*at, key)), found, needed, do)


def _needed(manoeuvre: Manoeuvre, at: Keys, tree: Tree) -> Iterator[Problem]:
    takes = TAKES[manoeuvre.kind]
    for key in takes.needs:
        if getattr(manoeuvre, key) is None:
            need = need_at((*at, key))
            needed = f"`{key}` of a {manoeuvre.kind}: {need.needed if need else ''}"
            do = f"add `{key}:`"
            yield Problem("JOB-104", tree.where((*at, key)), "nothing", needed, do)
    for pair in takes.one_of:
        given = [key for key in pair if getattr(manoeuvre, key) is not None]
        if len(given) != 1:
            found = " and ".join(f"{key}: {tree.typed((*at, key))}" for key in given)
            needed = f"`{pair[0]}` or `{pair[1]}` of a {manoeuvre.kind}"
            do = "delete one of the two" if given else "add one of the two"
            yield Problem("JOB-108", tree.where(at), found or "neither", needed, do)


def _engine(manoeuvre: Manoeuvre, job: Job, at: Keys, tree: Tree) -> Iterator[Problem]:
    gear = manoeuvre.gear
    if gear is None or "gear" not in TAKES[manoeuvre.kind].keys:
        return
    keys: Keys = (*at, "gear")
    if manoeuvre.rpm is not None:
        found = f"rpm: {tree.typed((*at, 'rpm'))} and gear: {tree.typed(keys)}"
        needed = "`rpm` or `gear`: a gear's engine speed comes from the road speed"
        yield Problem("JOB-108", tree.where(keys), found, needed, "delete one of the two")
    if job.driveline is None:
        do = "add `driveline:`, or give `rpm` instead of the gear"
        yield Problem("JOB-147", tree.where(keys), tree.typed(keys), "a job with `driveline`", do)
    elif gear > len(job.driveline.gears):
        needed = f"one of the gears of `driveline`: 1 to {len(job.driveline.gears)}"
        do = "change it, or add the gear's ratio to `driveline.gears`"
        yield Problem("JOB-147", tree.where(keys), tree.typed(keys), needed, do)


def _speeds(manoeuvre: Manoeuvre, at: Keys, tree: Tree) -> Iterator[Problem]:
    if manoeuvre.speed is None:
        return
    for key in ("end_speed", "start_speed", "turn_speed"):
        other = getattr(manoeuvre, key)
        if key in TAKES[manoeuvre.kind].keys and other is not None and other >= manoeuvre.speed:
            needed = f"less than `speed`, {tree.typed((*at, 'speed'))}"
            keys = (*at, key)
            yield Problem("JOB-148", tree.where(keys), tree.typed(keys), needed, "change one")


def _counts(manoeuvre: Manoeuvre, at: Keys, tree: Tree) -> Iterator[Problem]:
    laps, stages = manoeuvre.laps, manoeuvre.stages or ()
    if manoeuvre.kind == "figure-eight" and laps is not None and laps != int(laps):
        keys: Keys = (*at, "laps")
        do = "round it; only a circle may be broken off"
        yield Problem("JOB-148", tree.where(keys), tree.typed(keys), "whole eights: 1, 2, ...", do)
    for i, (before, after) in enumerate(pairwise(stages)):
        if after <= before:
            keys = (*at, "stages", i + 1)
            needed = f"more than the stage before it, {tree.typed((*at, 'stages', i))}"
            do = "put the stages in rising order, each once"
            yield Problem("JOB-148", tree.where(keys), tree.typed(keys), needed, do)
