# SPDX-License-Identifier: Apache-2.0
"""What `sumpwright new` asks on a terminal; Enter takes the default."""

import sys
from collections.abc import Callable
from pathlib import Path

import typer

from sumpwright.errors import InputError, Problem
from sumpwright.job.answer import UNITS, USUAL_FILL, fill_problem, name_problem, word_problem
from sumpwright.job.template import TEMPLATES, Answers

Test = Callable[[str], Problem | None]


def answers_of(
    folder: Path,
    *,
    template: str | None,
    units: str | None,
    fill: str | None,
    name: str | None,
    ask: bool,
) -> Answers:
    """What was given, and for the rest what the person answers, or the default."""
    asks = ask and sys.stdin.isatty() and sys.stderr.isatty()
    problems: list[Problem] = []

    def answer(question: str, given: str | None, default: str, test: Test) -> str:
        if given is None and asks:
            return _asked(question, default, test)
        problem = test(given) if given is not None else None
        problems.extend([problem] if problem else [])
        return default if given is None else given

    name = answer("Name of the job", name, folder.resolve().name, _name)
    units = answer("Units, metric or us", units, "metric", _word("--units", UNITS)).lower()
    usual = USUAL_FILL.get(units, "4.5 L")
    fill = answer("Oil in the pan at the full mark", fill, usual, _volume)
    words = _word("--template", TEMPLATES)
    template = answer("Template, minimal, full or drawn", template, "minimal", words).lower()
    if problems:
        raise InputError(problems)
    return Answers(name=name, template=template, units=units, fill=fill.strip())


def _asked(question: str, default: str, test: Test) -> str:
    while True:
        text = str(typer.prompt(question, default=default, err=True)).strip()
        problem = test(text)
        if problem is None:
            return text
        typer.echo(f"  needed {problem.needed}; {problem.do}", err=True)


def _word(option: str, words: tuple[str, ...]) -> Test:
    return lambda text: word_problem(option, text, words)


def _name(text: str) -> Problem | None:
    return name_problem("--name", text)


def _volume(text: str) -> Problem | None:
    return fill_problem("--fill", text)
