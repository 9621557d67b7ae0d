# SPDX-License-Identifier: Apache-2.0
"""What every command shares: errors become text or JSON and an exit status, never a traceback."""

import functools
import json
import os
import sys
from collections.abc import Callable
from contextlib import suppress
from dataclasses import asdict
from typing import Any, ParamSpec

import typer

from sumpwright.cli.interrupt import Interrupt
from sumpwright.errors import InputError, RangeError, SolveError

INPUT_PROBLEM = 2
STOPPED = 130
STOPPED_TEXT = "stopped; nothing was left half-written"

P = ParamSpec("P")


def door(command: Callable[P, None]) -> Callable[P, None]:
    """`command` with its errors said to the person; bugs pass through."""

    @functools.wraps(command)
    def opened(*args: P.args, **kwargs: P.kwargs) -> None:
        with Interrupt() as interrupt:
            try:
                command(*args, **kwargs)
            except (KeyboardInterrupt, typer.Abort):  # the second: Ctrl-C at a question
                raise _stopped() from None
            except (typer.Exit, BrokenPipeError):
                raise
            except Exception as err:
                if interrupt.came:  # whatever a library made of it
                    raise _stopped() from None
                if not _said(err, bool(kwargs.get("as_json"))):
                    raise
                raise typer.Exit(INPUT_PROBLEM) from None

    return opened


def _stopped() -> typer.Exit:
    typer.echo(f"\n{STOPPED_TEXT}", err=True)
    return typer.Exit(STOPPED)


def _said(err: Exception, as_json: bool) -> bool:
    """Whether `err` is for the person; it is then said."""
    if isinstance(err, InputError):
        say_problems(err, as_json)
    elif isinstance(err, RangeError | SolveError):
        _say_error(str(err), as_json)
    elif isinstance(err, OSError):
        _refused_by_the_system(err, as_json)
    else:
        return False
    return True


def _refused_by_the_system(err: OSError, as_json: bool) -> None:
    if err.filename is None and sys.stdout is not None:  # what was said could not be written
        with suppress(OSError, ValueError):
            os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
    what = err.filename or "reading or writing"
    do = "see whether the disk is full or the drive is gone, then do this again"
    _say_error(f"the system refused {what} ({err.strerror or err}); {do}", as_json)


def json_text(answer: Any) -> str:
    """`answer` as JSON; a value that is not a number would be our bug and is not written."""
    return json.dumps(answer, allow_nan=False, ensure_ascii=False, indent=2)


def say_problems(err: InputError, as_json: bool, end: str = "nothing was done.") -> None:
    """Every problem, then what became of the command."""
    if as_json:
        typer.echo(json_text({"problems": [asdict(p) for p in err.problems]}))
        return
    count = len(err.problems)
    typer.echo(f"{err}\n\n{count} problem{'s' if count > 1 else ''}; {end}", err=True)


def _say_error(text: str, as_json: bool) -> None:
    if as_json:
        typer.echo(json_text({"problems": [], "error": text}))
    else:
        typer.echo(f"Error: {text}", err=True)


def stdout_takes_colour() -> bool:
    """True on a terminal whose owner has not asked for none (https://no-color.org)."""
    return sys.stdout is not None and sys.stdout.isatty() and not os.environ.get("NO_COLOR")
