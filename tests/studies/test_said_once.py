# SPDX-License-Identifier: Apache-2.0
"""What drives take for granted is said once, with the drives that it belongs to."""

from sumpwright.studies.said_once import said_once


def test_what_all_drives_say_stands_once_and_as_it_is() -> None:
    assert said_once({"eight": ["Planes."], "stop": ["Planes."]}) == ("Planes.",)


def test_what_some_say_stands_behind_their_names() -> None:
    told = said_once({"eight": ["Planes.", "Thrown."], "stop": ["Planes."], "hill": ["Planes."]})
    assert told == ("Planes.", "eight: Thrown.")


def test_figures_in_brackets_are_gathered_in_one_sentence() -> None:
    told = said_once(
        {
            "left": ["Oil stays up (1.4 s); the rest (12 L) does not."],
            "stop": ["Oil stays up (1.3 to 2.8 s); the rest (12 L) does not."],
            "right": ["Oil stays up (1.4 s); the rest (12 L) does not."],
        }
    )
    assert told == (
        "Oil stays up (left, right: 1.4 s; stop: 1.3 to 2.8 s); the rest (12 L) does not.",
    )


def test_what_differs_in_more_than_one_place_is_kept_apart() -> None:
    told = said_once({"eight": ["A (1) and (2)."], "stop": ["A (3) and (4)."]})
    assert told == ("eight: A (1) and (2).", "stop: A (3) and (4).")
