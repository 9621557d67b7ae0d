# SPDX-License-Identifier: Apache-2.0
"""What was typed behind `sumpwright drive`; all problems at once."""

from collections.abc import Mapping
from difflib import get_close_matches

from sumpwright.errors import InputError, Problem
from sumpwright.studies.asked import Asked
from sumpwright.studies.drive_typed import samples_typed, seed_typed, start_typed
from sumpwright.studies.motion_result import DOORS, Doors


def asked(
    manoeuvre: str,
    options: Mapping[str, str | None],
    *,
    oil: str | None,
    doors: str,
    start: str | None,
    chance: str,
    seed: str,
) -> Asked:
    """What is asked for; InputError with every option that cannot be used.

    The manoeuvre's own options are left to the schema.
    """
    problems: list[Problem] = []
    answer = Asked(
        manoeuvre=manoeuvre,
        options={key: text for key, text in options.items() if text is not None},
        oil=oil,
        doors=_doors(doors, problems),
        start=start_typed(start, problems),
        chance=samples_typed(chance, problems),
        seed=seed_typed(seed, problems),
    )
    if problems:
        raise InputError(problems)
    return answer


def _doors(text: str, problems: list[Problem]) -> Doors:
    for doors in DOORS:
        if text == doors:
            return doors
    near = get_close_matches(text.lower(), DOORS, n=1)
    do = f'did you mean --doors "{near[0]}"?' if near else "write one of these words"
    problems.append(Problem("CLI-401", "--doors", text, ", ".join(DOORS), do))
    return "working"
