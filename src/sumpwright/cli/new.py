# SPDX-License-Identifier: Apache-2.0
"""`sumpwright new DIR`: a commented job that already runs."""

from pathlib import Path
from typing import Annotated

import typer


def new(
    folder: Annotated[
        Path,
        typer.Argument(
            metavar="DIR", readable=False, help="A folder that is not there yet, or empty."
        ),
    ],
    template: Annotated[
        str | None,
        typer.Option(
            metavar="NAME",
            help="minimal: one cavity; full: every section; drawn: a pan from numbers.",
        ),
    ] = None,
    units: Annotated[str | None, typer.Option(metavar="NAME", help="metric or us.")] = None,
    fill: Annotated[str | None, typer.Option(metavar="QUANTITY", help='Such as "4.6 L".')] = None,
    name: Annotated[
        str | None, typer.Option(metavar="TEXT", help="Of the job; else the folder's name.")
    ] = None,
    yes: Annotated[
        bool, typer.Option("--yes", "-y", help="Ask nothing; take the defaults.")
    ] = False,
) -> None:
    """Start a job: a commented job.yaml and a small made-up body, so that `check` already runs.

    Asks for what is not given; Enter takes the default. Put your own files in geometry/ then.
    """
    from sumpwright.cli.new_question import answers_of
    from sumpwright.job.template import new_job, refuse_used

    refuse_used(folder)  # before anything is asked
    answers = answers_of(folder, template=template, units=units, fill=fill, name=name, ask=not yes)
    path = new_job(folder, answers)
    shown = f'"{folder}"' if " " in str(folder) else folder
    typer.echo(f"{path} is ready; edit it, then: sumpwright check {shown}")
